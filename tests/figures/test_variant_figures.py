"""Figures of a variant in a library small enough to reckon by hand."""

from dataclasses import replace
from datetime import time
from typing import Any

import pytest

from lacet.figures.leg import surfaces_along
from lacet.figures.values import VariantFigures
from lacet.figures.variant import follow, variant_figures
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import Ref, Stage, SurfaceStretch
from lacet.trip.trip import Alternative, Hire, Trip
from lacet.trip.words import Reason, Surface, Way
from tests.small_library import cycle, day, items, ride, small_catalogue, small_trip, walk


def figures_of(trip: Trip) -> VariantFigures:
    catalogue, variant = small_catalogue(), trip.variants[0]
    return variant_figures(trip, variant, follow(trip, variant, catalogue), catalogue, HouseRules())


def test_a_walk_a_rest_and_a_ride_add_up() -> None:
    found = figures_of(small_trip())
    assert [found_day.rest for found_day in found.days] == [False, True, False]
    assert found.totals.walking_m == pytest.approx(9_000, rel=2e-3)
    assert found.totals.cycling_m == pytest.approx(30_000, rel=2e-3)
    assert found.totals.ascent_m == pytest.approx(300, abs=1)
    assert found.totals.nights == 3
    assert found.totals.unknown_days == 0


def test_walking_time_is_that_of_din_33466() -> None:
    """DIN 33466 as its published descriptions quote it: 4 km/h, 300 m up an hour, larger plus half smaller.

    9 km take 2.25 h, 300 m up take 1 h: 2.25 + 1 / 2 = 2.75 h.
    """
    group = figures_of(small_trip()).days[0].group
    assert group is not None
    assert group.moving_s == pytest.approx(2.75 * 3600, rel=2e-3)


def test_a_group_moves_at_the_pace_of_its_slowest() -> None:
    trip = small_trip()
    slow = replace(trip.party.travellers[1], pace=1.5)
    party = replace(trip.party, travellers=(trip.party.travellers[0], slow))
    quick, both = figures_of(trip), figures_of(replace(trip, party=party))
    assert both.totals.moving_s > quick.totals.moving_s
    assert both.days[0].groups[0].moving_s == pytest.approx(1.5 * quick.days[0].groups[0].moving_s)
    own = {totals.traveller: totals.moving_s for totals in both.travellers}
    assert own["t1"] < own["t2"]


def test_parted_ways_make_two_groups_and_the_longer_leads() -> None:
    parted = day("d1", walk("i1", travellers=("t1",)), cycle("i2", "climb", travellers=("t2",)))
    found = figures_of(small_trip(parted)).days[0]
    assert [group.travellers for group in found.groups] == [("t1",), ("t2",)]
    assert found.groups[found.lead].travellers == ("t1",)
    assert [group.ways for group in found.groups] == [(Way.WALKING,), (Way.CYCLING,)]


def test_stops_are_part_of_the_day_but_not_of_moving_time() -> None:
    trip = small_trip(day("d1", walk("i1"), departs=time(9, 30), stops_s=3600.0))
    group = figures_of(trip).days[0].groups[0]
    assert group.departs_s == 9.5 * 3600
    assert group.done_s == pytest.approx(9.5 * 3600 + group.moving_s + 3600)


def test_the_arrival_day_starts_after_the_crossing() -> None:
    trip = small_trip(day("d1", ride("i0", "alder", "birch", minutes=20)))
    group = figures_of(trip).days[0].groups[0]
    assert group.departs_s == 9 * 3600 + 1800
    assert group.done_s == 9 * 3600 + 1800 + 1200


def test_going_back_swaps_climb_and_descent() -> None:
    out = figures_of(small_trip(day("d1", walk("i1")))).days[0].groups[0]
    back = figures_of(small_trip(day("d1", walk("i1", backward=True)))).days[0].groups[0]
    assert (out.ascent_m, out.descent_m) == (back.descent_m, back.ascent_m)
    assert (back.start_place, back.end_place) == ("alder", "alder")


def test_a_cut_leg_is_as_long_as_the_cut() -> None:
    group = (
        figures_of(small_trip(day("d1", walk("i1", cut_from_m=1_000.0, cut_to_m=4_000.0)))).days[0].groups[0]
    )
    assert group.distance_m == pytest.approx(3_000, abs=1)
    assert group.ascent_m == pytest.approx(100, abs=2)
    assert group.legs[0].from_place is None


