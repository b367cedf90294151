"""The checks of days, ground and timing: a trip that triggers each, and a neighbour that doesn't."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date, time, timedelta
from typing import Any

import pytest

from lacet.assess import Assessment, assess
from lacet.inputs import Inputs
from lacet.settle import settle
from lacet.trip import edits
from lacet.trip.finding import Finding, Level
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import (
    Closure,
    LibraryItem,
    Ref,
    Stage,
    StagePoint,
    StageWay,
    TrafficStretch,
)
from lacet.trip.party import Limits, Wishes
from lacet.trip.trip import Crossing, Hire, Meal, Rest, Trip
from lacet.trip.words import (
    ClosureLevel,
    Exposure,
    Footing,
    MealKind,
    Means,
    PointKind,
    Signal,
    Traffic,
    Way,
)
from tests.small_library import cycle, day, items, ride, small_catalogue, small_trip, walk

AS_OF = date(2026, 11, 25)
RULES = HouseRules()
CLIMB = next(item for item in items() if isinstance(item, Stage) and item.id == "climb")
LANE = next(item for item in items() if isinstance(item, Stage) and item.id == "lane")


def assessed(trip: Trip, library: tuple[LibraryItem, ...], rules: HouseRules) -> Assessment:
    return assess(Inputs(trip, "v1", small_catalogue(*library), rules, as_of=AS_OF))


def found(
    check: str, trip: Trip, library: tuple[LibraryItem, ...] = (), rules: HouseRules = RULES
) -> list[Finding]:
    return [each for each in assessed(trip, library, rules).findings if each.check == check]


def one_walk(**more: Any) -> Trip:
    return small_trip(day("d1", walk("i1"), briefing=True), **more)


def with_guests(trip: Trip, **more: Any) -> Trip:
    guests = tuple(replace(guest, **more) for guest in trip.party.travellers)
    return replace(trip, party=replace(trip.party, travellers=guests))


def with_wishes(trip: Trip, **more: Any) -> Trip:
    return replace(trip, party=replace(trip.party, wishes=Wishes(**more)))


def with_dinner() -> Trip:
    """A day's walk with a night and a dinner after it, and a day back."""
    dinner = Meal(kind=MealKind.DINNER, restaurant=Ref("net-loft"))
    return small_trip(
        day("d1", walk("i1"), lodging="birch-house", briefing=True, meals=(dinner,)),
        day("d2", walk("i2", backward=True)),
    )


def leaving(means: Means, at: time, **more: Any) -> Trip:
    """A ride of one hour from ten o'clock to the hub."""
    last = day("d1", ride("i1", "birch", "alder", minutes=60), departs=time(10, 0), briefing=True)
    crossing = Crossing(hub="alder", means=means, at=at, **more)
    return small_trip(last, arrivals=(), departures=(crossing,))


def stage(base: Stage = CLIMB, **more: Any) -> tuple[Stage]:
    return (replace(base, **more),)


def ground(**more: Any) -> tuple[Stage]:
    return stage(ways=(StageWay(way=Way.WALKING, **more), StageWay(way=Way.CYCLING, **more)))


def busy(to_m: float) -> tuple[Stage]:
    return ground(
        footing=Footing.EVEN, exposure=Exposure.NONE, traffic=(TrafficStretch(0.0, to_m, Traffic.BUSY),)
    )


def riders(assist: str = "low") -> Trip:
    """A ride along the lane on e-bikes; how much it takes depends on the assist."""
    hires = (Hire(traveller="t1", bike=Ref("e-medium")), Hire(traveller="t2", bike=Ref("e-medium")))
    return small_trip(day("d1", cycle("i1", assist=assist), briefing=True), hires=hires, arrivals=())


ROUGH = ground(footing=Footing.ROUGH, exposure=Exposure.NONE)
EDGES = ground(footing=Footing.EVEN, exposure=Exposure.SOME)


@dataclass(frozen=True)
class Case:
    """What triggers a check, at which level, and its neighbour just on the right side."""

    check: str
    level: Level
    bad: Callable[[], Trip]
    good: Callable[[], Trip]
    bad_library: tuple[LibraryItem, ...] = ()
    good_library: tuple[LibraryItem, ...] = ()
    rules: HouseRules = RULES


