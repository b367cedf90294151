"""'Forget this party': guests go from the trip, its history, its documents, and from the program's copies.

Then the file is written anew (VACUUM) and its log emptied, so that not even unused pages hold them; and the
bytes of every file are searched for what was to go, which is what the answer rests on.
"""

from collections.abc import Iterable
from pathlib import Path
from typing import NamedTuple

import orjson
from sqlalchemy import Connection, bindparam, select, update

from lacet.store.scrub import names_a_guest, without_guests, words_of
from lacet.store.tables import (
    BOOKINGS,
    COPIES,
    DOCUMENTS,
    PARTIES,
    REVISIONS,
    TOTALS,
    TRAVELLERS,
    TRIPS,
    USES,
)
from lacet.store.unit_of_work import UnitOfWork
from lacet.trip.plain import from_plain, to_plain
from lacet.trip.trip import Trip

SAYS = "forget this party"
_PIECE = 1 << 20
_SHORTEST_TRACE = 3
_TEXTS = ("name", "address", "emergency_contact", "telephone", "email")


class Forgotten(NamedTuple):
    """What was done. `left` are sentences on what still names them, empty when nothing does."""

    trip_id: str
    revision: int
    files: tuple[Path, ...]
    left: tuple[str, ...]


def traces_of(connection: Connection, trip_id: str) -> frozenset[str]:
    """The texts that give the guests of a trip away, of all its revisions: names, addresses, numbers."""
    found: set[str] = set()
    for table in (PARTIES, TRAVELLERS):
        for row in connection.execute(select(table).where(table.c.trip_id == trip_id)):
            found |= {getattr(row, name) for name in _TEXTS if name in row._fields}
            if "needs" in row._fields:
                found |= {need.get("text", "") for need in orjson.loads(row.needs)}
    return frozenset(text for text in found if len(text) >= _SHORTEST_TRACE)


def forget_in(unit: UnitOfWork, trip_id: str, expected_revision: int) -> tuple[str, int]:
    """Take the guests out of one trip of one file; returns its id (another if it named them) and revision."""
    connection = unit.connection
    words = words_of(traces_of(connection, trip_id))
    trip, _ = unit.trips.load(trip_id)
    scrubbed = from_plain(Trip, without_guests(to_plain(trip), words))
    revision = unit.trips.begin_anew(scrubbed, expected_revision, SAYS)
    _empty_documents(connection, trip_id, words)
    return _renamed_if_telling(connection, trip_id, words), revision


def other_trips_with(connection: Connection, trip_id: str, traces: Iterable[str]) -> list[str]:
    """Names of other trips on which one of these names, numbers or addresses travels."""
    traces = list(traces)
    travelling = select(TRAVELLERS.c.trip_id).where(
        TRAVELLERS.c.name.in_(traces) | TRAVELLERS.c.email.in_(traces) | TRAVELLERS.c.telephone.in_(traces)
    )
    named = select(TRIPS.c.name).where(TRIPS.c.id != trip_id, TRIPS.c.id.in_(travelling))
    return list(connection.execute(named.order_by(TRIPS.c.name)).scalars())


def known_copies(connection: Connection) -> list[Path]:
    """Copies a person had made, by the paths they were made to."""
    return [Path(path) for path in connection.execute(select(COPIES.c.path)).scalars()]


def found_in(file: Path, traces: Iterable[str]) -> list[str]:
    """Those of the texts that the bytes of a file hold."""
    wanted = {text: text.encode() for text in traces}
    overlap = max(map(len, wanted.values()), default=0)
    found: set[str] = set()
    with file.open("rb") as stream:
        before = b""
        while piece := stream.read(_PIECE):
            window = before + piece
            found |= {text for text, data in wanted.items() if data in window}
            before = window[-overlap:] if overlap else b""
    return sorted(found)


def _empty_documents(connection: Connection, trip_id: str, words: frozenset[str]) -> None:
    ours = DOCUMENTS.c.trip_id == trip_id
    connection.execute(update(DOCUMENTS).where(ours).values(payload=None))
    kept = connection.execute(select(DOCUMENTS.c.number, DOCUMENTS.c.figures).where(ours)).all()
    for number, figures in kept:
        if names_a_guest(figures, words):
            connection.execute(update(DOCUMENTS).where(DOCUMENTS.c.number == number).values(figures=""))


def _renamed_if_telling(connection: Connection, trip_id: str, words: frozenset[str]) -> str:
    if not names_a_guest(trip_id, words):
        return trip_id
    taken = set(connection.execute(select(TRIPS.c.id)).scalars())
    new_id = next(name for n in range(1, len(taken) + 2) if (name := f"forgotten-{n}") not in taken)
    # The references are put right one after the other; they are looked at when all of them are.
    connection.exec_driver_sql("PRAGMA defer_foreign_keys = ON")
    for table in (REVISIONS, PARTIES, TRAVELLERS, BOOKINGS, USES, TOTALS, DOCUMENTS):
        connection.execute(
            update(table).where(table.c.trip_id == bindparam("old")).values(trip_id=bindparam("new")),
            {"old": trip_id, "new": new_id},
        )
    connection.execute(update(TRIPS).where(TRIPS.c.id == trip_id).values(id=new_id))
    return new_id