def test_a_battery_is_charged_only_where_the_house_offers_it() -> None:
    hires = (Hire(traveller="t1", bike=Ref("e-medium")),)

    def second_day_start(lodging: str) -> float:
        days = (
            day("d1", cycle("i1", "climb"), lodging=lodging),
            day("d2", cycle("i2"), lodging="cedar-inn"),
        )
        legs = figures_of(small_trip(*days, hires=hires)).days[1].groups[0].legs
        return legs[0].batteries[0].start_share

    assert second_day_start("birch-house") == 1.0
    assert second_day_start("cedar-inn") < 1.0


def test_a_stage_the_library_lacks_leaves_the_day_unknown() -> None:
    found = figures_of(small_trip(day("d1", walk("i1", "nowhere"))))
    assert found.days[0].groups[0].missing == ("nowhere",)
    assert found.totals.unknown_days == 1


def test_alternatives_are_reckoned_outside_the_totals() -> None:
    other = Alternative(id="a1", reason=Reason.SHORTER, items=(walk("i9", cut_to_m=3_000.0),))
    found = figures_of(small_trip(day("d1", walk("i1"), alternatives=(other,))))
    assert found.days[0].alternatives[0].groups[0].distance_m == pytest.approx(3_000, abs=1)
    assert found.totals.walking_m == pytest.approx(9_000, rel=2e-3)


def test_daylight_is_known_once_the_month_is() -> None:
    dated = figures_of(small_trip()).days[0].sunset_s
    monthly = figures_of(replace(small_trip(), start=None, month=5)).days[0].sunset_s
    undated = figures_of(replace(small_trip(), start=None)).days[0].sunset_s
    assert dated is not None
    assert monthly is not None
    assert abs(dated - monthly) < 900
    assert undated is None


def test_the_same_inputs_give_equal_figures() -> None:
    assert figures_of(small_trip()) == figures_of(small_trip())


def test_a_ride_leaves_when_the_group_is_there_and_waits_for_its_hour() -> None:
    def ride_at(departs: time) -> tuple[float | None, ...]:
        walked = walk("i1", "climb")
        taxi = ride("i2", "birch", "cedar", minutes=30, departs=departs)
        group = figures_of(small_trip(day("d1", walked, taxi, departs=time(9, 0)))).days[0].groups[0]
        return group.steps[0].ends_s, group.steps[1].starts_s, group.steps[1].ends_s

    reached, starts, ends = ride_at(time(9, 30))
    assert reached is not None
    assert reached > 11 * 3600
    assert (starts, ends) == (reached, reached + 1800)
    assert ride_at(time(18, 0))[1:] == (18 * 3600, 18.5 * 3600)


def paved_below() -> Stage:
    """The climb of 9 km: a third on asphalt from Alder, then gravel, the last 2 km a path."""
    stage = next(item for item in items() if isinstance(item, Stage) and item.id == "climb")
    surfaces = (
        SurfaceStretch(0.0, 3_000.0, Surface.ASPHALT),
        SurfaceStretch(3_000.0, 7_000.0, Surface.COMPACTED_GRAVEL),
        SurfaceStretch(7_000.0, 9_000.0, Surface.PATH),
    )
    return replace(stage, ways=tuple(replace(way, surfaces=surfaces) for way in stage.ways))


def surfaces_of(**leg: Any) -> list[tuple[float, float, Surface]]:
    length_m = leg.get("cut_to_m", 9_000.0) - leg.get("cut_from_m", 0.0)
    found = surfaces_along(paved_below(), cycle("i1", "climb", **leg), length_m)
    return [(each.from_m, each.to_m, each.surface) for each in found]


def test_the_surfaces_of_a_leg_lie_as_it_is_travelled() -> None:
    asphalt, gravel, path = Surface.ASPHALT, Surface.COMPACTED_GRAVEL, Surface.PATH
    assert surfaces_of() == [(0, 3_000, asphalt), (3_000, 7_000, gravel), (7_000, 9_000, path)]
    assert surfaces_of(backward=True) == [(0, 2_000, path), (2_000, 6_000, gravel), (6_000, 9_000, asphalt)]
    cut = {"cut_from_m": 1_000.0, "cut_to_m": 8_000.0}
    assert surfaces_of(**cut) == [(0, 2_000, asphalt), (2_000, 6_000, gravel), (6_000, 7_000, path)]
    assert surfaces_of(backward=True, **cut) == [
        (0, 1_000, path),
        (1_000, 5_000, gravel),
        (5_000, 7_000, asphalt),
    ]
    assert surfaces_of(cut_from_m=3_000.0, cut_to_m=7_000.0) == [(0, 4_000, gravel)]


def test_a_mixed_day_has_both_ways() -> None:
    mixed = figures_of(small_trip(day("d1", walk("i1"), cycle("i2")))).days[0].group
    assert mixed is not None
    assert mixed.ways == (Way.WALKING, Way.CYCLING)