CASES = (
    Case("arrival_and_departure", Level.STOP,
         lambda: leaving(Means.FLIGHT, time(12, 29)), lambda: leaving(Means.FLIGHT, time(13, 0))),
    Case("arrival_and_departure", Level.WARN,
         lambda: leaving(Means.FLIGHT, time(12, 30)), lambda: leaving(Means.FLIGHT, time(13, 0))),
    Case("arrival_and_departure", Level.WARN,
         lambda: leaving(Means.FLIGHT, time(13, 59), long_haul=True),
         lambda: leaving(Means.FLIGHT, time(14, 0), long_haul=True)),
    Case("arrival_and_departure", Level.STOP,
         lambda: small_trip(day("d1", walk("i1"), departs=time(8, 59), briefing=True)),
         lambda: small_trip(day("d1", walk("i1"), departs=time(9, 0), briefing=True))),
    Case("late_arrival", Level.WARN,
         lambda: one_walk(arrivals=(Crossing(hub="alder", means=Means.FERRY, at=time(13, 31)),)),
         lambda: one_walk(arrivals=(Crossing(hub="alder", means=Means.FERRY, at=time(13, 30)),))),
    Case("day_within_limits", Level.STOP,
         lambda: with_guests(one_walk(), limits=Limits(walking_m=8_900)),
         lambda: with_guests(one_walk(), limits=Limits(walking_m=9_100))),
    Case("day_within_limits", Level.WARN, one_walk, one_walk, rules=replace(RULES, walking_limit_m=8_900.0),
         good_library=stage(track_id="short")),
    Case("hard_days", Level.NOTE,
         lambda: small_trip(day("d1", walk("i1"), briefing=True), day("d2", walk("i2", backward=True))),
         lambda: small_trip(day("d1", walk("i1"), briefing=True), day("d2", Rest(id="i2"))),
         rules=replace(RULES, walking_limit_m=10_000.0)),
    Case("after_breakfast", Level.WARN,
         lambda: small_trip(day("d1", walk("i1"), lodging="birch-house", briefing=True),
                            day("d2", cycle("i2"), departs=time(8, 14))),
         lambda: small_trip(day("d1", walk("i1"), lodging="birch-house", briefing=True),
                            day("d2", cycle("i2"), departs=time(8, 15)))),
    Case("stage_closed", Level.STOP, one_walk, one_walk,
         stage(closures=(Closure("05-01..05-08", ClosureLevel.AUTHORITY, "Lambing."),)),
         stage(closures=(Closure("05-01..05-07", ClosureLevel.AUTHORITY, "Lambing."),))),
    Case("stage_closed", Level.WARN, one_walk, one_walk,
         stage(closures=(Closure("05-08..05-10", ClosureLevel.ADVICE),)),
         stage(closures=(Closure("05-09..05-10", ClosureLevel.ADVICE),))),
    Case("snow_possible", Level.WARN, one_walk, one_walk,
         stage(snow_season="11-01..05-08"), stage(snow_season="11-01..05-07")),
    Case("ground_wished", Level.WARN,
         lambda: with_wishes(one_walk(), footing=Footing.UNEVEN),
         lambda: with_wishes(one_walk(), footing=Footing.ROUGH),
         ROUGH, ROUGH),
    Case("ground_wished", Level.WARN,
         lambda: with_wishes(one_walk(), exposure=Exposure.NONE),
         lambda: with_wishes(one_walk(), exposure=Exposure.SOME),
         EDGES, EDGES),
    Case("busy_road", Level.WARN,
         lambda: with_wishes(one_walk(), novices=True), lambda: with_wishes(one_walk(), novices=True),
         busy(501.0), busy(500.0)),
    Case("alone", Level.WARN, lambda: one_walk(guests=1), lambda: one_walk(guests=2),
         stage(signal=Signal.NONE), stage(signal=Signal.NONE)),
    Case("water_and_food", Level.WARN, one_walk, one_walk, rules=replace(RULES, dry_s=9_000.0),
         good_library=stage(points=(StagePoint(4_500.0, PointKind.WATER, "Spring"),))),
    Case("rest_days_wished", Level.WARN,
         lambda: with_wishes(small_trip(), rest_days=2), lambda: with_wishes(small_trip(), rest_days=1)),
    Case("briefing", Level.WARN,
         lambda: small_trip(),
         lambda: small_trip(day("d1", walk("i1")), day("d2", Rest(id="i2"), briefing=True))),
    Case("minors", Level.STOP,
         lambda: with_guests(one_walk(), age=17), lambda: with_guests(one_walk(), age=18)),
    Case("newer_version", Level.NOTE, one_walk, one_walk, stage(version=2)),
    Case("newer_version", Level.WARN, one_walk, one_walk, stage(version=2, retired=True)),
    Case("heights_known", Level.WARN,
         lambda: small_trip(day("d1", walk("i1", "nowhere"), briefing=True)), one_walk),
    Case("heights_known", Level.WARN,
         lambda: small_trip(day("d1", walk("i1", cut_to_m=9_100.0), briefing=True)),
         lambda: small_trip(day("d1", walk("i1", cut_to_m=8_900.0), briefing=True))),
    Case("battery", Level.STOP, riders, riders,
         rules=replace(RULES, battery_stop_share=0.9, battery_reserve_share=0.95), good_library=()),
)  # fmt: skip


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case.check} {case.level.value}")
def test_what_triggers_a_check_and_what_does_not(case: Case) -> None:
    told = found(case.check, case.bad(), case.bad_library, case.rules)
    assert [each for each in told if each.level is case.level], told
    for each in told:
        assert str(each.says).rstrip().endswith((".", "!", ")"))
        assert each.source
    quiet_rules = RULES if case.check == "battery" else case.rules
    if case.check == "day_within_limits" and case.rules is not RULES:
        quiet_rules = replace(RULES, walking_limit_m=9_100.0)
        assert found(case.check, case.good(), (), quiet_rules) == []
        return
    left = found(case.check, case.good(), case.good_library, quiet_rules)
    assert not [each for each in left if each.level is case.level], left


