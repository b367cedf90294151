"""Turns of lines whose turns are known: clean, wavering like a recorder, with hairpins, both ways round."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lacet.demo import demo_tracks
from lacet.documents.pack.turns import APART_M, compass, turns
from lacet.tracks.edit import join, reverse
from lacet.tracks.geodesy import length_m
from lacet.tracks.track import Track, track

METRES_PER_DEGREE = 111_120.0
BASE = (44.2, -24.6)
# A point a second at a walk, and errors that hang together for so many: 'common practice, no source'.
WALK_STEP_M = 1.4
HALF_A_MINUTE = 30.0


def along(
    corners: list[tuple[float, float]], step_m: float = 5.0, error_m: float = 0.0, seed: int = 0
) -> Track:
    """A line through corners (east, north) [m], its points with errors that fade over half a minute."""
    at = np.array(corners, dtype=np.float64)
    length = np.concatenate(((0.0,), np.cumsum(np.hypot(*np.diff(at, axis=0).T))))
    spots = np.arange(0.0, length[-1] + step_m / 2, step_m)
    points = np.array([np.interp(spots, length, at[:, axis]) for axis in (0, 1)])
    east, north = points + error_m * errors(len(spots), seed)
    latitude = BASE[0] + north / METRES_PER_DEGREE
    return track(latitude, BASE[1] + east / (METRES_PER_DEGREE * np.cos(np.radians(BASE[0]))))


def errors(count: int, seed: int) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
    """First-order Markov errors of unit size: e' = a e + sqrt(1 - a2) w, a = exp(-1/30)."""
    fresh = np.random.default_rng(seed).normal(size=(2, count))
    keeps = np.exp(-1.0 / HALF_A_MINUTE)
    for index in range(1, count):
        fresh[:, index] = keeps * fresh[:, index - 1] + np.sqrt(1 - keeps**2) * fresh[:, index]
    return fresh


def corner(right_deg: float) -> list[tuple[float, float]]:
    """500 m north, then 500 m onwards, turned."""
    angle = np.radians(right_deg)
    return [(0.0, 0.0), (0.0, 500.0), (500 * float(np.sin(angle)), 500 + 500 * float(np.cos(angle)))]


def stairs(count: int) -> list[tuple[float, float]]:
    """Right angles every 500 m, right and left in turn."""
    at = [(0.0, 0.0)]
    for index in range(count):
        east, north = at[-1]
        at.append((east, north + 500) if index % 2 == 0 else (east + 500, north))
    return at


def zigzag(count: int, wide_m: float) -> list[tuple[float, float]]:
    """A way north with so many hairpins in its middle."""
    at = [(0.0, 0.0), (0.0, 300.0)]
    for index in range(count):
        at.append((wide_m * (1 - index % 2), at[-1][1] + 25.0))
    return [*at, (at[-1][0], at[-1][1] + 400.0)]


@pytest.mark.parametrize("right_deg", [55.0, 75.0, 90.0, 120.0, 150.0, -55.0, -90.0, -135.0, -165.0])
def test_a_corner_is_told_where_it_is_and_how_far_it_turns(right_deg: float) -> None:
    (told,) = turns(along(corner(right_deg)))
    assert told.at_m == pytest.approx(500.0, abs=8.0)
    assert told.right_deg == pytest.approx(right_deg, abs=4.0)
    assert told.heading_deg == pytest.approx(right_deg % 360.0, abs=3.0)


@pytest.mark.parametrize("right_deg", [0.0, 15.0, 30.0, 40.0, -40.0])
def test_a_slight_bend_is_not_told(right_deg: float) -> None:
    assert turns(along(corner(right_deg))) == ()


def test_a_wide_bend_is_not_told() -> None:
    """A quarter of a circle of 300 m: nobody takes that for a turn."""
    angle = np.linspace(0, np.pi / 2, 60)
    curve = list(zip((300 - 300 * np.cos(angle)).tolist(), (300 * np.sin(angle)).tolist(), strict=True))
    assert turns(along(curve)) == ()


@pytest.mark.parametrize("seed", range(4))
def test_a_receivers_errors_on_a_straight_way_are_not_told(seed: int) -> None:
    assert turns(along([(0.0, 0.0), (0.0, 10_000.0)], WALK_STEP_M, 5.0, seed)) == ()


