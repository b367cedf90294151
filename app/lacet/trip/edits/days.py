"""Days: added, dropped and reordered whole, with everything that stands in them.

A day put in, taken out or moved moves what is tied to it: a hire runs from one day to another by their ids,
so it follows them. When travellers come and go is agreed with them, not with the variant: that never moves,
and the checks tell where it no longer fits.
"""

from collections.abc import Mapping, Sequence
from datetime import time

from lacet.trip.edits.change import (
    EditRefused,
    change_day,
    changed,
    day_index,
    items_of,
    need_between,
    need_open,
    numbered_items,
    variant_of,
    with_days,
    with_variant,
)
from lacet.trip.edits.naming import fresh_id, without_ids
from lacet.trip.edits.overrules import without_overrules_of
from lacet.trip.hires import days_of, in_order
from lacet.trip.trip import Day, Hire, Trip, Variant


def insert_day(trip: Trip, variant_id: str, at: int, day: Day | None = None) -> Trip:
    """Put a day (empty unless given) before the day at this index; ids within it are made afresh."""
    variant = variant_of(trip, variant_id)
    need_between(at, 0, len(variant.days), "gap between days")
    need_open(trip, variant, at)
    new = _numbered(variant, day or Day(id=""))
    return with_days(trip, variant, (*variant.days[:at], new, *variant.days[at:]))


def remove_day(trip: Trip, variant_id: str, day_id: str) -> Trip:
    """Take a day out with all that stands in it; what was overruled on it is forgotten.

    A hire that begins or ends on it begins a day later or ends a day earlier; one of that day alone goes.
    """
    variant = variant_of(trip, variant_id)
    index = day_index(variant, day_id)
    need_open(trip, variant, index)
    gone = variant.days[index]
    closed = (_closed_up(variant, hire, index + 1) for hire in variant.hires)
    variant = without_overrules_of(variant, {day_id, *(item.id for item in items_of(gone))})
    return with_variant(
        trip,
        changed(
            variant,
            days=variant.days[:index] + variant.days[index + 1 :],
            hires=tuple(hire for hire in closed if hire is not None),
        ),
    )


def move_day(trip: Trip, variant_id: str, day_id: str, to_index: int) -> Trip:
    """Let a day stand at another index; the days between close up.

    A hire goes on to cover the days it began and ended on, whichever of them is now the earlier.
    """
    variant = variant_of(trip, variant_id)
    index = day_index(variant, day_id)
    need_between(to_index, 0, len(variant.days) - 1, "place")
    need_open(trip, variant, min(index, to_index))
    others = [day for day in variant.days if day.id != day_id]
    moved = changed(variant, days=(*others[:to_index], variant.days[index], *others[to_index:]))
    return with_variant(trip, _hires_turned(moved))


def take_days(
    trip: Trip,
    from_variant_id: str,
    day_ids: Sequence[str],
    into_variant_id: str,
    at: int,
    instead_of: Sequence[str] = (),
) -> Trip:
    """Copy days of one variant into another, in the order of the first.

    Parameters
    ----------
    at
        They stand before the day that has this index now.
    instead_of
        Days of the second variant that give way to them. As many for as many take over the hires that
        begin or end on those, each of the day in its place.
    """
    source = variant_of(trip, from_variant_id)
    if not day_ids:
        raise EditRefused("Choose at least one day to take.")
    taken = sorted((day_index(source, day_id) for day_id in set(day_ids)), reverse=True)
    for index in taken:
        trip = insert_day(trip, into_variant_id, at, source.days[index])
    if len(taken) == len(instead_of):
        into = variant_of(trip, into_variant_id)
        leaving = sorted(instead_of, key=lambda day_id: day_index(into, day_id))
        heirs = dict(zip(leaving, (day.id for day in into.days[at : at + len(taken)]), strict=True))
        trip = with_variant(trip, changed(into, hires=tuple(_handed_on(hire, heirs) for hire in into.hires)))
    for day_id in instead_of:
        trip = remove_day(trip, into_variant_id, day_id)
    return with_variant(trip, _hires_turned(variant_of(trip, into_variant_id)))


def set_departs(trip: Trip, variant_id: str, day_id: str, departs: time | None) -> Trip:
    """When the party sets out (None = the house's usual hour)."""
    return change_day(trip, variant_id, day_id, lambda day: changed(day, departs=departs))


def set_stops(trip: Trip, variant_id: str, day_id: str, stops_s: float | None) -> Trip:
    """Time for rests [s] (None = the house's usual share of moving time)."""
    if stops_s is not None and not 0 <= stops_s <= 86_400:
        raise EditRefused("Stops take between nothing and a whole day.")
    return change_day(trip, variant_id, day_id, lambda day: changed(day, stops_s=stops_s))


def set_day_note(trip: Trip, variant_id: str, day_id: str, note: str) -> Trip:
    return change_day(trip, variant_id, day_id, lambda day: changed(day, note=note))


def set_briefing(trip: Trip, variant_id: str, day_id: str, briefing: bool) -> Trip:
    """Whether the rep meets the party that day."""
    return change_day(trip, variant_id, day_id, lambda day: changed(day, briefing=briefing))


def _numbered(variant: Variant, day: Day) -> Day:
    own = numbered_items(variant, items_of(day))
    taken, alternatives = len(day.items), []
    used = [other.id for each in variant.days for other in each.alternatives]
    for other in day.alternatives:
        used.append(fresh_id("a", used))
        items = own[taken : taken + len(other.items)]
        alternatives.append(changed(other, id=used[-1], items=items))
        taken += len(items)
    new_id = fresh_id("d", (each.id for each in variant.days))
    return changed(without_ids(day), id=new_id, items=own[: len(day.items)], alternatives=tuple(alternatives))


def _closed_up(variant: Variant, hire: Hire, number: int) -> Hire | None:
    """The hire of a variant that is about to lose a day (1-based)."""
    gone = variant.days[number - 1].id
    if gone not in (hire.from_day, hire.to_day):
        return hire
    days = days_of(hire, variant)
    if len(days) <= 1:
        return None
    from_day = variant.days[number].id if hire.from_day == gone else hire.from_day
    to_day = variant.days[number - 2].id if hire.to_day == gone else hire.to_day
    return changed(hire, from_day=from_day, to_day=to_day)


def _hires_turned(variant: Variant) -> Variant:
    return changed(variant, hires=in_order(variant, (_turned(variant, hire) for hire in variant.hires)))


def _turned(variant: Variant, hire: Hire) -> Hire:
    """The hire with its ends in the order in which their days stand now."""
    if hire.from_day is None or hire.to_day is None:
        return hire
    if day_index(variant, hire.from_day) <= day_index(variant, hire.to_day):
        return hire
    return changed(hire, from_day=hire.to_day, to_day=hire.from_day)


def _handed_on(hire: Hire, heirs: Mapping[str, str]) -> Hire:
    ends = (each and heirs.get(each, each) for each in (hire.from_day, hire.to_day))
    return changed(hire, **dict(zip(("from_day", "to_day"), ends, strict=True)))
