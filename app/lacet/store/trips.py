"""Trips in the file: whole values in and out, a revision against lost updates, a history to go back in.

Each save adds a revision and none is ever changed. Undo adds one too, which shows an earlier one's
contents and remembers where further undo and redo lead; so going back survives a restart, is seen by
other windows as a change like any other, and an edit after it merely leaves the way forward unlisted.
"""

from datetime import datetime
from typing import NamedTuple

from sqlalchemy import Connection, delete, select

from lacet.store.bodies import RecentTexts
from lacet.store.errors import NothingToUndo, StaleRevision
from lacet.store.keeping import as_kept, decoding
from lacet.store.revisions import Revisions
from lacet.store.tables import REVISIONS, TRIPS
from lacet.store.taken import count_change
from lacet.store.trip_rows import TripRow, trip_rows
from lacet.trip.printable import without_commands
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


class Trips:
    """Trips within one unit of work."""

    def __init__(self, connection: Connection, recent: RecentTexts) -> None:
        self._connection = connection
        self._revisions = Revisions(connection, recent)

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
        return self._revisions.stored(trip_id)

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
        return self._revisions.read(trip_id, revision)

    def history(self, trip_id: str) -> tuple[HistoryRow, ...]:
        """Every revision, oldest first."""
        found = self._connection.execute(
            select(REVISIONS.c.revision, REVISIONS.c.content, REVISIONS.c.saved_at, REVISIONS.c.says)
            .where(REVISIONS.c.trip_id == trip_id)
            .order_by(REVISIONS.c.revision)
        )
        with decoding("the history of a trip"):
            return tuple(
                HistoryRow(row.revision, row.content, datetime.fromisoformat(row.saved_at), row.says)
                for row in found
            )

    def position(self, trip_id: str) -> Position:
        """What undo and redo would do next."""
        here = self._revisions.step(trip_id, self.revision(trip_id))
        ahead = None if here.redo_to is None else self._revisions.step(trip_id, here.redo_to).step
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
        found = self._revisions.stored_or_zero(trip.id)
        if found != expected_revision:
            raise StaleRevision(trip.id, expected_revision, found)
        return self._revisions.write(as_kept(trip), found, found + 1, without_commands(says), at)

    def place(self, trip: Trip, revision: int, says: str, at: datetime | None = None) -> int:
        """Keep a trip that comes from another file under the revision it had there.

        Raises
        ------
        StaleRevision
            When the trip is here with this revision or a later one.
        """
        found = self._revisions.stored_or_zero(trip.id)
        if found >= revision:
            raise StaleRevision(trip.id, revision, found)
        return self._revisions.write(as_kept(trip), found, revision, without_commands(says), at)

    def begin_anew(self, trip: Trip, expected_revision: int, says: str) -> int:
        """Keep a trip as its only revision; what was before is gone. For forgetting guests.

        Raises
        ------
        StaleRevision
        """
        self._revisions.expected(trip.id, expected_revision)
        return self._revisions.begin_anew(trip, expected_revision, says)

    def undo(self, trip_id: str, expected_revision: int, at: datetime | None = None) -> tuple[Trip, int]:
        """Go back one edit; returns the trip as it was before it, and the new revision.

        Raises
        ------
        StaleRevision, NothingToUndo
        """
        here = self._revisions.expected(trip_id, expected_revision)
        if here.undo_to is None:
            raise NothingToUndo("There is nothing to undo: this is how the trip began.")
        there = self._revisions.step(trip_id, here.undo_to)
        ways = {"undo_to": there.undo_to, "redo_to": here.revision, "says": f"undo {here.step}"}
        return self._revisions.show(trip_id, here.revision, there, ways, at)

    def redo(self, trip_id: str, expected_revision: int, at: datetime | None = None) -> tuple[Trip, int]:
        """Take back the last undo; returns the trip and the new revision.

        Raises
        ------
        StaleRevision, NothingToUndo
        """
        here = self._revisions.expected(trip_id, expected_revision)
        if here.redo_to is None:
            raise NothingToUndo("There is nothing to redo: the last edit was not undone.")
        there = self._revisions.step(trip_id, here.redo_to)
        ways = {"undo_to": there.undo_to, "redo_to": there.redo_to, "says": f"redo {there.step}"}
        return self._revisions.show(trip_id, here.revision, there, ways, at)

    def remove(self, trip_id: str, expected_revision: int) -> None:
        """Delete a trip with its history, guests, bookings and theirs, and documents.

        Raises
        ------
        StaleRevision
        """
        self._revisions.expected(trip_id, expected_revision)
        self._connection.execute(delete(TRIPS).where(TRIPS.c.id == trip_id))
        count_change(self._connection)
