"""What trips have taken: rooms, tables, seats and bikes by date, from their bookings, in one query.

A booking takes when it is confirmed, or an option that still runs. Of a lodging the nights from the
first to the last day are taken, the last (the day of leaving) not; of anything else both days are.
"""

from collections import Counter, defaultdict
from collections.abc import Iterator
from datetime import date

from sqlalchemy import Connection, text

from lacet.store.keeping import decoding
from lacet.trip.commitments import AllTaken, Commitments, Slot
from lacet.trip.words import Service

# The days of each booking are counted up by the query itself: one row comes back for each day taken.
_TAKEN = text("""
    WITH RECURSIVE taken (trip_id, service, supplier, detail, quantity, day, last) AS (
        SELECT trip_id, service, supplier, detail, quantity, from_day,
               CASE WHEN service = 'lodging' AND to_day > from_day THEN date(to_day, '-1 day') ELSE to_day END
        FROM bookings
        WHERE trip_id <> :but AND quantity > 0 AND (state = 'confirmed' OR state = 'option' AND (
              option_until IS NULL OR :as_of IS NULL OR option_until >= :as_of))
        UNION ALL
        SELECT trip_id, service, supplier, detail, quantity, date(day, '+1 day'), last
        FROM taken WHERE day < last
    )
    SELECT trip_id, service, supplier, detail, day, sum(quantity) FROM taken
    GROUP BY trip_id, service, supplier, detail, day
""")


def commitments(connection: Connection, exclude_trip: str, as_of: date | None) -> Commitments:
    """What every trip but one has taken; `as_of` lets options end that ran out before it."""
    taken: Counter[Slot] = Counter()
    for _, slot, quantity in _taken(connection, exclude_trip, as_of):
        taken[slot] += quantity
    return Commitments(taken=dict(taken))


def all_taken(connection: Connection, as_of: date | None) -> AllTaken:
    """What all trips have taken, read once for a list of them; `as_of` as above."""
    total: Counter[Slot] = Counter()
    own: defaultdict[str, dict[Slot, int]] = defaultdict(dict)
    # No trip has the empty id: nothing is left out.
    for trip_id, slot, quantity in _taken(connection, "", as_of):
        total[slot] += quantity
        own[trip_id][slot] = quantity
    return AllTaken(total=dict(total), own=dict(own))


def _taken(connection: Connection, but: str, as_of: date | None) -> Iterator[tuple[str, Slot, int]]:
    given = {"but": but, "as_of": None if as_of is None else as_of.isoformat()}
    found = connection.execute(_TAKEN, given)
    with decoding("the bookings"):
        for trip_id, service, supplier, detail, day, quantity in found:
            yield trip_id, (Service(service), supplier, detail, date.fromisoformat(day)), quantity
