"""Every limit, met exactly and missed by a hair: the figure a check tells is the one it compares."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, time
from typing import Any

import pytest

from lacet.assess import assess
from lacet.inputs import Inputs
from lacet.trip.finding import Finding, Level
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import Ref, Stage, StageWay, TrafficStretch
from lacet.trip.party import Limits, Wishes
from lacet.trip.trip import Crossing, Hire, Trip
from lacet.trip.words import Exposure, Footing, Means, Traffic, Way
from tests.small_library import cycle, day, items, ride, small_catalogue, small_trip, walk

AS_OF = date(2026, 11, 25)
TIGHT = HouseRules(
    walking_limit_m=1_000.0,
    cycling_limit_m=1_000.0,
    ebike_limit_m=1_000.0,
    walking_ascent_limit_m=10.0,
    cycling_ascent_limit_m=10.0,
    ebike_ascent_limit_m=10.0,
    moving_limit_s=1_800.0,
    sunset_stop_s=1.0,
    sunset_warn_s=20 * 3600.0,
    breakfast_s=4 * 3600.0,
    before_flight_stop_s=1.0,
    before_flight_warn_s=6 * 3600.0,
    before_long_haul_s=6 * 3600.0,
    before_boat_stop_s=1.0,
    before_boat_warn_s=6 * 3600.0,
    busy_road_m=0.0,
    busy_road_walking_m=0.0,
    dry_s=60.0,
    hungry_s=60.0,
    dry_cycling_s=60.0,
    hungry_cycling_s=60.0,
    battery_reserve_share=1.0,
    battery_stop_share=0.0,
)
"""Limits under which everything is told, so that each can be met from there."""
HAIR = 1e-6


def with_rule(name: str, value: float, rules: HouseRules = TIGHT) -> HouseRules:
    changed: dict[str, Any] = {name: value}
    return replace(rules, **changed)


def busy_climb() -> Stage:
    traffic = (TrafficStretch(1_000.0, 3_000.0, Traffic.BUSY), TrafficStretch(5_000.0, 6_000.0, Traffic.BUSY))
    ways = tuple(
        StageWay(way=way, footing=Footing.EVEN, exposure=Exposure.NONE, traffic=traffic) for way in Way
    )
    climb = next(item for item in items() if isinstance(item, Stage) and item.id == "climb")
    return replace(climb, ways=ways)


def found(check: str, unit: str, trip: Trip, rules: HouseRules) -> list[Finding]:
    told = assess(Inputs(trip, "v1", small_catalogue(busy_climb()), rules, as_of=AS_OF)).findings
    return [each for each in told if each.check == check and each.unit == unit and not each.unknown]


def on_foot() -> Trip:
    return small_trip(day("d1", walk("i1"), briefing=True))


def by_bike() -> Trip:
    return small_trip(day("d1", cycle("i1", "climb"), briefing=True))


def by_e_bike() -> Trip:
    hires = (Hire(traveller="t1", bike=Ref("e-medium")), Hire(traveller="t2", bike=Ref("e-medium")))
    return small_trip(day("d1", cycle("i1", "climb"), briefing=True), hires=hires)


def novices(trip: Trip) -> Trip:
    return replace(trip, party=replace(trip.party, wishes=Wishes(novices=True)))


def second_day() -> Trip:
    return small_trip(day("d1", walk("i1"), lodging="birch-house"), day("d2", walk("i2", backward=True)))


def leaving(means: Means, *, long_haul: bool = False) -> Trip:
    leave = Crossing(hub="alder", means=means, at=time(13, 0), long_haul=long_haul)
    last = day("d1", ride("i1", "birch", "alder", minutes=60), departs=time(10, 0))
    return small_trip(last, arrivals=(), departures=(leave,))


LIMITS = (
    ("day_within_limits", "m", "walking_limit_m", on_foot),
    ("day_within_limits", "m", "cycling_limit_m", by_bike),
    ("day_within_limits", "m", "ebike_limit_m", by_e_bike),
    ("day_within_limits", "m of climb", "walking_ascent_limit_m", on_foot),
    ("day_within_limits", "m of climb", "cycling_ascent_limit_m", by_bike),
    ("day_within_limits", "m of climb", "ebike_ascent_limit_m", by_e_bike),
    ("day_within_limits", "s", "moving_limit_s", on_foot),
    ("done_by_sunset", "s", "sunset_warn_s", on_foot),
    ("after_breakfast", "s", "breakfast_s", second_day),
    ("arrival_and_departure", "s", "before_flight_warn_s", lambda: leaving(Means.FLIGHT)),
    ("arrival_and_departure", "s", "before_long_haul_s", lambda: leaving(Means.FLIGHT, long_haul=True)),
    ("arrival_and_departure", "s", "before_boat_warn_s", lambda: leaving(Means.FERRY)),
    ("arrival_and_departure", "s", "before_boat_warn_s", lambda: leaving(Means.TRAIN)),
    ("busy_road", "m", "busy_road_walking_m", lambda: novices(on_foot())),
    ("busy_road", "m", "busy_road_m", lambda: novices(by_bike())),
    ("battery", "share", "battery_reserve_share", by_e_bike),
)


@pytest.mark.parametrize(
    ("check", "unit", "rule", "trip"), LIMITS, ids=lambda each: each if isinstance(each, str) else ""
)
def test_a_figure_exactly_at_its_limit_is_let_be_and_one_beyond_it_is_told(
    check: str, unit: str, rule: str, trip: Callable[[], Trip]
) -> None:
    told = found(check, unit, trip(), TIGHT)
    assert told
    figure = told[0].figure
    assert figure is not None
    assert told[0].limit == getattr(TIGHT, rule)
    assert found(check, unit, trip(), with_rule(rule, figure)) == []
    beyond = figure - HAIR if told[0].worse_is_more else figure + HAIR
    again = found(check, unit, trip(), with_rule(rule, beyond))
    assert [each.subject for each in again] == [each.subject for each in told]


STOPS = (
    ("done_by_sunset", "s", "sunset_stop_s", on_foot),
    ("arrival_and_departure", "s", "before_flight_stop_s", lambda: leaving(Means.FLIGHT)),
    ("arrival_and_departure", "s", "before_boat_stop_s", lambda: leaving(Means.FERRY)),
    ("battery", "share", "battery_stop_share", by_e_bike),
)


@pytest.mark.parametrize(
    ("check", "unit", "rule", "trip"), STOPS, ids=lambda each: each if isinstance(each, str) else ""
)
def test_a_warning_exactly_at_the_stop_stays_one_and_a_hair_beyond_is_a_stop(
    check: str, unit: str, rule: str, trip: Callable[[], Trip]
) -> None:
    (warned, *_) = found(check, unit, trip(), TIGHT)
    assert warned.level is Level.WARN
    assert warned.figure is not None
    (at, *_) = found(check, unit, trip(), with_rule(rule, warned.figure))
    assert at.level is Level.WARN
    (beyond, *_) = found(check, unit, trip(), with_rule(rule, warned.figure + HAIR))
    assert (beyond.level, beyond.limit) == (Level.STOP, warned.figure + HAIR)


@pytest.mark.parametrize("kind", ["dry", "hungry"])
@pytest.mark.parametrize(("suffix", "trip"), [("_s", on_foot), ("_cycling_s", by_bike)])
def test_water_and_food_have_a_limit_of_their_own_by_way(
    kind: str, suffix: str, trip: Callable[[], Trip]
) -> None:
    def told(rules: HouseRules) -> list[Finding]:
        about = "water" if kind == "dry" else "food"
        return [each for each in found("water_and_food", "s", trip(), rules) if each.code == about]

    (first,) = told(TIGHT)
    assert first.figure is not None
    assert told(with_rule(kind + suffix, first.figure)) == []
    assert told(with_rule(kind + suffix, first.figure - HAIR))


def test_busy_road_counts_what_lies_within_the_cut() -> None:
    """Busy from 1 to 3 km and from 5 to 6; the leg runs from 2 to 5.5 km: 1.5 km of it."""
    part = novices(small_trip(day("d1", walk("i1", cut_from_m=2_000.0, cut_to_m=5_500.0))))
    (told,) = found("busy_road", "m", part, TIGHT)
    assert told.figure == pytest.approx(1_500.0, abs=5.0)


def test_a_guests_own_limit_leads_and_names_its_source() -> None:
    trip = on_foot()
    first, second = trip.party.travellers
    own = replace(first, limits=Limits(walking_m=0.0))
    given = replace(trip, party=replace(trip.party, travellers=(own, second)))
    (told,) = found("day_within_limits", "m", given, HouseRules())
    assert (told.level, told.source, told.limit) == (Level.STOP, "the guest's own wish", 0.0)


def test_far_over_the_houses_limit_is_a_stop() -> None:
    """A quarter over (`far_over_share`) may still be promised, more may not."""
    (told,) = found("day_within_limits", "m", on_foot(), TIGHT)
    figure = told.figure or 0.0
    for limit_m, level in ((figure / 1.25 + 0.1, Level.WARN), (figure / 1.25 - 0.1, Level.STOP)):
        (told,) = found("day_within_limits", "m", on_foot(), replace(TIGHT, walking_limit_m=limit_m))
        assert told.level is level


@pytest.mark.parametrize(("share", "count"), [(0.0, 1), (HAIR, 0)])
def test_two_days_count_as_hard_from_the_share_on(share: float, count: int) -> None:
    def told(rules: HouseRules) -> list[Finding]:
        return [
            each for each in found("hard_days", "share", second_day(), rules) if each.code == "two_on_end"
        ]

    rules = replace(TIGHT, walking_limit_m=9_000.0, walking_ascent_limit_m=4_000.0, moving_limit_s=86_400.0)
    (both,) = told(replace(rules, hard_day_share=0.0))
    assert both.figure == pytest.approx(1.0, abs=1e-3)
    assert len(told(replace(rules, hard_day_share=(both.figure or 0.0) + share))) == count


def test_the_hardest_day_first_is_told_and_an_easier_one_first_is_not() -> None:
    rules = replace(HouseRules(), walking_limit_m=10_000.0)
    short = walk("i1", cut_to_m=4_000.0)
    hard_first = small_trip(day("d1", walk("i1")), day("d2", replace(short, id="i2")))
    easy_first = small_trip(day("d1", short), day("d2", walk("i2")))
    assert [each.code for each in found("hard_days", "share", hard_first, rules)] == ["hardest_first"]
    assert found("hard_days", "share", easy_first, rules) == []


def test_a_limit_says_whose_it_is_and_in_what_it_is_measured() -> None:
    def says(unit: str, rules: HouseRules, **limits: float) -> str:
        trip = on_foot()
        guests = tuple(replace(each, limits=Limits(**limits)) for each in trip.party.travellers)
        given = replace(trip, party=replace(trip.party, travellers=guests))
        (told,) = found("day_within_limits", unit, given, rules)
        return str(told.says)

    house = replace(HouseRules(), walking_limit_m=8_000.0, walking_ascent_limit_m=250.0)
    assert "9.0 km" in says("m", house)
    assert "the office's limit is 8.0 km." in says("m", house)
    assert "300 m" in says("m of climb", house)
    assert "the office's limit is 250 m." in says("m of climb", house)
    assert "their own limit is 7.0 km." in says("m", HouseRules(), walking_m=7_000.0)