@pytest.mark.parametrize(
    ("check", "trip", "library"),
    [
        ("stage_closed", one_walk, stage(closures=(Closure("05-08..05-10", ClosureLevel.AUTHORITY),))),
        ("minors", lambda: with_guests(one_walk(), age=12), ()),
    ],
)
def test_what_nobody_in_the_office_may_decide(
    check: str, trip: Callable[[], Trip], library: tuple[LibraryItem, ...]
) -> None:
    (told, *_) = found(check, trip(), library)
    assert not told.may_overrule


def test_what_nobody_has_said_is_unknown_and_neither_good_nor_bad() -> None:
    dateless = replace(one_walk(), start=None, month=5)
    (told,) = found(
        "stage_closed", dateless, stage(closures=(Closure("05-08..05-10", ClosureLevel.AUTHORITY),))
    )
    assert told.unknown
    (told,) = found(
        "ground_wished", with_wishes(one_walk(), footing=Footing.EVEN), ground(exposure=Exposure.NONE)
    )
    assert told.unknown
    (told,) = found("heights_known", small_trip(day("d1", walk("i1", "nowhere"), briefing=True)))
    assert told.unknown


def test_rest_days_are_offered_in_the_middle_of_a_trip_first() -> None:
    days = (day(f"d{number}", walk(f"i{number}")) for number in range(1, 8))
    (told,) = found("rest_days_wished", with_wishes(small_trip(*days), rest_days=1))
    assert [str(each.says) for each in told.fixes] == [
        f"A rest day after day {number}" for number in (3, 4, 2)
    ]


@pytest.mark.parametrize(
    ("check", "trip", "library", "says"),
    [
        ("rest_days_wished", lambda: with_wishes(with_dinner(), rest_days=1), (), "A rest day after day 1"),
        ("briefing", small_trip, (), "Briefing on day 1"),
        ("newer_version", one_walk, stage(version=2), "Take the newer version"),
        (
            "after_breakfast",
            lambda: small_trip(
                day("d1", walk("i1"), lodging="birch-house", briefing=True),
                day("d2", cycle("i2"), departs=time(7, 45), lodging="cedar-inn"),
            ),
            (),
            "Set out at 8:15",
        ),
    ],
)
def test_fixes_are_proved_to_settle_their_finding(
    check: str, trip: Callable[[], Trip], library: tuple[LibraryItem, ...], says: str
) -> None:
    given = trip()
    before = assessed(given, library, RULES)
    index = next(index for index, each in enumerate(before.findings) if each.check == check)
    inputs = Inputs(given, "v1", small_catalogue(*library), RULES, as_of=AS_OF)
    proved = settle(inputs, before)[index]
    assert says in [str(each.says) for each in proved]
    chosen = next(each for each in proved if str(each.says) == says)
    assert not [
        each
        for each in found(check, chosen.edit(given), library)
        if each.level is before.findings[index].level
    ]


def test_other_ways_between_the_same_places_are_offered() -> None:
    easier = replace(CLIMB, id="valley", name="Along the stream", from_place="birch", to_place="alder")
    shut = replace(CLIMB, closures=(Closure("05-08..05-10", ClosureLevel.ADVICE),))
    trip = one_walk()
    (told,) = found("stage_closed", trip, (easier, shut))
    (fix,) = [fix for fix in told.fixes if str(fix.says) == "Along the stream instead"]
    leg = fix.edit(trip).variants[0].days[0].legs()[0]
    assert (leg.stage.id, leg.backward) == ("valley", True)


def test_a_guest_alone_on_ground_nobody_described_is_held_against_the_signal() -> None:
    bare = stage(ways=(StageWay(way=Way.CYCLING),), signal=Signal.NONE)
    (told,) = [each for each in found("alone", one_walk(guests=1), bare) if each.level is Level.WARN]
    assert str(told.says).startswith("Guest 1 goes alone on Over the hill: no telephone signal.")


def test_edges_are_told_to_a_guest_alone() -> None:
    library = stage(ways=(StageWay(way=Way.WALKING, exposure=Exposure.EXPOSED),), signal=Signal.GOOD)
    (told,) = found("alone", one_walk(guests=1), library)
    assert ": exposed edges." in str(told.says)


def test_a_flight_keeps_its_date_when_the_trip_starts_later_and_that_is_told() -> None:
    trip = one_walk()
    assert trip.start is not None
    flight = Crossing(hub="alder", means=Means.FLIGHT, on=trip.start)
    assert flight.on is not None
    trip = edits.set_crossings(trip, arrivals=(flight,), departures=())
    assert [each for each in found("arrival_and_departure", trip) if each.unit == "days"] == []
    later = edits.set_start(trip, flight.on + timedelta(days=2))
    assert later.arrivals[0].on == flight.on
    (told,) = [each for each in found("arrival_and_departure", later) if each.unit == "days"]
    assert (told.level, told.figure, told.limit) == (Level.STOP, -1.0, 1.0)
    assert "but the first day is" in str(told.says)
    assert told.fixes[0].edit(later).start == trip.start
