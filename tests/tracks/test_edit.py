"""Cutting, joining, turning, simplifying, and finding places along a track."""

from __future__ import annotations

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given
from hypothesis import strategies as st

from lacet.tracks import edit
from lacet.tracks.geodesy import cumulative_m, length_m
from lacet.tracks.packing import pack, unpack
from lacet.tracks.profile import profile
from lacet.tracks.track import Track, track
from lacet.trip.errors import LacetError
from tests.tracks.lines import northward, wandering


def equal(a: Track, b: Track) -> bool:
    return (
        np.array_equal(a.latitude_deg, b.latitude_deg)
        and np.array_equal(a.longitude_deg, b.longitude_deg)
        and np.array_equal(a.height_m, b.height_m, equal_nan=True)
        and np.array_equal(a.segment_start, b.segment_start)
    )


def broken() -> Track:
    """Two segments of 2 km with 1 km between them."""
    along = np.array((0.0, 1_000, 2_000, 3_000, 4_000, 5_000))
    line = northward(along, along / 10)
    return track(line.latitude_deg, line.longitude_deg, line.height_m, (0, 3))


@given(st.integers(0, 2_000), st.floats(0.01, 0.99))
def test_two_parts_are_as_long_as_the_whole(seed: int, share: float) -> None:
    line = wandering(seed, 60)
    length = length_m(line)
    first, second = edit.cut(line, 0, share * length), edit.cut(line, share * length, length)
    assert length_m(first) == pytest.approx(share * length, rel=1e-7)
    assert length_m(first) + length_m(second) == pytest.approx(length, rel=1e-9)
    assert first.height_m[-1] == second.height_m[0]


def test_the_whole_cut_is_the_track() -> None:
    line = broken()
    assert equal(edit.cut(line, 0, length_m(line)), line)


def test_a_cut_makes_new_ends_with_heights_between() -> None:
    part = edit.cut(broken(), 250, 1_500)
    assert part.height_m.tolist() == pytest.approx([25, 100, 150], abs=0.05)
    assert length_m(part) == pytest.approx(1_250, rel=1e-7)


def test_a_cut_keeps_the_gap_and_begins_behind_or_before_it() -> None:
    line = broken()
    middle = float(cumulative_m(line)[2])
    assert edit.cut(line, middle - 500, middle + 500).segment_start.tolist() == [0, 2]
    assert edit.cut(line, 0, middle).height_m.tolist() == [0, 100, 200]
    assert edit.cut(line, middle, length_m(line)).height_m.tolist() == [300, 400, 500]


@pytest.mark.parametrize(
    ("from_m", "to_m"), [(-5, 100), (0, 9_000), (100, 100), (300, 200), (float("nan"), 5)]
)
def test_a_cut_outside_the_track_is_refused_with_its_figures(from_m: float, to_m: float) -> None:
    with pytest.raises(edit.CutOutside, match=r"doesn't lie within a track of 4\.00 km") as caught:
        edit.cut(broken(), from_m, to_m)
    assert caught.value.length_m == pytest.approx(4_000, rel=1e-3)


def test_half_a_metre_beyond_an_end_is_the_end() -> None:
    line = broken()
    assert equal(edit.cut(line, -0.4, length_m(line) + 0.4), line)


def test_tracks_that_meet_are_joined_without_a_gap() -> None:
    line = wandering(1, 50)
    length = length_m(line)
    joined = edit.join([edit.cut(line, 0, length / 2), edit.cut(line, length / 2, length)])
    assert joined.segment_start.tolist() == [0]
    assert length_m(joined) == pytest.approx(length, rel=1e-9)
    assert profile(joined).ascent_m == pytest.approx(profile(line).ascent_m, rel=1e-6)


def test_tracks_far_apart_are_joined_with_a_gap() -> None:
    joined = edit.join([broken(), wandering(1, 10), broken()])
    assert joined.segment_start.tolist() == [0, 3, 6, 16, 19]
    assert length_m(joined) == pytest.approx(2 * length_m(broken()) + length_m(wandering(1, 10)))


def test_nothing_cannot_be_joined() -> None:
    with pytest.raises(LacetError, match="at least one track"):
        edit.join([])


def test_closing_gaps_makes_one_segment() -> None:
    assert length_m(edit.close_gaps(broken())) == pytest.approx(5_000, rel=1e-3)


@given(st.integers(0, 1_000))
def test_turning_twice_changes_nothing(seed: int) -> None:
    line = edit.join([wandering(seed, 20), broken()])
    assert equal(edit.reverse(edit.reverse(line)), line)
    assert length_m(edit.reverse(line)) == pytest.approx(length_m(line), rel=1e-12)


def test_a_simplified_line_stays_within_its_tolerance() -> None:
    line = wandering(4, 1_500)
    thin = edit.simplify(line, 15.0)
    assert len(thin) < len(line) / 3
    offsets = [
        edit.nearest(thin, latitude, longitude)[1]
        for latitude, longitude in zip(line.latitude_deg[::10], line.longitude_deg[::10], strict=True)
    ]
    assert max(offsets) <= 15.01


