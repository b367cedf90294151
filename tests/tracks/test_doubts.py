"""What looks wrong is told, and recorded lines that are right are left in peace."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from lacet.tracks.doubts import line_doubts, looks_swapped, zero_heights_as_missing
from lacet.tracks.problem import Problem
from lacet.tracks.track import Track, track
from tests.tracks.lines import northward, wandering


def told(line: Track, times: Any = None) -> list[Problem]:
    return list(line_doubts(line, times))


def says(line: Track, times: Any = None) -> str:
    return " | ".join(problem.says for problem in told(line, times))


ALONG = np.arange(0.0, 2_001.0, 100.0)
HEIGHT = 1_000 + ALONG / 20


def changed(**columns: tuple[int, float]) -> Track:
    """A plain climb with one value changed."""
    line = northward(ALONG, HEIGHT)
    values = {name: getattr(line, name).copy() for name in ("latitude_deg", "longitude_deg", "height_m")}
    for name, (index, value) in columns.items():
        values[name][index] = value
    return track(**values)


def test_a_plain_climb_raises_no_doubt() -> None:
    assert told(northward(ALONG, HEIGHT)) == []
    assert told(wandering(3, 400)) == []


def test_a_spike_of_elevation_is_pointed_out() -> None:
    assert "the elevation of point 6 (9000 m) stands out by 8.0 km" in says(changed(height_m=(5, 9_000)))
    assert "point 6 (0 m) stands out" in says(changed(height_m=(5, 0)))


def test_a_steep_pinnacle_is_no_spike() -> None:
    assert told(changed(height_m=(5, 1_100))) == []


def test_a_spike_of_position_is_pointed_out_once() -> None:
    line = changed(longitude_deg=(5, -23.6))
    assert [problem.says for problem in told(line)] == ["point 6 lies 79.5 km off the line"]


def test_the_turn_of_a_way_there_and_back_is_no_spike() -> None:
    along = np.concatenate((np.arange(0, 5_000, 400.0), np.arange(5_000, -1, -400.0)))
    assert told(northward(along, 1_000 + along / 20)) == []


def test_a_jump_is_pointed_out() -> None:
    line = track([44.2, 44.2001, 44.2002, 44.5, 44.5001], [-24.6] * 5, [1.0] * 5)
    assert says(line) == "a jump of 33.3 km after point 3"


def test_points_without_a_fix_are_pointed_out() -> None:
    line = track([0.0, 46.5, 46.501], [0.0, 11.3, 11.3], [1.0, 1, 1])
    assert "1 point at 0, 0" in says(line)


def test_lines_without_length_are_told() -> None:
    assert "only one point" in says(track([1.0], [1.0], [5.0]))
    assert "no length (0 m)" in says(track([1.0, 1.0], [1.0, 1.0], [5.0, 5.0]))
    separate = track(np.arange(4.0), np.arange(4.0), np.ones(4), range(4))
    assert "4 segments of one point each" in says(separate)


def test_missing_elevation_is_noted() -> None:
    (problem,) = told(track([1.0, 1.001], [1.0, 1.0]))
    assert problem == Problem(None, "no elevation, so ascent and descent are unknown", "note")
    assert "1 point without elevation" in says(changed(height_m=(5, np.nan)))


def test_times_that_run_backwards_are_told() -> None:
    line = northward(ALONG, HEIGHT)
    forward = np.arange(len(ALONG)) * 60.0
    assert told(line, forward) == []
    (problem,) = told(line, forward[::-1])
    assert "runs backwards 20 times" in problem.says
    assert problem.weight == "warn"
    many = wandering(2, 1_000)
    times = np.arange(1_000.0)
    times[500] = 0.0
    (once,) = told(many, times)
    assert (once.weight, "backwards once" in once.says) == ("note", True)


def test_a_receiver_that_wanders_at_rest_is_noted() -> None:
    rng = np.random.default_rng(1)
    resting = northward(np.arange(3_600, dtype=np.float64) * 0.2, np.full(3_600, 500.0))
    noisy = track(
        resting.latitude_deg + rng.normal(0, 2.7e-5, 3_600), resting.longitude_deg, resting.height_m
    )
    assert "the receiver wandered" in says(noisy)
    hairpins = np.abs(np.arange(3_600) % 80 - 40) * 1.4
    lane = track(resting.latitude_deg, -24.6 + hairpins / 79_700, resting.height_m)
    assert told(lane) == []


def test_only_heights_that_are_all_zero_are_taken_as_missing() -> None:
    flat = northward(ALONG, np.zeros(len(ALONG)))
    emptied, was_zero = zero_heights_as_missing(flat)
    assert was_zero
    assert np.isnan(emptied.height_m).all()
    partly = changed(height_m=(5, 0.0))
    assert zero_heights_as_missing(partly) == (partly, False)
    shore = track([1.0], [1.0], [0.0])
    assert zero_heights_as_missing(shore) == (shore, False)


@pytest.mark.parametrize(
    ("latitude", "longitude", "swapped"),
    [(11.3, 46.5, True), (46.5, 11.3, False), (-33.0, 151.0, False), (11.3, 80.0, False)],
)
def test_swapped_coordinates_are_known_by_the_region(
    latitude: float, longitude: float, swapped: bool
) -> None:
    line = track([latitude, latitude + 0.01], [longitude, longitude])
    assert looks_swapped(line, (46.5, 11.3)) is swapped
