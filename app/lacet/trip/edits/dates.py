"""The trip as a whole: its name, when it is, how people come and go.

A trip without a start is an enquiry: its weekdays are unknown. Once the party is under way its dates stand.
"""

from collections.abc import Iterator
from datetime import date

from lacet.trip.edits.change import EditRefused, changed, checked_travellers, need_between
from lacet.trip.edits.naming import OF_CROSSINGS, with_ids
from lacet.trip.trip import Crossing, Trip

# Days about a trip, such as when a balance is due or a price ends, must be dates as well.
FIRST_YEAR, LAST_YEAR = 1900, 2200


def rename_trip(trip: Trip, name: str) -> Trip:
    if not name.strip():
        raise EditRefused("A trip needs a name.")
    return changed(trip, name=name.strip())


def set_trip_note(trip: Trip, note: str) -> Trip:
    return changed(trip, note=note)


def set_agent(trip: Trip, agent: str) -> Trip:
    """Through whom the trip is sold (empty = directly)."""
    return changed(trip, agent=agent.strip())


def set_start(trip: Trip, start: date | None) -> Trip:
    """The date of the first day; None turns the trip back into an enquiry."""
    if trip.fixed_through and start != trip.start:
        raise EditRefused("The party is under way; its dates stand.")
    if start is not None:
        need_between(start.year, FIRST_YEAR, LAST_YEAR, "year")
    return changed(trip, start=start)


def set_month(trip: Trip, month: int | None) -> Trip:
    """The month an enquiry is about (1 = January), while there is no start."""
    if month is not None:
        need_between(month, 1, 12, "month")
    return changed(trip, month=month)


def set_crossings(
    trip: Trip,
    *,
    arrivals: tuple[Crossing, ...] | None = None,
    departures: tuple[Crossing, ...] | None = None,
) -> Trip:
    """How travellers reach and leave the region; None leaves that side as it is."""
    come = trip.arrivals if arrivals is None else _checked(trip, arrivals)
    go = trip.departures if departures is None else _checked(trip, departures)
    both = with_ids(OF_CROSSINGS, _known_once((*come, *go)))
    return changed(trip, arrivals=both[: len(come)], departures=both[len(come) :])


def _known_once(crossings: tuple[Crossing, ...]) -> Iterator[Crossing]:
    """One that is given twice, as for the way there and back, is two."""
    known: set[str] = set()
    for each in crossings:
        yield changed(each, id="") if each.id in known else each
        known.add(each.id)


def set_fixed_through(trip: Trip, day_id: str | None) -> Trip:
    """Fix a day and those before it: the party has them behind it. None = nothing is fixed."""
    if day_id is not None and all(variant.day(day_id) is None for variant in trip.variants):
        raise EditRefused("This trip has no day '{day_id}'.", day_id=day_id)
    return changed(trip, fixed_through=day_id)


def _checked(trip: Trip, crossings: tuple[Crossing, ...]) -> tuple[Crossing, ...]:
    for each in crossings:
        if each.on is not None:
            need_between(each.on.year, FIRST_YEAR, LAST_YEAR, "year")
    return tuple(
        changed(each, travellers=checked_travellers(trip.party, each.travellers)) for each in crossings
    )