def test_simplifying_keeps_ends_heights_and_segments() -> None:
    thin = edit.simplify(broken(), 1.0)
    assert thin.height_m.tolist() == [0, 200, 300, 500]
    assert thin.segment_start.tolist() == [0, 2]
    assert equal(edit.simplify(track([1.0], [1.0]), 5.0), track([1.0], [1.0]))


def test_simplifying_across_the_date_line() -> None:
    line = track([-16.8] * 5, [179.98, 179.99, -180.0, -179.99, -179.98])
    thin = edit.simplify(line, 5.0)
    assert thin.longitude_deg.tolist() == [179.98, -179.98]


def test_the_nearest_place_of_a_line() -> None:
    # 300 m east of a point 1 234 m along.
    place = edit.position_at(broken(), 1_234.0)
    aside = Geodesic.WGS84.Direct(place.latitude_deg, place.longitude_deg, 90.0, 300.0)
    along, off = edit.nearest(broken(), aside["lat2"], aside["lon2"])
    assert along == pytest.approx(1_234.0, abs=0.1)
    assert off == pytest.approx(300.0, abs=0.01)


def test_a_place_in_a_gap_is_nearest_to_one_of_its_ends() -> None:
    line = edit.close_gaps(broken())
    in_gap = edit.position_at(line, 2_400)
    along, off = edit.nearest(broken(), in_gap.latitude_deg, in_gap.longitude_deg)
    assert along == pytest.approx(2_000, rel=1e-3)
    assert off == pytest.approx(400, rel=1e-2)


def test_the_nearest_place_of_a_single_point() -> None:
    along, off = edit.nearest(track([44.0], [-24.0]), 44.001, -24.0)
    assert along == 0.0
    assert off == pytest.approx(111.1, abs=0.1)


@given(st.integers(0, 500), st.floats(0, 1))
def test_a_place_found_is_found_again(seed: int, share: float) -> None:
    along = np.linspace(0, 3_000, 40)
    line = northward(along, along)
    place = edit.position_at(line, share * length_m(line))
    found, off = edit.nearest(line, place.latitude_deg, place.longitude_deg)
    assert found == pytest.approx(share * length_m(line), abs=0.01)
    assert off == pytest.approx(0, abs=0.01)


def test_positions_beyond_the_ends_are_the_ends() -> None:
    assert edit.position_at(broken(), -10).height_m == 0
    assert edit.position_at(broken(), 1e9).height_m == 500
    assert edit.position_at(track([1.0], [2.0]), 5).height_m is None


def test_positions_across_the_date_line() -> None:
    middle = edit.position_at(track([-16.8, -16.8], [179.999, -179.997]), 213.0)
    assert abs(middle.longitude_deg) == pytest.approx(179.999, abs=1e-4)
    assert middle.longitude_deg < 0


def loop() -> Track:
    turn = np.linspace(0, 2 * np.pi, 200)
    return track(44.2 + 0.01 * np.sin(turn), -24.6 + 0.014 * np.cos(turn))


def recorded_again(line: Track, seed: int = 3) -> Track:
    """The same way by another receiver: 3 m of noise, other points."""
    rng = np.random.default_rng(seed)
    at = np.linspace(0, length_m(line), 333)
    latitude, longitude, _ = edit.positions_at(line, at)
    return track(latitude + rng.normal(0, 2.7e-5, 333), longitude + rng.normal(0, 3.7e-5, 333))


@pytest.mark.parametrize("line", [wandering(5, 300), loop()], ids=["wandering", "loop"])
def test_duplicates_are_found_in_either_direction(line: Track) -> None:
    assert edit.same_line(line, recorded_again(line), 25.0) == "same"
    assert edit.same_line(line, edit.reverse(recorded_again(line)), 25.0) == "reversed"
    assert edit.same_line(line, unpack(pack(edit.simplify(line, 5.0))), 25.0) == "same"


def test_lines_with_a_gap_are_duplicates_too() -> None:
    assert edit.same_line(broken(), edit.reverse(broken()), 25.0) == "reversed"


def test_other_lines_are_no_duplicates() -> None:
    line = wandering(5, 300)
    length = length_m(line)
    assert edit.same_line(line, wandering(6, 300), 25.0) is None
    assert edit.same_line(line, edit.cut(line, 0, 0.8 * length), 25.0) is None
    aside = track(line.latitude_deg + 0.001, line.longitude_deg)
    assert edit.same_line(line, aside, 25.0) is None


def test_a_detour_in_the_middle_is_another_line() -> None:
    along = np.linspace(0, 10_000, 101)
    line = northward(along, along)
    east = np.where((along > 4_000) & (along < 5_000), 0.003, 0.0)
    assert edit.same_line(line, track(line.latitude_deg, line.longitude_deg + east), 25.0) is None
