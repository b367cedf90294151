"""What holds of every trip, whatever was done to it."""

from collections.abc import Iterable, Sequence
from typing import Any

from lacet.trip.edits.naming import OF_A_DAY
from lacet.trip.hires import days_of
from lacet.trip.itinerary import day_groups, travellers_there
from lacet.trip.trip import Day, Leg, Trip, Variant


def assert_sound(trip: Trip) -> None:
    """Ids are unique, whoever is named is of the party, nothing is for nobody, groups part the party."""
    hash(trip)
    assert trip.variants
    assert_unique(variant.id for variant in trip.variants)
    known = {guest.id for guest in trip.party.travellers}
    for group in trip.party.sharing:
        assert group
        assert known.issuperset(group)
    assert all(each.id for each in (*trip.arrivals, *trip.departures))
    assert_unique(each.id for each in (*trip.arrivals, *trip.departures))
    assert_named((*trip.arrivals, *trip.departures), known)
    variant_ids = {variant.id for variant in trip.variants}
    assert trip.proposed is None or trip.proposed in variant_ids
    assert trip.accepted is None or trip.accepted.variant in variant_ids
    for variant in trip.variants:
        assert_sound_variant(trip, variant, known)


def assert_sound_variant(trip: Trip, variant: Variant, known: set[str]) -> None:
    others = [other for day in variant.days for other in day.alternatives]
    assert_unique(day.id for day in variant.days)
    assert_unique(other.id for other in others)
    assert_unique(
        item.id for items in (variant.items(), *(other.items for other in others)) for item in items
    )
    for parts in ([part for day in variant.days for part in getattr(day, name)] for name in OF_A_DAY):
        assert all(part.id for part in parts)
        assert_unique(part.id for part in parts)
    assert all(hire.id for hire in variant.hires)
    assert_unique(hire.id for hire in variant.hires)
    for hire in variant.hires:
        assert hire.traveller in known
        assert days_of(hire, variant) or not variant.days
    for number, day in enumerate(variant.days, start=1):
        assert_sound_day(day, known)
        there = travellers_there(trip, number)
        groups = [who for travellers, _ in day_groups(day, there) for who in travellers]
        assert sorted(groups) == sorted(there)


def assert_sound_day(day: Day, known: set[str]) -> None:
    cards = (*day.items, *(item for other in day.alternatives for item in other.items))
    assert_named((*cards, *day.nights, *day.meals), known)
    for night in day.nights:
        sleepers = known if night.travellers is None else night.travellers
        for room in night.rooms:
            assert room.travellers
            assert set(sleepers).issuperset(room.travellers)
    assert_unique(
        who
        for night in day.nights
        for who in (sorted(known) if night.travellers is None else night.travellers)
    )
    for item in cards:
        if isinstance(item, Leg) and item.cut_from_m is not None and item.cut_to_m is not None:
            assert item.cut_from_m < item.cut_to_m


def assert_named(parts: Sequence[Any], known: set[str]) -> None:
    for part in parts:
        if part.travellers is not None:
            assert part.travellers
            assert known.issuperset(part.travellers)


def assert_unique(ids: Iterable[str]) -> None:
    listed = list(ids)
    assert len(listed) == len(set(listed)), listed
