"""Legs cut on the way: somebody has to bring the guests there, or fetch them."""

from dataclasses import replace
from datetime import date, time

import pytest

from lacet.assess import Assessment, assess
from lacet.inputs import Inputs
from lacet.settle import settle
from lacet.trip.finding import Finding, Level
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import LibraryItem, Ref, Stage, StagePoint, Transfer
from lacet.trip.trip import About, Crossing, Item, Ride, Trip, Visit
from lacet.trip.words import Carrier, Means, PointKind
from tests.small_library import cycle, day, items, ride, small_catalogue, small_trip, walk

AS_OF = date(2026, 11, 25)
RULES = HouseRules()
CLIMB = next(item for item in items() if isinstance(item, Stage) and item.id == "climb")
LAKE = Visit(id="i9", name="The lake")


def assessed(trip: Trip, library: tuple[LibraryItem, ...] = (), rules: HouseRules = RULES) -> Assessment:
    return assess(Inputs(trip, "v1", small_catalogue(*library), rules, as_of=AS_OF))


def gaps(trip: Trip, library: tuple[LibraryItem, ...] = ()) -> list[Finding]:
    return [each for each in assessed(trip, library).findings if each.check == "days_join_up"]


def one_day(*content: Item, lodging: str | None = "birch-house") -> Trip:
    return small_trip(day("d1", *content, lodging=lodging, briefing=True))


CUT_SHORT = walk("i1", cut_to_m=6_000.0)


@pytest.mark.parametrize(
    "content",
    [
        (CUT_SHORT, ride("i2", "alder", "birch")),
        (CUT_SHORT, LAKE, ride("i2", "alder", "birch")),
        (CUT_SHORT, walk("i2", cut_from_m=6_000.0)),
        (CUT_SHORT, walk("i2", cut_from_m=6_100.0)),
        (CUT_SHORT, LAKE, walk("i2", cut_from_m=6_000.0)),
        (ride("i1", "alder", "alder"), walk("i2", cut_from_m=3_000.0)),
        (walk("i1", "nowhere", cut_to_m=6_000.0), ride("i2", "alder", "birch")),
        (walk("i1", "nowhere"),),
    ],
)
def test_a_ride_or_the_next_leg_takes_guests_on_from_where_a_leg_was_cut(content: tuple[Item, ...]) -> None:
    assert gaps(one_day(*content)) == []


@pytest.mark.parametrize(
    ("content", "about"),
    [
        ((CUT_SHORT,), "not_fetched"),
        ((CUT_SHORT, LAKE), "not_fetched"),
        ((CUT_SHORT, cycle("i2")), "not_fetched"),
        ((CUT_SHORT, walk("i2", cut_from_m=6_101.0)), "not_fetched"),
        ((walk("i1", cut_from_m=3_000.0),), "not_brought"),
        ((ride("i3", "alder", "alder"), CUT_SHORT, cycle("i2")), "not_fetched"),
    ],
)
def test_a_leg_cut_on_the_way_with_nobody_to_bring_or_fetch_is_a_stop(
    content: tuple[Item, ...], about: str
) -> None:
    (told, *_) = gaps(one_day(*content, lodging=None))
    assert told.level is Level.STOP
    assert (told.code, told.subject[0]) == (about, About("leg", "i1"))
    assert "nobody" in str(told.says)


def test_backward_a_cut_counts_from_the_stages_own_start() -> None:
    """Down from Birch, cut at 3 km of the stage: the end is on the way, the start is not."""
    down = small_trip(
        day("d1", walk("i1"), lodging="birch-house"),
        day("d2", walk("i2", backward=True, cut_from_m=3_000.0), lodging="quay-house"),
    )
    (told,) = gaps(down)
    assert (told.code, told.subject[0]) == ("not_fetched", About("leg", "i2"))
    assert "3.0 km" in str(told.says)


def test_the_transfer_offered_settles_the_gap_with_a_carrier_of_the_library() -> None:
    trip = one_day(CUT_SHORT)
    before = assessed(trip)
    (told,) = gaps(trip)
    inputs = Inputs(trip, "v1", small_catalogue(), RULES, as_of=AS_OF)
    (fix, *_) = settle(inputs, before)[before.findings.index(told)]
    mended = fix.edit(trip)
    assert gaps(mended) == []
    added = mended.variants[0].days[0].items[-1]
    assert isinstance(added, Ride)
    assert (added.transfer, added.to_place) == (Ref("taxi"), "birch")


