"""Trips in the file: whole values in and out, a revision against lost updates, a history to go back in.

Each save adds a revision and none is ever changed. Undo adds one too, which shows an earlier one's
contents and remembers where further undo and redo lead; so going back survives a restart, is seen by
other windows as a change like any other, and an edit after it merely leaves the way forward unlisted.
"""

from datetime import UTC, datetime
from typing import Any, NamedTuple

import orjson
from sqlalchemy import Connection, bindparam, delete, insert, select, update

from lacet.store import people
from lacet.store.beside import keep_bookings, keep_uses
from lacet.store.bodies import Bodies, RecentTexts
from lacet.store.errors import NothingToUndo, StaleRevision, UnknownTrip
from lacet.store.keeping import json_of, value_of
from lacet.store.tables import REVISIONS, TRIPS
from lacet.store.trip_rows import TripRow, trip_columns, trip_rows
from lacet.trip.plain import to_plain
from lacet.trip.trip import Trip


class HistoryRow(NamedTuple):
    """One revision as a list shows it. `content` is the revision whose contents it shows (undo, redo)."""

    revision: int
    content: int
    saved_at: datetime
    says: str


class Position(NamedTuple):
    """Where in its history a trip stands; the texts name the edit that undo or redo would concern."""

    revision: int
    undo_says: str | None
    redo_says: str | None


_REVISION = select(TRIPS.c.revision).where(TRIPS.c.id == bindparam("trip_id"))
_STEP = select(
    REVISIONS.c.revision, REVISIONS.c.content, REVISIONS.c.undo_to, REVISIONS.c.redo_to, REVISIONS.c.step
).where(REVISIONS.c.trip_id == bindparam("trip_id"), REVISIONS.c.revision == bindparam("revision"))
_INSERT_REVISION = insert(REVISIONS)
_MOVE_ON = (
    update(TRIPS)
    .where(TRIPS.c.id == bindparam("trip_id"), TRIPS.c.revision == bindparam("expected"))
    .values({name: bindparam(f"new_{name}") for name in ("revision", *trip_columns({}, None), "changed_at")})
)