def test_turns_are_found_under_a_receivers_errors_and_on_the_right_side() -> None:
    found = wanted = false = 0
    for seed in range(3):
        line = along(stairs(20), WALK_STEP_M, 5.0, seed)
        longer = length_m(line) / 10_000
        told = turns(line)
        corners = [500.0 * index for index in range(1, 20)]
        for index, at_m in enumerate(corners):
            near = [turn for turn in told if abs(turn.at_m / longer - at_m) < 40]
            wanted += 1
            found += any((turn.right_deg > 0) == (index % 2 == 0) for turn in near)
        false += sum(min(abs(turn.at_m / longer - at_m) for at_m in corners) > 60 for turn in told)
    assert found >= 0.9 * wanted
    assert false == 0


@pytest.mark.parametrize(("count", "wide_m"), [(6, 80.0), (4, 120.0), (9, 70.0)])
def test_hairpins_one_after_the_other_are_told_once(count: int, wide_m: float) -> None:
    told = turns(along(zigzag(count, wide_m)))
    hairpins = [turn for turn in told if turn.until_m is not None]
    assert len(hairpins) == 1
    assert hairpins[0].says == "Follow the hairpins"
    assert compass(hairpins[0].heading_deg) in {"north", "north-east", "north-west"}
    assert hairpins[0].until_m is not None
    assert hairpins[0].until_m - hairpins[0].at_m > (count - 3) * wide_m
    assert len(told) <= 3


def test_two_hairpins_are_two_turns() -> None:
    told = turns(along([(0.0, 0.0), (0.0, 500.0), (160.0, 330.0), (160.0, 830.0)]))
    assert [turn.says for turn in told] == ["Turn sharply right", "Turn sharply left"]


def test_a_wiggle_of_a_few_metres_is_nothing() -> None:
    wiggle = [(8.0 * (index % 2), 20.0 * index) for index in range(60)]
    assert turns(along(wiggle)) == ()


@pytest.mark.parametrize(
    "line", [along([(0.0, 0.0), (0.0, 80.0)]), track([44.2], [-24.6]), track([44.2] * 3, [-24.6] * 3)]
)
def test_a_line_too_short_to_turn_has_no_turns(line: Track) -> None:
    assert turns(line) == ()


def test_a_leap_between_two_recordings_is_no_turn() -> None:
    first = along([(0.0, 0.0), (0.0, 600.0)])
    second = along([(400.0, 600.0), (400.0, 1200.0)])
    both = join((first, second))
    assert len(both.segment_start) == 2
    assert turns(both) == ()
    bent = join((first, along([(400.0, 600.0), (400.0, 1200.0), (900.0, 1200.0)])))
    assert [round(turn.at_m, -1) for turn in turns(bent)] == [1200.0]


def test_the_demos_stages_get_a_handful_of_turns_an_hour() -> None:
    """A judgement, no source: fewer than two a kilometre each, about one on the whole."""
    lines = [line for line in demo_tracks().values() if length_m(line) > 3_000]
    counts = np.array([len(turns(line)) for line in lines])
    lengths_km = np.array([length_m(line) / 1000 for line in lines])
    assert (counts / lengths_km).max() < 2.2
    assert 0.5 < counts.sum() / lengths_km.sum() < 1.5


bends = st.lists(st.tuples(st.floats(-150, 150), st.floats(170, 500)), min_size=1, max_size=8)


@given(bends)
def test_a_line_turned_round_turns_at_the_same_places_to_the_other_side(
    steps: list[tuple[float, float]],
) -> None:
    at, heading = [(0.0, 0.0), (0.0, 200.0)], 0.0
    for right_deg, length in steps:
        heading += np.radians(right_deg)
        at.append((at[-1][0] + length * np.sin(heading), at[-1][1] + length * np.cos(heading)))
    line = along(at)
    told, back = turns(line), turns(reverse(line))[::-1]
    for turn, following in pairwise(told):
        assert following.at_m - (turn.until_m or turn.at_m) >= APART_M
    assert len(told) == len(back)
    for turn, other in zip(told, back, strict=True):
        assert length_m(line) - other.at_m == pytest.approx(turn.until_m or turn.at_m, abs=3.0)
        if turn.until_m is None:
            assert other.right_deg == pytest.approx(-turn.right_deg, abs=2.0)
