"""'Erase guest data': guests go from the trip, its history, its documents, and from the program's copies.

Then the file is written anew (VACUUM), so that not even unused pages hold them, and everything that is kept
is unpacked and read word by word: what the answer says rests on that reading, not on what was meant.
"""

from datetime import datetime
from pathlib import Path
from typing import Any, NamedTuple

import orjson
from sqlalchemy import Connection, Table, bindparam, delete, select, update

from lacet.store.known_by import KnownBy
from lacet.store.mentions import Mention
from lacet.store.rewrite import begun_from
from lacet.store.scrub import bookings_without_guests, without_guests
from lacet.store.tables import (
    BOOKING_STEPS,
    BOOKINGS,
    COPIES,
    DOCUMENTS,
    ITEMS,
    PARTIES,
    REVISIONS,
    SETTINGS,
    TRAVELLERS,
    TRIPS,
    USES,
)
from lacet.store.unit_of_work import UnitOfWork
from lacet.store.written import as_path
from lacet.trip.edits import fresh_trip_id

SAYS = "guest data erased"
# What sheets of the library are noted as: of no trip, and their notes may name anybody.
SHEETS = "sheets"
# How guests are called, against what else tells them apart.
_NAMES = ("name", "emergency_contact")
_OTHERS = ("emergency_contact", "address", "telephone", "email")


class Written(NamedTuple):
    """A file that left the project. `path` is where it was written; `there`: it still is."""

    path: Path
    kind: str
    made_at: datetime
    there: bool


class Forgotten(NamedTuple):
    """What was done and seen.

    Attributes
    ----------
    files
        The project and the copies out of which the guests were taken.
    texts
        How many texts were read afterwards in all of them.
    mentions
        Where they are still named; nothing of it was changed.
    written
        Files of this trip that left the project, which are not changed.
    unread, left
        Sentences on what couldn't be read, and on what is left to do.
    known
        What they are known by, to take their names out of other texts when asked to. Never kept.
    """

    trip_id: str
    revision: int
    files: tuple[Path, ...]
    texts: int
    mentions: tuple[Mention, ...]
    written: tuple[Written, ...]
    unread: tuple[str, ...]
    left: tuple[str, ...]
    known: KnownBy


def known_by(connection: Connection, trip_id: str) -> KnownBy:
    """What the guests of a trip are known by, of all its revisions."""
    names, others = set[str](), set[str]()
    for table in (PARTIES, TRAVELLERS):
        for row in connection.execute(select(table).where(table.c.trip_id == trip_id)):
            names |= _texts(table, row, _NAMES)
            others |= _texts(table, row, _OTHERS)
    words = frozenset(word for name in _names_of_things(connection) for word in _words(name))
    return KnownBy(frozenset(names), frozenset(others), words)


def _names_of_things(connection: Connection) -> list[str]:
    """What the library, the region and the office are called."""
    settings = (orjson.loads(body) for body in connection.execute(select(SETTINGS.c.body)).scalars())
    items = connection.execute(select(ITEMS.c.name).distinct()).scalars()
    return [*items, *(plain.get("name", "") for plain in settings)]


def _words(name: str) -> frozenset[str]:
    return KnownBy(frozenset({name})).own_words


def _texts(table: Table, row: Any, names: tuple[str, ...]) -> set[str]:
    return {text for name in names if name in table.c and (text := getattr(row, name))}


def forget_in(unit: UnitOfWork, trip_id: str, expected_revision: int, known: KnownBy) -> tuple[str, int]:
    """Take the guests out of one trip of one file; returns its id (another if it named them) and revision."""
    connection = unit.connection
    trip, _ = unit.trips.load(trip_id)
    booked = bookings_without_guests(unit.bookings.of(trip_id), trip, known)
    new_id = _renamed_if_telling(connection, trip_id, known)
    unit.bookings.begin_anew(new_id, booked, SAYS)
    revision = unit.trips.begin_anew(without_guests(trip, known, new_id), expected_revision, SAYS)
    if new_id != trip_id:
        begun_from(connection, trip_id, new_id)
    _empty_documents(connection, new_id, known)
    _name_no_file(connection, new_id, known)
    return new_id, revision


def written_files(connection: Connection, trip_id: str) -> tuple[Written, ...]:
    """The files of a trip that were written, and sheets of the library, the last first.

    Backups hold every trip and are erased from themselves: they are left out.
    """
    theirs = (COPIES.c.trip_id == trip_id) | (COPIES.c.kind == SHEETS)
    rows = select(COPIES).where(theirs).order_by(COPIES.c.made_at.desc(), COPIES.c.path)
    return tuple(
        Written(path := as_path(row.path), row.kind, datetime.fromisoformat(row.made_at), path.exists())
        for row in connection.execute(rows)
    )


def known_copies(connection: Connection) -> list[Path]:
    """Copies of whole projects, by the paths they were made to."""
    return [
        as_path(path)
        for path in connection.execute(select(COPIES.c.path).where(COPIES.c.kind == "backup")).scalars()
    ]


def _empty_documents(connection: Connection, trip_id: str, known: KnownBy) -> None:
    ours = DOCUMENTS.c.trip_id == trip_id
    connection.execute(update(DOCUMENTS).where(ours).values(payload=None))
    kept = connection.execute(select(DOCUMENTS.c.number, DOCUMENTS.c.figures).where(ours)).all()
    for number, figures in kept:
        if known.names_them(figures):
            connection.execute(update(DOCUMENTS).where(DOCUMENTS.c.number == number).values(figures=""))


def _name_no_file(connection: Connection, trip_id: str, known: KnownBy) -> None:
    """Let the list of written files go on without a name: date, kind and folder stay."""
    rows = connection.execute(select(COPIES.c.path).where(COPIES.c.trip_id == trip_id)).scalars().all()
    for number, path in enumerate(rows, start=1):
        if known.names_them(path):
            connection.execute(delete(COPIES).where(COPIES.c.path == f"erased-{trip_id}-{number}"))
            moved = update(COPIES).where(COPIES.c.path == path).values(path=f"erased-{trip_id}-{number}")
            connection.execute(moved)


def _renamed_if_telling(connection: Connection, trip_id: str, known: KnownBy) -> str:
    if not known.names_them(trip_id):
        return trip_id
    new_id = fresh_trip_id(set(connection.execute(select(TRIPS.c.id)).scalars()))
    # The references are put right one after the other; they are looked at when all of them are.
    connection.exec_driver_sql("PRAGMA defer_foreign_keys = ON")
    for table in (REVISIONS, PARTIES, TRAVELLERS, BOOKINGS, BOOKING_STEPS, USES, DOCUMENTS, COPIES):
        connection.execute(
            update(table).where(table.c.trip_id == bindparam("old")).values(trip_id=bindparam("new")),
            {"old": trip_id, "new": new_id},
        )
    connection.execute(update(TRIPS).where(TRIPS.c.id == trip_id).values(id=new_id))
    return new_id
