"""What was asked of suppliers, trip by trip: rows of their own, with a history of who did what when.

An act is put onto what the file holds by then, so that two people who book for one trip lose nothing; where
both did something with the same, the second is refused and told (`trip.bookings`). Nothing is undone: to take
one back is another act.
"""

from collections.abc import Callable
from datetime import datetime
from typing import Any, NamedTuple

from sqlalchemy import Connection, delete, func, insert, select, update

from lacet.store.errors import UnknownTrip
from lacet.store.keeping import as_kept, decoding, stamp, text_of, value_of
from lacet.store.tables import BOOKING_STEPS, BOOKINGS, TRIPS
from lacet.store.taken import count_change
from lacet.trip.bookings import Booking, Bookings, Change, changes, put_onto
from lacet.trip.printable import without_commands


class BookingStep(NamedTuple):
    """One act on one booking, and what the booking was before and after it (None = not written down)."""

    booking_id: str
    revision: int
    before: Booking | None
    after: Booking | None
    says: str
    by: str
    at: datetime


class BookingRows:
    """Bookings within one unit of work."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def of(self, trip_id: str) -> Bookings:
        """What stands written down for a trip, in the order in which it was asked."""
        rows = self._connection.execute(
            select(BOOKINGS.c.body).where(BOOKINGS.c.trip_id == trip_id)
        ).scalars()
        with decoding("the bookings"):
            return Bookings(tuple(sorted((value_of(Booking, body) for body in rows), key=_in_order)))

    def history(self, trip_id: str) -> tuple[BookingStep, ...]:
        """Every act on bookings of a trip, oldest first."""
        wanted = (
            select(BOOKING_STEPS).where(BOOKING_STEPS.c.trip_id == trip_id).order_by(BOOKING_STEPS.c.number)
        )
        last: dict[str, Booking | None] = {}
        steps = []
        with decoding("the history of bookings"):
            for row in self._connection.execute(wanted):
                before, after = last.get(row.booking_id), _booking(row.body)
                at = datetime.fromisoformat(row.at)
                steps.append(BookingStep(row.booking_id, row.revision, before, after, row.says, row.by, at))
                last[row.booking_id] = after
        return tuple(steps)

    def put(
        self, trip_id: str, before: Bookings, after: Bookings, says: str, *, by: str = "", act: str = "",
        at: datetime | None = None,
    ) -> Bookings:  # fmt: skip
        """Keep what lies between two values on top of what the file holds, and return what it holds then.

        Parameters
        ----------
        says
            What was done, as the history tells it.
        by
            Who did it.
        act
            A word of this act alone: one that was kept already isn't done twice.

        Raises
        ------
        UnknownTrip
        BookedMeanwhile
            When somebody else did something with the same meanwhile; nothing is kept.
        """
        held = self.of(trip_id)
        if act and self._is_done(trip_id, act):
            return held
        if self._connection.execute(select(TRIPS.c.id).where(TRIPS.c.id == trip_id)).first() is None:
            raise UnknownTrip(
                "The file holds no trip '{trip_id}'. It may have been removed.", trip_id=trip_id
            )
        result, done = put_onto(before, as_kept(after), held)
        for each in done:
            self._write(trip_id, each, without_commands(says), without_commands(by), act, stamp(at))
        return result

    def done_by(self, trip_id: str, act: str) -> tuple[str, ...]:
        """The ids of the bookings that an act was done to, in its order."""
        ours = (BOOKING_STEPS.c.trip_id == trip_id) & (BOOKING_STEPS.c.act == act)
        found = select(BOOKING_STEPS.c.booking_id).where(ours).order_by(BOOKING_STEPS.c.number)
        return tuple(self._connection.execute(found).scalars())

    def place(self, trip_id: str, bookings: Bookings, says: str, at: datetime | None = None) -> None:
        """Let a trip hold just these, as it did in another file."""
        held = self.of(trip_id)
        for each in changes(held, bookings):
            self._write(trip_id, each, says, "", "", stamp(at))

    def begin_anew(self, trip_id: str, bookings: Bookings, says: str) -> None:
        """Keep these as all there is and ever was: for forgetting guests."""
        for table in (BOOKINGS, BOOKING_STEPS):
            self._connection.execute(delete(table).where(table.c.trip_id == trip_id))
        count_change(self._connection)
        self.place(trip_id, bookings, says)

    def rewrite(
        self, trip_id: str, change: Callable[[Booking], Booking], words: Callable[[str], str]
    ) -> bool:
        """Change what is kept of a trip's bookings and their history, for erasing; tells whether it did."""
        changed = False
        for table, key in ((BOOKINGS, BOOKINGS.c.id), (BOOKING_STEPS, BOOKING_STEPS.c.number)):
            for row in self._connection.execute(select(table).where(table.c.trip_id == trip_id)).all():
                old = row._mapping
                new: dict[str, Any] = {name: words(old[name]) for name in ("says", "by") if name in old}
                if row.body is not None:
                    whole = change(value_of(Booking, row.body))
                    new["body"] = text_of(whole)
                    new |= {name: value for name, value in _columns(whole).items() if name in table.c}
                if any(old[name] != value for name, value in new.items()):
                    here = (table.c.trip_id == trip_id) & (key == old[key.name])
                    self._connection.execute(update(table).where(here).values(new))
                    changed = True
        if changed:
            count_change(self._connection)
        return changed

    def _is_done(self, trip_id: str, act: str) -> bool:
        found = select(BOOKING_STEPS.c.number).where(
            BOOKING_STEPS.c.trip_id == trip_id, BOOKING_STEPS.c.act == act
        )
        return self._connection.execute(found).first() is not None

    def _write(self, trip_id: str, done: Change, says: str, by: str, act: str, when: str) -> None:
        booking_id = done.booking_id
        ours = (BOOKING_STEPS.c.trip_id == trip_id) & (BOOKING_STEPS.c.booking_id == booking_id)
        last = self._connection.execute(select(func.max(BOOKING_STEPS.c.revision)).where(ours)).scalar()
        number = (last or 0) + 1
        here = (BOOKINGS.c.trip_id == trip_id) & (BOOKINGS.c.id == booking_id)
        body = None
        if done.after is None:
            self._connection.execute(delete(BOOKINGS).where(here))
        else:
            body = text_of(done.after)
            columns = _columns(done.after) | {"revision": number, "body": body}
            if done.before is None:
                self._connection.execute(insert(BOOKINGS), columns | {"trip_id": trip_id, "id": booking_id})
            else:
                self._connection.execute(update(BOOKINGS).where(here).values(columns))
        step = {"trip_id": trip_id, "booking_id": booking_id, "revision": number, "body": body}
        self._connection.execute(
            insert(BOOKING_STEPS), step | {"says": says, "by": by, "act": act, "at": when}
        )
        count_change(self._connection)


def _in_order(booking: Booking) -> tuple[int, str]:
    return len(booking.id), booking.id


def _booking(body: str | None) -> Booking | None:
    return None if body is None else value_of(Booking, body)


def _columns(booking: Booking) -> dict[str, Any]:
    until = booking.option_until
    return {
        "service": booking.service.value,
        "supplier": booking.supplier,
        "detail": booking.detail,
        "from_day": booking.from_day.isoformat(),
        "to_day": booking.to_day.isoformat(),
        "quantity": booking.quantity,
        "state": booking.state.value,
        "option_until": None if until is None else until.isoformat(),
    }