class Trips:
    """Trips within one unit of work."""

    def __init__(self, connection: Connection, recent: RecentTexts) -> None:
        self._connection = connection
        self._bodies = Bodies(connection, recent)

    # --- reading

    def rows(self) -> list[TripRow]:
        """All trips as a list shows them, the last changed first."""
        return trip_rows(self._connection)

    def revision(self, trip_id: str) -> int:
        """The revision that is stored now.

        Raises
        ------
        UnknownTrip
        """
        found: int | None = self._connection.execute(_REVISION, {"trip_id": trip_id}).scalar()
        if found is None:
            raise UnknownTrip(f"The file holds no trip '{trip_id}'. It may have been removed.")
        return found

    def load(self, trip_id: str) -> tuple[Trip, int]:
        """A trip as it is now, and its revision."""
        revision = self.revision(trip_id)
        return self.load_revision(trip_id, revision), revision

    def load_revision(self, trip_id: str, revision: int) -> Trip:
        """A trip as it was at a revision, its guests of that time included.

        Raises
        ------
        UnknownTrip
        """
        plain = orjson.loads(self._bodies.read(trip_id, self._step(trip_id, revision).content))
        people.bring_back(self._connection, plain)
        return value_of(Trip, json_of(plain))

    def history(self, trip_id: str) -> tuple[HistoryRow, ...]:
        """Every revision, oldest first."""
        found = self._connection.execute(
            select(REVISIONS.c.revision, REVISIONS.c.content, REVISIONS.c.saved_at, REVISIONS.c.says)
            .where(REVISIONS.c.trip_id == trip_id)
            .order_by(REVISIONS.c.revision)
        )
        return tuple(
            HistoryRow(row.revision, row.content, datetime.fromisoformat(row.saved_at), row.says)
            for row in found
        )

    def position(self, trip_id: str) -> Position:
        """What undo and redo would do next."""
        here = self._step(trip_id, self.revision(trip_id))
        ahead = None if here.redo_to is None else self._step(trip_id, here.redo_to).step
        return Position(here.revision, None if here.undo_to is None else here.step, ahead)

    # --- writing

    def save(self, trip: Trip, expected_revision: int, says: str, at: datetime | None = None) -> int:
        """Keep a trip and return its new revision; a trip that equals what is kept makes none.

        Parameters
        ----------
        expected_revision
            The revision the caller began with; 0 for a new trip.
        says
            The edit, as the history and the undo menu name it.
        at
            When; None = now.

        Raises
        ------
        StaleRevision
            When somebody else saved it meanwhile (or a new trip's id is taken).
        """
        plain: dict[str, Any] = to_plain(trip)
        found = self._connection.execute(_REVISION, {"trip_id": trip.id}).scalar() or 0
        if found != expected_revision:
            raise StaleRevision(trip.id, expected_revision, found)
        when = _stamp(at)
        if not found:
            self._insert_empty(trip, when)
        party_row = people.put_apart(self._connection, trip.id, plain)
        text = json_of(plain)
        here = self._step(trip.id, found) if found else None
        if here is not None and text == self._bodies.read(trip.id, here.content):
            return found
        previous = None if here is None else here.content
        kept = self._bodies.columns(trip.id, text, previous)
        new = {"content": found + 1, "undo_to": found or None, "redo_to": None, "step": says, "says": says}
        self._add(trip.id, found, kept | new, when)
        self._move_on(trip.id, found, trip_columns(plain, party_row), plain, when)
        return found + 1

    def undo(self, trip_id: str, expected_revision: int, at: datetime | None = None) -> tuple[Trip, int]:
        """Go back one edit; returns the trip as it was before it, and the new revision.

        Raises
        ------
        StaleRevision, NothingToUndo
        """
        here = self._expected(trip_id, expected_revision)
        if here.undo_to is None:
            raise NothingToUndo("There is nothing to undo: this is how the trip began.")
        there = self._step(trip_id, here.undo_to)
        ways = {"undo_to": there.undo_to, "redo_to": here.revision, "says": f"undo {here.step}"}
        return self._show(trip_id, here.revision, there, ways, at)

    def redo(self, trip_id: str, expected_revision: int, at: datetime | None = None) -> tuple[Trip, int]:
        """Take back the last undo; returns the trip and the new revision.

        Raises
        ------
        StaleRevision, NothingToUndo
        """
        here = self._expected(trip_id, expected_revision)
        if here.redo_to is None:
            raise NothingToUndo("There is nothing to redo: the last edit was not undone.")
        there = self._step(trip_id, here.redo_to)
        ways = {"undo_to": there.undo_to, "redo_to": there.redo_to, "says": f"redo {there.step}"}
        return self._show(trip_id, here.revision, there, ways, at)

    def remove(self, trip_id: str, expected_revision: int) -> None:
        """Delete a trip with its history, guests, bookings, totals and documents.

        Raises
        ------
        StaleRevision
        """
        self._expected(trip_id, expected_revision)
        self._connection.execute(delete(TRIPS).where(TRIPS.c.id == trip_id))

    # --- within

    def _step(self, trip_id: str, revision: int) -> Any:
        found = self._connection.execute(_STEP, {"trip_id": trip_id, "revision": revision}).first()
        if found is None:
            raise UnknownTrip(f"There is no revision {revision} of this trip. Choose one of its history.")
        return found

    def _expected(self, trip_id: str, expected_revision: int) -> Any:
        found = self.revision(trip_id)
        if found != expected_revision:
            raise StaleRevision(trip_id, expected_revision, found)
        return self._step(trip_id, found)

    def _insert_empty(self, trip: Trip, when: str) -> None:
        """The row that guests and revisions hang on; `_move_on` fills it."""
        empty = trip_columns({"name": trip.name}, None) | {"id": trip.id, "revision": 0, "changed_at": when}
        self._connection.execute(insert(TRIPS), empty)

    def _show(
        self, trip_id: str, revision: int, there: Any, ways: dict[str, Any], at: datetime | None
    ) -> tuple[Trip, int]:
        text = self._bodies.read(trip_id, there.content)
        no_body = dict.fromkeys(("base", "depth", "digest", "body"))
        when = _stamp(at)
        self._add(trip_id, revision, no_body | {"content": there.content, "step": there.step} | ways, when)
        plain = orjson.loads(text)
        party_row = plain["party"]["row"] if plain.get("party") else None
        self._move_on(trip_id, revision, trip_columns(plain, party_row), plain, when)
        people.bring_back(self._connection, plain)
        return value_of(Trip, json_of(plain)), revision + 1

    def _add(self, trip_id: str, revision: int, columns: dict[str, Any], when: str) -> None:
        key = {"trip_id": trip_id, "revision": revision + 1, "saved_at": when}
        self._connection.execute(_INSERT_REVISION, key | columns)

    def _move_on(
        self, trip_id: str, revision: int, columns: dict[str, Any], plain: dict[str, Any], when: str
    ) -> None:
        columns = columns | {"revision": revision + 1, "changed_at": when}
        given = {f"new_{name}": value for name, value in columns.items()}
        moved = self._connection.execute(_MOVE_ON, given | {"trip_id": trip_id, "expected": revision})
        if moved.rowcount != 1:
            # The write lock is held, so this is a second guard for databases that lock otherwise.
            raise StaleRevision(trip_id, revision, self.revision(trip_id))
        keep_bookings(self._connection, trip_id, plain.get("bookings", []))
        keep_uses(self._connection, trip_id, plain)


def _stamp(at: datetime | None) -> str:
    """An instant as it is kept: UTC to the second."""
    return (datetime.now(UTC) if at is None else at.astimezone(UTC)).isoformat(timespec="seconds")
