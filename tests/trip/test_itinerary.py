"""Where everybody is, followed by hand on a small island of four places."""

from dataclasses import replace

from hypothesis import HealthCheck, given, settings

from lacet.trip import edits
from lacet.trip.itinerary import ItineraryDay, arrive, day_groups, follow_day, travellers_there
from lacet.trip.library import Ref
from lacet.trip.trip import Crossing, Day, Leg, Night, Note, Rest, Ride, Trip, Variant
from lacet.trip.words import Means
from tests.trip.strategies import trips
from tests.trip.tables import FORGE, WEIR, four_days, leg, trip_of

STAGES = {"s-moor": ("harbour", "weir"), "s-ridge": ("weir", "crater"), "s-lane": ("crater", "forge")}
HOUSES = {"h-weir": "weir", "h-forge": "forge"}


def ends(leg: Leg) -> tuple[str | None, str | None]:
    first, last = STAGES[leg.stage.id]
    cut = (None if leg.cut_from_m else first, None if leg.cut_to_m else last)
    return (cut[1], cut[0]) if leg.backward else cut


def place(lodging: Ref) -> str | None:
    return HOUSES.get(lodging.id)


def itinerary(trip: Trip, variant: Variant, nowhere: bool = False) -> list[ItineraryDay]:
    """Everybody's days, one after the other; `nowhere` is a library that holds nothing."""
    where, days = arrive(trip), []
    for number, day in enumerate(variant.days, start=1):
        there = travellers_there(trip, number)
        lookups = ((lambda _: (None, None)), (lambda _: None)) if nowhere else (ends, place)
        planned, where = follow_day(day, number, there, where, *lookups)
        days.append(planned)
    return days


def followed(trip: Trip) -> list[list[tuple[str | None, str | None, str | None]]]:
    """Where each group starts, ends and sleeps (its first traveller), by day."""
    return [
        [(group.starts_at, group.ends_at, group.slept_at[0]) for group in day.groups]
        for day in itinerary(trip, trip.variants[0])
    ]


def test_days_run_on_from_bed_to_bed() -> None:
    trip = edits.set_crossings(four_days(), arrivals=(Crossing(hub="harbour", means=Means.FERRY),))
    assert followed(trip) == [
        [("harbour", "weir", "weir")],
        [("weir", "weir", "weir")],
        [("weir", "forge", "forge")],
        [("forge", "weir", None)],
    ]


def test_without_an_arrival_the_first_stage_says_where_the_trip_begins() -> None:
    assert followed(four_days())[0] == [("harbour", "weir", "weir")]


def test_a_stage_travelled_backward_ends_where_it_begins() -> None:
    trip = edits.reverse_leg(trip_of(Day(id="d1", items=(leg("i1"),))), "v1", "i1")
    assert followed(trip) == [[("weir", "harbour", None)]]


def test_a_cut_leg_leaves_the_group_on_the_way_and_a_ride_fetches_it() -> None:
    trip = trip_of(Day(id="d1", items=(leg("i1"),)))
    trip = edits.cut_leg(trip, "v1", "i1", to_m=2_000, stage_length_m=9_000)
    assert followed(trip) == [[("harbour", None, None)]]
    fetched = edits.place_item(trip, "v1", "d1", Ride(id="", from_place="weir", to_place="forge"))
    assert followed(fetched) == [[("harbour", "forge", None)]]


def test_ways_part_and_meet_at_the_lodging() -> None:
    trip = trip_of(
        Day(id="d1", items=(leg("i1"),), nights=(Night(lodging=WEIR),)),
        Day(
            id="d2",
            items=(
                leg("i2", "s-ridge", ("t1",)),
                Ride(id="i3", from_place="weir", to_place="forge", travellers=("t2", "t3")),
            ),
            nights=(Night(lodging=FORGE),),
        ),
        Day(id="d3", items=(Rest(id="i4"),)),
    )
    days = itinerary(trip, trip.variants[0])
    assert [group.travellers for group in days[1].groups] == [("t1",), ("t2", "t3")]
    assert followed(trip)[1:] == [
        [("weir", "crater", "forge"), ("weir", "forge", "forge")],
        [("forge", "forge", None)],
    ]


def test_those_who_slept_apart_wake_where_they_slept() -> None:
    trip = edits.set_night(four_days(), "v1", "d2", Night(lodging=FORGE, travellers=("t3",)))
    (group,) = itinerary(trip, trip.variants[0])[2].groups
    assert group.woke_at == ("weir", "weir", "forge")


def test_where_a_stage_begins_elsewhere_the_stretch_says_where_the_group_stands() -> None:
    trip = trip_of(Day(id="d1", items=(leg("i1"), leg("i2", "s-lane"))))
    ((group,),) = (day.groups for day in itinerary(trip, trip.variants[0]))
    assert [(stretch.stands_at, stretch.from_place) for stretch in group.stretches] == [
        (None, "harbour"),
        ("weir", "crater"),
    ]


def test_a_note_parts_nobody() -> None:
    day = Day(id="d1", items=(leg("i1"), Note(id="i2", says="bring a hat", travellers=("t1",))))
    assert [travellers for travellers, _ in day_groups(day, ("t1", "t2"))] == [("t1", "t2")]


def test_a_guest_counts_only_on_the_days_they_are_there() -> None:
    guest = replace(four_days().party.travellers[1], from_day=2, to_day=3)
    trip = edits.set_traveller(four_days(), guest)
    assert [len(travellers_there(trip, number)) for number in (1, 2, 3, 4)] == [2, 3, 3, 2]
    days = itinerary(trip, trip.variants[0])
    assert [sum(len(group.travellers) for group in day.groups) for day in days] == [2, 3, 3, 2]


@settings(max_examples=25, suppress_health_check=[HealthCheck.too_slow])
@given(trips())
def test_groups_part_those_who_are_there_and_each_takes_what_is_theirs(trip: Trip) -> None:
    for variant in trip.variants:
        for day in itinerary(trip, variant, nowhere=True):
            named = [who for group in day.groups for who in group.travellers]
            assert sorted(named) == sorted(travellers_there(trip, day.number))
            for group in day.groups:
                for item in group.items:
                    assert item.travellers is None or set(group.travellers).issubset(item.travellers)