def test_a_carrier_that_runs_between_the_two_places_is_taken_before_a_taxi() -> None:
    bus = Transfer(
        id="bus", name="Bus", carrier=Carrier.BUS, from_place="birch", to_place="alder", minutes=20, seats=9
    )
    trip = one_day(cycle("i1"), lodging=None)
    (gap,) = gaps(trip, (bus,))
    added = gap.fixes[0].edit(trip).variants[0].days[0].items[0]
    assert isinstance(added, Ride)
    # The bus takes bikes as far as anybody has said.
    assert added.transfer == Ref("bus")
    no_bikes = replace(bus, bikes=0)
    (gap,) = gaps(trip, (no_bikes,))
    added = gap.fixes[0].edit(trip).variants[0].days[0].items[0]
    assert isinstance(added, Ride)
    assert added.transfer == Ref("taxi")


def test_two_groups_with_the_same_gap_are_told_apart() -> None:
    trip = small_trip(
        day("d1", walk("i1", travellers=("t1",)), ride("i2", "cedar", "alder"), briefing=True), guests=3
    )
    subjects = [told.subject for told in gaps(trip)]
    assert len(subjects) == 2
    assert len(set(subjects)) == 2


def test_a_day_too_far_is_cut_at_a_taxi_pickup_and_proved() -> None:
    """Limit 8 km, pick-ups at 4, 7 and 8.7 km: 7 is the farthest that helps and isn't the stage's end."""
    points = tuple(
        StagePoint(along_m, PointKind.TAXI_PICKUP, f"Gate {number}")
        for number, along_m in enumerate((4_000.0, 7_000.0, 8_700.0), start=1)
    )
    library = (replace(CLIMB, points=points),)
    rules = replace(RULES, walking_limit_m=8_000.0)
    trip = one_day(walk("i1"))
    before = assessed(trip, library, rules)
    (told,) = [each for each in before.findings if each.check == "day_within_limits"]
    assert [str(fix.says) for fix in told.fixes] == [
        "Taxi from Gate 2, after 7.0 km",
        "Taxi to Gate 1, 5.0 km from there",
    ]
    inputs = Inputs(trip, "v1", small_catalogue(*library), rules, as_of=AS_OF)
    proved, late = settle(inputs, before)[before.findings.index(told)]
    after = assessed(proved.edit(trip), library, rules)
    assert not [each for each in after.findings if each.check in ("day_within_limits", "days_join_up")]
    leg, note, taxi = proved.edit(trip).variants[0].days[0].items
    assert leg == replace(walk("i1"), cut_to_m=7_000.0)
    assert isinstance(taxi, Ride)
    assert "Gate 2" in getattr(note, "says", "")
    after = assessed(late.edit(trip), library, rules)
    assert not [each for each in after.findings if each.check in ("day_within_limits", "days_join_up")]
    taxi, note, leg = late.edit(trip).variants[0].days[0].items
    assert leg == replace(walk("i1"), cut_from_m=4_000.0)
    assert isinstance(taxi, Ride)
    assert "Gate 1" in getattr(note, "says", "")


def test_a_taxi_to_a_pickup_that_is_a_place_goes_there_and_backward_the_near_part_is_kept() -> None:
    point = StagePoint(6_000.0, PointKind.TAXI_PICKUP, "Cedar")
    library = (replace(CLIMB, points=(point,)),)
    trip = small_trip(
        day("d1", walk("i1", backward=True), lodging="quay-house", briefing=True),
        arrivals=(Crossing(hub="birch", means=Means.FERRY, at=time(9, 0)),),
    )
    rules = replace(RULES, walking_limit_m=7_000.0)
    (told,) = [each for each in assessed(trip, library, rules).findings if each.check == "day_within_limits"]
    fix = next(each for each in told.fixes if str(each.says) == "Taxi to Cedar, 6.0 km from there")
    taxi, leg = fix.edit(trip).variants[0].days[0].items
    assert leg == replace(walk("i1", backward=True), cut_to_m=6_000.0)
    assert isinstance(taxi, Ride)
    assert (taxi.from_place, taxi.to_place) == ("birch", "cedar")


def test_a_pickup_that_is_a_place_is_where_the_taxi_starts_and_backward_the_far_part_is_kept() -> None:
    point = StagePoint(3_000.0, PointKind.TAXI_PICKUP, "Cedar")
    library = (replace(CLIMB, points=(point,)),)
    trip = small_trip(
        day("d1", walk("i1", backward=True), lodging="quay-house", briefing=True),
        arrivals=(Crossing(hub="birch", means=Means.FERRY, at=time(9, 0)),),
    )
    rules = replace(RULES, walking_limit_m=7_000.0)
    (told,) = [each for each in assessed(trip, library, rules).findings if each.check == "day_within_limits"]
    leg, taxi = told.fixes[0].edit(trip).variants[0].days[0].items
    assert leg == replace(walk("i1", backward=True), cut_from_m=3_000.0)
    assert isinstance(taxi, Ride)
    assert (taxi.from_place, taxi.to_place) == ("cedar", "alder")
