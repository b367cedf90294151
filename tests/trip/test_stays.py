"""Stays are read from nights; their edges add and drop days."""

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lacet.trip import edits
from lacet.trip.edits import EditRefused
from lacet.trip.library import Ref
from lacet.trip.stays import is_rest_day, stays
from lacet.trip.trip import Day, Night, Rest, RoomUse, Trip, Visit
from tests.trip.strategies import trips
from tests.trip.tables import FORGE, WEIR, day_ids, four_days, houses, leg, trip_of


def test_nights_in_one_house_are_one_stay_whatever_its_version() -> None:
    trip = edits.set_night(four_days(), "v1", "d2", Night(lodging=Ref("h-weir", 2)))
    found = [(stay.lodging, stay.first, stay.nights) for stay in stays(trip.variants[0])]
    assert found == [(WEIR, 0, 2), (FORGE, 2, 1)]


def test_coming_back_to_a_house_is_a_new_stay() -> None:
    days = (Day(id=f"d{n}", nights=(Night(lodging=house),)) for n, house in enumerate((WEIR, FORGE, WEIR)))
    assert [(stay.lodging.id, stay.first) for stay in stays(trip_of(*days).variants[0])] == [
        ("h-weir", 0),
        ("h-forge", 1),
        ("h-weir", 2),
    ]


def test_those_who_sleep_apart_have_stays_of_their_own() -> None:
    trip = edits.set_night(four_days(), "v1", "d2", Night(lodging=FORGE, travellers=("t3",)))
    found = [(stay.lodging.id, stay.travellers, stay.first, stay.nights) for stay in stays(trip.variants[0])]
    assert found == [
        ("h-weir", None, 0, 1),
        ("h-weir", ("t1", "t2"), 1, 1),
        ("h-forge", ("t3",), 1, 1),
        ("h-forge", None, 2, 1),
    ]


@settings(max_examples=25, suppress_health_check=[HealthCheck.too_slow])
@given(trips())
def test_every_night_belongs_to_one_stay(trip: Trip) -> None:
    for variant in trip.variants:
        told = sorted(
            (index, stay.lodging.id) for stay in stays(variant) for index in range(stay.first, stay.last + 1)
        )
        slept = sorted(
            (index, night.lodging.id) for index, day in enumerate(variant.days) for night in day.nights
        )
        assert told == slept


def test_a_night_more_is_a_rest_day_in_the_same_house_after_the_last_night() -> None:
    trip = edits.stretch_stay(four_days(), "v1", "d1", nights=2)
    assert day_ids(trip) == ["d1", "d2", "d5", "d6", "d3", "d4"]
    assert houses(trip) == [["h-weir"]] * 4 + [["h-forge"], []]
    assert [type(item) for item in trip.variants[0].days[2].items] == [Rest]
    assert trip.variants[0].hires[0].from_day == "d3"


def test_a_night_more_reaches_over_a_rest_day_without_a_bed_before_a_day_is_added() -> None:
    trip = trip_of(
        Day(id="d1", items=(leg("i1"),), nights=(Night(lodging=WEIR),)),
        Day(id="d2", items=(Rest(id="i2"),)),
        Day(id="d3", items=(leg("i3"),)),
    )
    one = edits.stretch_stay(trip, "v1", "d1", nights=1)
    assert day_ids(one) == ["d1", "d2", "d3"]
    assert houses(one) == [["h-weir"], ["h-weir"], []]
    assert len(day_ids(edits.stretch_stay(trip, "v1", "d1", nights=2))) == 4


def test_a_rest_day_that_ends_the_trip_needs_no_bed() -> None:
    trip = trip_of(
        Day(id="d1", items=(leg("i1"),), nights=(Night(lodging=WEIR),)), Day(id="d2", items=(Rest(id="i2"),))
    )
    assert houses(edits.stretch_stay(trip, "v1", "d1", nights=1)) == [["h-weir"], ["h-weir"], []]


def test_a_night_less_drops_the_last_rest_day() -> None:
    trip = edits.stretch_stay(four_days(), "v1", "d1", nights=-1)
    assert day_ids(trip) == ["d1", "d3", "d4"]


def test_a_rest_day_with_something_to_see_is_the_last_to_be_dropped() -> None:
    night = (Night(lodging=WEIR),)
    trip = trip_of(
        Day(id="d1", items=(leg("i1"),), nights=night),
        Day(id="d2", items=(Rest(id="i2"),), nights=night),
        Day(id="d3", items=(Visit(id="i3", name="Salt pans"),), nights=night),
    )
    assert day_ids(edits.stretch_stay(trip, "v1", "d1", nights=-1)) == ["d1", "d3"]


