"""Candidate fixes of the day's checks: each is proved by applying it, and settles its finding."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, time
from typing import Any

import pytest

from lacet.assess import Assessment, assess
from lacet.inputs import Inputs
from lacet.settle import settle
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import Closure, LibraryItem, Place, Ref, Stage, StageWay, TrafficStretch
from lacet.trip.party import Wishes
from lacet.trip.trip import Alternative, Crossing, Item, Meal, Ride, Trip
from lacet.trip.words import (
    ClosureLevel,
    Exposure,
    Footing,
    MealKind,
    Means,
    Reason,
    Signal,
    Traffic,
    Way,
)
from tests.small_library import cycle, day, items, ride, small_catalogue, small_trip, walk

AS_OF = date(2026, 11, 25)
RULES = HouseRules()
DINNER = Meal(kind=MealKind.DINNER, restaurant=Ref("net-loft"))


def known(kind: type[Any], item_id: str) -> Any:
    return next(item for item in items() if isinstance(item, kind) and item.id == item_id)


CLIMB: Stage = known(Stage, "climb")
VALLEY = replace(CLIMB, id="valley", name="Along the stream", from_place="birch", to_place="alder")
SHORT_WAY = Alternative(id="a1", reason=Reason.SHORTER, items=(walk("i5", "valley", backward=True),))
TAXI = ride("i6", "alder", "birch", minutes=9, transfer=Ref("taxi"))
HALF_WAY = replace(SHORT_WAY, items=(walk("i5", cut_to_m=5_000.0), TAXI))


def assessed(trip: Trip, library: tuple[LibraryItem, ...] = (), rules: HouseRules = RULES) -> Assessment:
    return assess(Inputs(trip, "v1", small_catalogue(*library), rules, as_of=AS_OF))


def one_day(*content: Item, alternatives: tuple[Alternative, ...] = (), **more: Any) -> Trip:
    """A day with a dinner and a night at Birch."""
    departs = more.pop("departs", None)
    only = day("d1", *content, lodging="birch-house", briefing=True, departs=departs)
    return small_trip(replace(only, meals=(DINNER,), alternatives=alternatives), **more)


def wishing(trip: Trip, **wishes: Any) -> Trip:
    return replace(trip, party=replace(trip.party, wishes=Wishes(**wishes)))


def aged(trip: Trip, *ages: int) -> Trip:
    guests = zip(trip.party.travellers, ages, strict=True)
    return replace(
        trip, party=replace(trip.party, travellers=tuple(replace(guest, age=age) for guest, age in guests))
    )


def ways(**more: Any) -> tuple[StageWay, ...]:
    facts = {"footing": Footing.EVEN, "exposure": Exposure.NONE} | more
    return tuple(StageWay(way=way, **facts) for way in Way)


def crossing(at: time, means: Means = Means.FERRY) -> tuple[Crossing, ...]:
    return (Crossing(hub="alder", means=means, at=at),)


def parted() -> Trip:
    """The first guest walks over the hill, the other takes a taxi there."""
    taxi = Ride(
        id="i2",
        transfer=Ref("taxi"),
        from_place="alder",
        to_place="birch",
        minutes=20,
        travellers=("t2",),
    )
    return one_day(walk("i1", travellers=("t1",)), taxi)


def there_and_back() -> Trip:
    """Two hard days on end, and a dinner between them."""
    first = replace(day("d1", walk("i1"), lodging="birch-house", briefing=True), meals=(DINNER,))
    return small_trip(first, day("d2", walk("i2", backward=True)))


def leaves_from_birch() -> Trip:
    last = day("d1", walk("i1"), briefing=True)
    return small_trip(last, departures=crossing(time(20, 0)))


def leaves_early() -> Trip:
    """Back at Alder by about a quarter to five, by the boat of a quarter past."""
    back = day("d1", walk("i1"), walk("i2", backward=True), departs=time(10, 0), briefing=True)
    return small_trip(back, arrivals=(), departures=crossing(time(17, 15)))


DRY = tuple(replace(known(Place, place_id), has_food=False) for place_id in ("alder", "birch"))
CASES: tuple[tuple[str, str, Callable[[], Trip], tuple[LibraryItem, ...], HouseRules], ...] = (
    (
        "arrival_and_departure",
        "Set out at 9:30",
        lambda: one_day(walk("i1"), departs=time(8, 30)),
        (),
        RULES,
    ),
    ("arrival_and_departure", "Transfer Birch to Alder", leaves_from_birch, (), RULES),
    ("arrival_and_departure", "Set out at 9:30", leaves_early, (), RULES),
    (
        "late_arrival",
        "Transfer to Birch instead",
        lambda: one_day(walk("i1"), arrivals=crossing(time(14, 0))),
        (),
        RULES,
    ),
    ("done_by_sunset", "Set out at 15:15", lambda: one_day(walk("i1"), departs=time(15, 45)), (), RULES),
    (
        "day_within_limits",
        "Take the shorter way",
        lambda: one_day(walk("i1"), alternatives=(HALF_WAY,)),
        (),
        replace(RULES, walking_limit_m=8_500.0),
    ),
    (
        "stage_closed",
        "Take the shorter way",
        lambda: one_day(walk("i1"), alternatives=(SHORT_WAY,)),
        (replace(CLIMB, closures=(Closure("05-01..05-20", ClosureLevel.AUTHORITY),)), VALLEY),
        RULES,
    ),
    (
        "snow_possible",
        "Along the stream instead",
        lambda: one_day(walk("i1")),
        (replace(CLIMB, snow_season="11-01..05-20"), VALLEY),
        RULES,
    ),
    (
        "ground_wished",
        "Along the stream instead",
        lambda: wishing(one_day(walk("i1")), exposure=Exposure.NONE),
        (replace(CLIMB, ways=ways(exposure=Exposure.EXPOSED)), VALLEY),
        RULES,
    ),
    (
        "busy_road",
        "Along the stream instead",
        lambda: wishing(one_day(walk("i1")), novices=True),
        (replace(CLIMB, ways=ways(traffic=(TrafficStretch(0.0, 2_000.0, Traffic.BUSY),))), VALLEY),
        RULES,
    ),
    (
        "alone",
        "Everybody goes this way",
        parted,
        (replace(CLIMB, signal=Signal.NONE), replace(VALLEY, signal=Signal.GOOD)),
        RULES,
    ),
    (
        "water_and_food",
        "A packed lunch",
        lambda: one_day(walk("i1")),
        DRY,
        replace(RULES, hungry_s=3_600.0),
    ),
    (
        "hard_days",
        "A rest day between them",
        there_and_back,
        (),
        replace(RULES, walking_limit_m=10_000.0),
    ),
    (
        "minors",
        "Everybody goes this way",
        lambda: aged(parted(), 15, 40),
        (VALLEY,),
        RULES,
    ),
    (
        "way_described",
        "Along the stream instead",
        lambda: one_day(walk("i1")),
        (replace(CLIMB, ways=()), VALLEY),
        RULES,
    ),
)


@pytest.mark.parametrize(
    ("check", "says", "trip", "library", "rules"), CASES, ids=[f"{case[0]} {case[1]}" for case in CASES]
)
def test_a_fix_is_proved_and_settles_its_finding(
    check: str, says: str, trip: Callable[[], Trip], library: tuple[LibraryItem, ...], rules: HouseRules
) -> None:
    given = trip()
    before = assessed(given, library, rules)
    told = next(each for each in before.findings if each.check == check and each.fixes)
    inputs = Inputs(given, "v1", small_catalogue(*library), rules, as_of=AS_OF)
    proved = {str(each.says): each for each in settle(inputs, before)[before.findings.index(told)]}
    assert says in [str(fix.says) for fix in told.fixes]
    assert says in proved, [str(fix.says) for fix in told.fixes]
    after = assessed(proved[says].edit(given), library, rules)
    left = [each for each in after.findings if each.key == told.key]
    assert left == []


def test_a_day_that_cannot_be_helped_by_eight_o_clock_offers_no_earlier_start() -> None:
    late = one_day(walk("i1"), departs=time(9, 30))
    rules = replace(RULES, sunset_warn_s=12 * 3600.0)
    (told,) = [each for each in assessed(late, (), rules).findings if each.check == "done_by_sunset"]
    assert [fix for fix in told.fixes if str(fix.says).startswith("Set out")] == []


def test_fixes_are_only_worked_out_when_they_are_applied() -> None:
    """A finding is compared without its edits, so that equal trips give equal findings."""
    first, second = (assessed(small_trip(day("d1", cycle("i1")))) for _ in range(2))
    assert first.findings == second.findings
    assert any(each.fixes for each in first.findings)


@pytest.mark.parametrize(
    ("trip", "travellers"),
    [(lambda: one_day(walk("i1")), None), (parted, ("t1",))],
    ids=["together", "parted"],
)
def test_a_packed_lunch_is_for_those_who_go_hungry(
    trip: Callable[[], Trip], travellers: tuple[str, ...] | None
) -> None:
    given = trip()
    told = assessed(given, DRY, replace(RULES, hungry_s=3_600.0)).findings
    lunch = next(fix for each in told for fix in each.fixes if str(fix.says) == "A packed lunch")
    meals = lunch.edit(given).variants[0].days[0].meals
    assert [each.travellers for each in meals if each.kind is MealKind.PACKED_LUNCH] == [travellers]
