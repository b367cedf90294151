"""What is drawn of a variant, worked out without Qt."""

import os
import subprocess
import sys
from datetime import date

import pytest

from lacet.assess import assess
from lacet.inputs import Inputs
from lacet.service.map_scene import (
    Scene,
    along_at,
    bounds_of,
    drawn_line,
    ground_places,
    scene,
    spot_position,
)
from lacet.service.shown import Shown
from lacet.trip.catalogue import Catalogue
from lacet.trip.commitments import NO_COMMITMENTS
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import Ref
from lacet.trip.trip import Day, Leg, Rest, Trip
from lacet.trip.words import Way
from tests.small_library import BASE, METRES_PER_DEGREE, cycle, day, ride, small_catalogue, small_trip, walk

TODAY = date(2026, 11, 25)
CATALOGUE = small_catalogue()


def shown(trip: Trip, catalogue: Catalogue = CATALOGUE) -> Shown:
    found = assess(Inputs(trip, "v1", catalogue, HouseRules(), NO_COMMITMENTS, as_of=TODAY))
    return Shown(trip, "v1", found)


def drawn(*days: Day, selected: int | None = None, guests: int = 2) -> Scene:
    return scene(shown(small_trip(*days, guests=guests)), CATALOGUE, selected)


def north_m(latitude_deg: float) -> float:
    return (latitude_deg - BASE[0]) * METRES_PER_DEGREE


def test_each_leg_is_drawn_by_its_way_with_the_number_of_its_day() -> None:
    legs = drawn().legs
    assert [(leg.day, leg.group, leg.leg, leg.way) for leg in legs] == [
        (0, 0, 0, Way.WALKING.value),
        (2, 0, 0, Way.CYCLING.value),
    ]
    assert [leg.name for leg in legs] == ["Day 1: Over the hill", "Day 3: The long lane"]


def test_days_that_end_at_one_place_share_a_mark() -> None:
    assert [(stop.name, stop.days) for stop in drawn().stops] == [("Birch", (0, 1)), ("Cedar", (2,))]


def test_where_the_trip_begins_is_marked_without_a_number() -> None:
    assert [mark.name for mark in drawn().waypoints] == ["Alder"]


def test_each_house_is_marked_once() -> None:
    assert [mark.name for mark in drawn().houses] == ["Birch House", "Cedar Inn"]


def test_the_whole_trip_lies_within_the_bounds() -> None:
    bounds = drawn().bounds
    assert bounds is not None
    (south, west), (north, east) = bounds
    assert north_m(south) == pytest.approx(0.0, abs=2.0)
    assert north_m(north) == pytest.approx(39_000.0, abs=2.0)
    assert west == east == BASE[1]


def test_a_straight_line_is_drawn_by_its_two_ends() -> None:
    (key,) = {leg.line for leg in drawn(day("d1", walk())).legs}
    (segment,) = drawn(day("d1", walk())).lines[key]
    assert len(segment) == 2


def test_a_leg_backwards_starts_at_the_other_end() -> None:
    there, back = drawn(day("d1", walk()), day("d2", walk("i2", backward=True))).legs
    lines = drawn(day("d1", walk()), day("d2", walk("i2", backward=True))).lines
    assert there.line != back.line
    assert lines[there.line][0] == lines[back.line][0][::-1]


def test_a_cut_leg_is_drawn_between_its_cuts() -> None:
    made = drawn(day("d1", walk(cut_from_m=1_000.0, cut_to_m=4_000.0)))
    ((segment,),) = made.lines.values()
    assert [north_m(at[0]) for at in segment] == pytest.approx([1_000.0, 4_000.0], abs=12.0)


def test_a_cut_without_an_end_runs_to_the_end_of_the_stage() -> None:
    made = drawn(day("d1", walk(cut_from_m=1_000.0)))
    ((segment,),) = made.lines.values()
    assert north_m(segment[-1][0]) == pytest.approx(9_000.0, abs=2.0)


def test_a_leg_two_groups_share_is_drawn_once() -> None:
    made = drawn(day("d1", walk("i1"), cycle("i2", travellers=("t1",))))
    assert [(leg.group, leg.leg) for leg in made.legs] == [(0, 0), (0, 1)]


def test_a_transfer_is_drawn_from_place_to_place() -> None:
    (one,) = drawn(day("d1", ride("r", "alder", "cedar"))).rides
    assert [north_m(at[0]) for at in one.ends] == pytest.approx([0.0, 39_000.0])


def test_a_stage_the_library_lost_is_left_out() -> None:
    made = drawn(day("d1", Leg(id="i1", stage=Ref("gone"), way=Way.WALKING)), day("d2", walk("i2")))
    assert [leg.day for leg in made.legs] == [1]


def test_a_trip_without_days_has_no_bounds() -> None:
    made = drawn(day("d1", Rest(id="r")))
    assert made.legs == ()
    assert bounds_of([]) is None


def test_a_spot_lies_as_far_along_as_it_says_and_back_again() -> None:
    now = shown(small_trip())
    at = spot_position(now, CATALOGUE, 0, 0, 0, 4_500.0)
    assert at is not None
    assert north_m(at[0]) == pytest.approx(4_500.0, abs=15.0)
    along_m = along_at(now, CATALOGUE, 0, 0, 0, at)
    assert along_m == pytest.approx(4_500.0, abs=0.1)


@pytest.mark.parametrize(("day", "group", "leg"), [(9, 0, 0), (0, 5, 0), (0, 0, 3), (1, 0, 0), (-1, 0, 0)])
def test_a_spot_on_a_leg_that_is_gone_lies_nowhere(day: int, group: int, leg: int) -> None:
    now = shown(small_trip())
    assert spot_position(now, CATALOGUE, day, group, leg, 10.0) is None
    assert along_at(now, CATALOGUE, day, group, leg, BASE) is None


def test_a_line_is_thinned_only_once() -> None:
    track = CATALOGUE.tracks["climb"]
    assert drawn_line(track) is drawn_line(track)


def test_the_ground_names_every_place() -> None:
    assert [mark.name for mark in ground_places(CATALOGUE)] == ["Alder", "Birch", "Cedar"]


def test_scene_relief_and_page_need_no_qt() -> None:
    code = (
        "import sys, lacet.service.map_scene, lacet.tracks.relief, lacet.window.map.page;"
        "sys.exit(any(name.startswith('PySide6') for name in sys.modules))"
    )
    variables = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    assert subprocess.run([sys.executable, "-c", code], env=variables, check=False).returncode == 0