def test_a_day_with_a_stage_is_never_dropped_by_way_of_a_night() -> None:
    night = (Night(lodging=WEIR),)
    trip = trip_of(
        Day(id="d1", items=(leg("i1"),), nights=night), Day(id="d2", items=(leg("i2"),), nights=night)
    )
    with pytest.raises(EditRefused, match="has a stage or a ride"):
        edits.stretch_stay(trip, "v1", "d1", nights=-1)
    with pytest.raises(EditRefused, match="at least one night"):
        edits.stretch_stay(four_days(), "v1", "d3", nights=-1)


@settings(max_examples=40, suppress_health_check=[HealthCheck.too_slow])
@given(trips(), st.integers(1, 3))
def test_staying_on_and_leaving_earlier_again_is_nothing(trip: Trip, nights: int) -> None:
    trip = replace(trip, fixed_through=None)
    for stay in stays(trip.variants[0]):
        if any(is_rest_day(day) and not day.nights for day in trip.variants[0].days[stay.last + 1 :][:1]):
            continue  # That day gets the bed; the test above says so.
        day_id, house = trip.variants[0].days[stay.first].id, stay.lodging.id
        longer = edits.stretch_stay(trip, "v1", day_id, nights=nights, lodging_id=house)
        assert len(longer.variants[0].days) == len(trip.variants[0].days) + nights
        assert edits.stretch_stay(longer, "v1", day_id, nights=-nights, lodging_id=house) == trip


def test_where_the_party_sleeps_in_two_houses_the_stay_has_to_be_named() -> None:
    trip = edits.set_night(four_days(), "v1", "d1", Night(lodging=FORGE, travellers=("t3",)))
    with pytest.raises(EditRefused, match="several houses"):
        edits.stretch_stay(trip, "v1", "d1", nights=1)
    longer = edits.stretch_stay(trip, "v1", "d1", nights=1, lodging_id="h-forge")
    assert houses(longer)[1] == ["h-weir", "h-forge"], "the others need a bed that night too"


def test_no_one_pulls_a_stay_over_a_thousand_years() -> None:
    with pytest.raises(EditRefused, match="number of nights"):
        edits.stretch_stay(four_days(), "v1", "d1", nights=10**9)


def test_a_night_for_some_takes_them_out_of_their_room_elsewhere() -> None:
    rooms = (RoomUse(kind="double", travellers=("t1", "t2")), RoomUse(kind="single", travellers=("t3",)))
    trip = edits.set_night(four_days(), "v1", "d1", Night(lodging=WEIR, rooms=rooms))
    apart = edits.set_night(trip, "v1", "d1", Night(lodging=FORGE, travellers=("t2", "t3")))
    weir, forge = apart.variants[0].days[0].nights
    assert weir.rooms == (RoomUse(kind="double", travellers=("t1",)),)
    assert (weir.travellers, forge.travellers) == (("t1",), ("t2", "t3"))


def test_those_who_join_the_others_in_a_house_share_their_night() -> None:
    trip = edits.set_night(four_days(), "v1", "d1", Night(lodging=FORGE, travellers=("t3",)))
    assert edits.set_night(trip, "v1", "d1", Night(lodging=WEIR, travellers=("t3",))) == four_days()


def test_clearing_a_night_leaves_it_open_for_those_only() -> None:
    trip = edits.clear_night(four_days(), "v1", "d1", travellers=("t1",))
    assert trip.variants[0].days[0].nights == (Night(id="n1", lodging=WEIR, travellers=("t2", "t3")),)
    assert edits.clear_night(trip, "v1", "d1").variants[0].days[0].nights == ()


@pytest.mark.parametrize(
    ("rooms", "says"),
    [
        ((RoomUse(kind="double", travellers=()),), "at least one guest"),
        ((RoomUse(kind="double", travellers=("t9",)),), "doesn't sleep in that house"),
        ((RoomUse(kind="a", travellers=("t1",)), RoomUse(kind="b", travellers=("t1",))), "two rooms"),
    ],
)
def test_rooms_hold_guests_of_that_night_each_once(rooms: tuple[RoomUse, ...], says: str) -> None:
    with pytest.raises(EditRefused, match=says):
        edits.set_night(four_days(), "v1", "d1", Night(lodging=WEIR, rooms=rooms))
