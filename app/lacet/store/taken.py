"""What trips have taken: rooms, tables, seats and bikes by date, from their bookings.

A booking takes when it is confirmed, or an option that still runs. Of a lodging the nights from the
first to the last day are taken, the last (the day of leaving) not; of anything else both days are.

It is read whole once, in one query. After that only the acts done since are read: a save costs the same
however many trips there are.
"""

from collections import Counter, defaultdict
from collections.abc import Iterator
from datetime import date
from typing import NamedTuple

from sqlalchemy import Connection, text

from lacet.store.keeping import decoding, value_of
from lacet.trip.bookings import Booking, booked_dates
from lacet.trip.commitments import AllTaken, Commitments, Slot
from lacet.trip.words import BookingState, Service

# The days of each booking are counted up by the query itself: one row comes back for each day taken.
_TAKEN = text("""
    WITH RECURSIVE taken (trip_id, service, supplier, detail, quantity, day, last) AS (
        SELECT trip_id, service, supplier, detail, quantity, from_day,
               CASE WHEN service = 'lodging' AND to_day > from_day THEN date(to_day, '-1 day') ELSE to_day END
        FROM bookings
        WHERE quantity > 0 AND (state = 'confirmed' OR state = 'option' AND (
              option_until IS NULL OR :as_of IS NULL OR option_until >= :as_of))
        UNION ALL
        SELECT trip_id, service, supplier, detail, quantity, date(day, '+1 day'), last
        FROM taken WHERE day < last
    )
    SELECT trip_id, service, supplier, detail, day, sum(quantity) FROM taken
    GROUP BY trip_id, service, supplier, detail, day
""")


# One more for each act on a booking; erasing and removing count as well, and leave no act behind.
_COUNT_CHANGE = text("""
    INSERT INTO counters (name, value) VALUES ('bookings', 1)
    ON CONFLICT (name) DO UPDATE SET value = counters.value + 1
""")
_MARK = text("""
    SELECT coalesce((SELECT value FROM counters WHERE name = 'bookings'), 0),
           coalesce((SELECT max(number) FROM booking_steps), 0)
""")
_ACTS = text("""
    SELECT act.trip_id, act.body, before.body FROM booking_steps AS act
    LEFT JOIN booking_steps AS before ON before.trip_id = act.trip_id
         AND before.booking_id = act.booking_id AND before.revision = act.revision - 1
    WHERE act.number > :last ORDER BY act.number
""")
# More acts than these are read no faster one by one.
_MOST_ACTS = 500


class Moment(NamedTuple):
    """What all trips have taken as of a day, once so many changes were counted, the last act among them."""

    as_of: date | None
    changes: int
    last_act: int
    taken: AllTaken


class TakenInMemory:
    """What trips have taken as it was last asked for, brought up to date by the acts since then."""

    def __init__(self) -> None:
        self._last: Moment | None = None
        self._without: tuple[Moment, str, Commitments] | None = None

    def now(self, connection: Connection, as_of: date | None, since: Moment | None = None) -> Moment:
        """What holds now; `since` is a moment of the same transaction. To be kept only once that is kept."""
        changes, last_act = connection.execute(_MARK).one()
        known = since or self._last
        if known is not None and known.as_of == as_of:
            if (known.changes, known.last_act) == (changes, last_act):
                return known
            taken = _brought_up(connection, known, changes)
            if taken is not None:
                return Moment(as_of, changes, last_act, taken)
        return Moment(as_of, changes, last_act, all_taken(connection, as_of))

    def keep(self, moment: Moment) -> None:
        self._last = moment

    def clear(self) -> None:
        self._last = self._without = None

    def without(self, moment: Moment, trip_id: str) -> Commitments:
        """What every trip but one has taken; the same object while nothing changed."""
        known = self._without
        if known is None or known[0] is not moment or known[1] != trip_id:
            known = self._without = moment, trip_id, moment.taken.without(trip_id)
        return known[2]


def count_change(connection: Connection) -> None:
    """Let whoever holds what trips have taken know that it is out of date."""
    connection.execute(_COUNT_CHANGE)


def all_taken(connection: Connection, as_of: date | None) -> AllTaken:
    """What all trips have taken, read whole; `as_of` lets options end that ran out before it."""
    total: Counter[Slot] = Counter()
    own: defaultdict[str, dict[Slot, int]] = defaultdict(dict)
    for trip_id, slot, quantity in _taken(connection, as_of):
        total[slot] += quantity
        own[trip_id][slot] = quantity
    return AllTaken(total=dict(total), own=dict(own))


def _brought_up(connection: Connection, known: Moment, changes: int) -> AllTaken | None:
    """What was known with the acts since then; None where something else changed, or much."""
    expected = changes - known.changes
    if not 0 < expected <= _MOST_ACTS:
        return None
    acts = connection.execute(_ACTS, {"last": known.last_act}).all()
    if len(acts) != expected:
        return None
    total, own = Counter(known.taken.total), dict(known.taken.own)
    with decoding("the history of bookings"):
        for trip_id, after, before in acts:
            mine = Counter(own.get(trip_id, {}))
            for body, sign in ((before, -1), (after, 1)):
                for slot, quantity in _slots(body, known.as_of):
                    total[slot] += sign * quantity
                    mine[slot] += sign * quantity
            own[trip_id] = {slot: count for slot, count in mine.items() if count}
    return AllTaken(total={slot: count for slot, count in total.items() if count}, own=own)


def _slots(body: str | None, as_of: date | None) -> Iterator[tuple[Slot, int]]:
    """What one booking takes, as the query counts it."""
    booking = None if body is None else value_of(Booking, body)
    if booking is None or booking.quantity <= 0:
        return
    ran_out = as_of is not None and booking.option_until is not None and booking.option_until < as_of
    if booking.state is BookingState.CONFIRMED or (booking.state is BookingState.OPTION and not ran_out):
        for on in booked_dates(booking):
            yield (booking.service, booking.supplier, booking.detail, on), booking.quantity


def _taken(connection: Connection, as_of: date | None) -> Iterator[tuple[str, Slot, int]]:
    given = {"as_of": None if as_of is None else as_of.isoformat()}
    found = connection.execute(_TAKEN, given)
    with decoding("the bookings"):
        for trip_id, service, supplier, detail, day, quantity in found:
            yield trip_id, (Service(service), supplier, detail, date.fromisoformat(day)), quantity
