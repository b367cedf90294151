"""How revisions are written and read: the one place that keeps a trip's tables in step with its text."""

from datetime import datetime
from typing import Any

import orjson
from sqlalchemy import Connection, bindparam, delete, insert, select, update

from lacet.store import people
from lacet.store.beside import keep_uses
from lacet.store.bodies import Bodies, RecentTexts
from lacet.store.errors import StaleRevision, UnknownTrip
from lacet.store.keeping import decoding, json_of, stamp, value_of
from lacet.store.tables import REVISIONS, TRIPS
from lacet.store.trip_rows import trip_columns
from lacet.trip.plain import to_plain
from lacet.trip.trip import Trip

_STORED = select(TRIPS.c.revision).where(TRIPS.c.id == bindparam("trip_id"))
_STEP = select(
    REVISIONS.c.revision, REVISIONS.c.content, REVISIONS.c.undo_to, REVISIONS.c.redo_to, REVISIONS.c.step
).where(REVISIONS.c.trip_id == bindparam("trip_id"), REVISIONS.c.revision == bindparam("revision"))
_INSERT = insert(REVISIONS)
_MOVED = ("revision", *trip_columns({}, None), "changed_at")
_MOVE_ON = (
    update(TRIPS)
    .where(TRIPS.c.id == bindparam("trip_id"), TRIPS.c.revision == bindparam("expected"))
    .values({name: bindparam(f"new_{name}") for name in _MOVED})
)


class Revisions:
    """Revisions of trips within one unit of work."""

    def __init__(self, connection: Connection, recent: RecentTexts) -> None:
        self._connection = connection
        self._bodies = Bodies(connection, recent)

    def stored_or_zero(self, trip_id: str) -> int:
        """The revision that is stored now, 0 when there is no such trip."""
        return self._connection.execute(_STORED, {"trip_id": trip_id}).scalar() or 0

    def stored(self, trip_id: str) -> int:
        """The revision that is stored now; an unknown trip is refused."""
        found = self.stored_or_zero(trip_id)
        if not found:
            raise UnknownTrip(
                "The file holds no trip '{trip_id}'. It may have been removed.", trip_id=trip_id
            )
        return found

    def step(self, trip_id: str, revision: int) -> Any:
        """The row of a revision: its contents' revision, and where undo and redo lead."""
        found = self._connection.execute(_STEP, {"trip_id": trip_id, "revision": revision}).first()
        if found is None:
            raise UnknownTrip(
                "There is no revision {revision} of this trip. Choose one of its history.", revision=revision
            )
        return found

    def expected(self, trip_id: str, expected_revision: int) -> Any:
        """The row of the stored revision, which must be the expected one."""
        found = self.stored(trip_id)
        if found != expected_revision:
            raise StaleRevision(trip_id, expected_revision, found)
        return self.step(trip_id, found)

    def read(self, trip_id: str, revision: int) -> Trip:
        """The trip as it was, with the guests it had."""
        plain = self._plain(trip_id, self.step(trip_id, revision).content)
        people.bring_back(self._connection, plain)
        return value_of(Trip, json_of(plain))

    def _plain(self, trip_id: str, content: int) -> dict[str, Any]:
        with decoding("a trip"):
            plain: dict[str, Any] = orjson.loads(self._bodies.read(trip_id, content))
            return plain

    def write(self, trip: Trip, found: int, number: int, says: str, at: datetime | None) -> int:
        """Keep a trip as revision `number`, after the stored `found` (0 = it is new).

        Returns
        -------
        int
            `number`, or `found` when the trip equals what is stored.
        """
        when, plain = stamp(at), to_plain(trip)
        if not found:
            empty = trip_columns({"name": ""}, None) | {"id": trip.id, "revision": 0, "changed_at": when}
            self._connection.execute(insert(TRIPS), empty)
        party_row = people.put_apart(self._connection, trip.id, plain)
        text = json_of(plain)
        here = self.step(trip.id, found) if found else None
        if here is not None and text == self._bodies.read(trip.id, here.content):
            return found
        kept = self._bodies.columns(trip.id, text, None if here is None else here.content)
        new = {"content": number, "undo_to": found or None, "redo_to": None, "step": says, "says": says}
        self._add(trip.id, number, kept | new, when)
        self._move_on(trip.id, found, number, party_row, plain, when)
        return number

    def show(
        self, trip_id: str, revision: int, there: Any, ways: dict[str, Any], at: datetime | None
    ) -> tuple[Trip, int]:
        """Add a revision that shows the contents of another; `ways` are its own undo, redo and text."""
        when = stamp(at)
        no_body = dict.fromkeys(("base", "depth", "digest", "body"))
        shown = {"content": there.content, "step": there.step}
        self._add(trip_id, revision + 1, no_body | shown | ways, when)
        plain = self._plain(trip_id, there.content)
        party_row = plain["party"]["row"] if plain.get("party") else None
        self._move_on(trip_id, revision, revision + 1, party_row, plain, when)
        people.bring_back(self._connection, plain)
        return value_of(Trip, json_of(plain)), revision + 1

    def begin_anew(self, trip: Trip, found: int, says: str) -> int:
        """Keep a trip as its only revision: history, guests and uses of the earlier ones go."""
        self._connection.execute(delete(REVISIONS).where(REVISIONS.c.trip_id == trip.id))
        people.forget(self._connection, trip.id)
        when, plain = stamp(None), to_plain(trip)
        party_row = people.put_apart(self._connection, trip.id, plain)
        kept = self._bodies.columns(trip.id, json_of(plain), None)
        only = {"content": found + 1, "undo_to": None, "redo_to": None, "step": says, "says": says}
        self._add(trip.id, found + 1, kept | only, when)
        self._move_on(trip.id, found, found + 1, party_row, plain, when)
        return found + 1

    def _add(self, trip_id: str, number: int, columns: dict[str, Any], when: str) -> None:
        key = {"trip_id": trip_id, "revision": number, "saved_at": when}
        self._connection.execute(_INSERT, key | columns)

    def _move_on(
        self, trip_id: str, found: int, number: int, party_row: int | None, plain: dict[str, Any], when: str
    ) -> None:
        columns = trip_columns(plain, party_row) | {"revision": number, "changed_at": when}
        given = {f"new_{name}": value for name, value in columns.items()}
        moved = self._connection.execute(_MOVE_ON, given | {"trip_id": trip_id, "expected": found})
        if moved.rowcount != 1:
            # The write lock is held, so this is a second guard for databases that lock otherwise.
            raise StaleRevision(trip_id, found, self.stored(trip_id))
        keep_uses(self._connection, trip_id, plain)
