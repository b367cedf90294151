"""Ascent measured on lines whose ascent is known, and the promises of the one method.

`MEASURED` is how the parameters were chosen: synthetic terrain with realistic noise. Run this file with -s
to see the figures.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lacet.tracks.edit import reverse
from lacet.tracks.profile import ASCENT_PARAMETERS, ascent_descent, profile
from lacet.tracks.track import Floats, Track, track
from lacet.tracks.turning_points import rises_and_falls
from tests.tracks.lines import northward, wandering

LENGTH_M = 16_000.0
NOISE_M = 3.0


def alpine_pass(along: Floats) -> Floats:
    return np.asarray(
        1200
        + 500 * (1 - np.cos(2 * np.pi * along / 16000))
        + 15 * np.sin(2 * np.pi * along / 830 + 0.3)
        + 6 * np.sin(2 * np.pi * along / 390 + 1)
    )


def rolling_hills(along: Floats) -> Floats:
    return np.asarray(
        300
        + 30 * np.sin(2 * np.pi * along / 1700)
        + 20 * np.sin(2 * np.pi * along / 3100 + 1)
        + 8 * np.sin(2 * np.pi * along / 700 + 2)
    )


def sharp_ridges(along: Floats) -> Floats:
    return np.asarray(800 + 150 * np.abs((along / 3000) % 2 - 1) + 20 * np.abs((along / 700) % 2 - 1))


def fractal_ground(along: Floats) -> Floats:
    rng = np.random.default_rng(5)
    height = np.full(len(along), 900.0)
    for wave in np.geomspace(250, 9000, 25):
        height += 0.011 * wave * rng.normal() * np.sin(2 * np.pi * along / wave + rng.random() * 7)
    return height


TERRAIN = {
    "alpine pass": alpine_pass,
    "rolling hills": rolling_hills,
    "sharp ridges": sharp_ridges,
    "fractal ground": fractal_ground,
}


def true_ascent_m(name: str) -> float:
    rise = np.diff(TERRAIN[name](np.arange(0.0, LENGTH_M + 0.5, 1.0)))
    return float(rise[rise > 0].sum())


def noise_m(count: int, spacing_m: float, correlated_m: float, rng: np.random.Generator) -> Floats:
    """Return noise of 3 m: white, or fading over a distance as that of a receiver or a barometer does."""
    if not correlated_m:
        return rng.normal(0, NOISE_M, count)
    keep = float(np.exp(-spacing_m / correlated_m))
    noise = rng.normal(0, NOISE_M * np.sqrt(1 - keep * keep), count)
    noise[0] = rng.normal(0, NOISE_M)
    for index in range(1, count):
        noise[index] += keep * noise[index - 1]
    return noise


def mean_error(name: str, spacing_m: float, correlated_m: float, runs: int = 6, times: float = 1.0) -> float:
    rng = np.random.default_rng(2)
    along = np.arange(0.0, LENGTH_M + spacing_m / 2, spacing_m)
    ascents = []
    for _ in range(runs):
        noise = noise_m(len(along), spacing_m, correlated_m, rng)
        height = TERRAIN[name](along) + times * noise
        measured = ascent_descent(northward(along, height))
        assert measured is not None
        ascents.append(measured[0])
    return float(np.mean(ascents)) / true_ascent_m(name) - 1


MEASURED = [(1.4, 0), (5, 0), (10, 0), (20, 0), (40, 0), (1.4, 20), (5, 60)]


@pytest.mark.parametrize(("spacing_m", "correlated_m"), MEASURED)
@pytest.mark.parametrize("name", TERRAIN)
def test_ascent_is_within_three_percent_at_three_metres_of_noise(
    name: str, spacing_m: float, correlated_m: float
) -> None:
    error = mean_error(name, spacing_m, correlated_m)
    print(f"{name}, {spacing_m} m apart, correlated over {correlated_m} m: {error:+.1%}")
    assert abs(error) < 0.03


# Published errors of elevation models, root mean square [m]. A 90 % error is 1.6449 times as large.
RASTER_ERRORS_M = {
    # ESA, Airbus: Copernicus GLO-30, under 4 m LE90 (a secondary summary).
    "Copernicus GLO-30": 4 / 1.6449,
    # NASADEM, Peninsular Malaysia, 7 757 points (M. A. Aziz et al., abstract).
    "NASADEM": 3.656,
    # SRTM: Peninsular Malaysia (the same), Nigeria (O. I. Apeh et al. 2019, J. Geogr. Inf. Syst. 11:121-133),
    # and the specification of 16 m LE90 (RMSE 9.73 m in Sci. Rep. 7:41672, 2017).
    "SRTM in Malaysia": 5.666,
    "SRTM in Nigeria": 7.47,
    "SRTM as specified": 16 / 1.6449,
    # ASTER GDEM2, Nigeria (Apeh et al. 2019).
    "ASTER GDEM2": 20.03,
}


def test_the_specified_errors_are_those_printed() -> None:
    assert RASTER_ERRORS_M["SRTM as specified"] == pytest.approx(9.73, abs=0.01)


def test_ascent_from_a_raster_is_as_good_as_the_raster() -> None:
    # Errors of a raster hang together over a few cells, here 90 m, so no smoothing can take them all away.
    errors = {
        name: mean_error("alpine pass", 25.0, 90.0, times=error_m / NOISE_M)
        for name, error_m in RASTER_ERRORS_M.items()
    }
    print({name: f"{error:+.1%}" for name, error in errors.items()})
    assert abs(errors["Copernicus GLO-30"]) < 0.03
    assert abs(errors["NASADEM"]) < 0.05
    assert list(errors.values()) == sorted(errors.values())
    # Which is why such a raster is no basis for a promise.
    assert errors["ASTER GDEM2"] > 0.25


def test_a_plain_sum_overshoots_as_published_and_the_method_does_not() -> None:
    # M. Ueding, 'Elevation Gain from Noisy Data': about 1 600 m summed plainly, 610 m off the profile (2.62).
    # TNT cycling club: one track, four services, 591 to 1 208 m (2.04).
    along = np.arange(0.0, LENGTH_M, 5.0)
    height = rolling_hills(along) + np.random.default_rng(7).normal(0, NOISE_M, len(along))
    plain_m, _ = rises_and_falls(height, 0.0)
    measured = ascent_descent(northward(along, height))
    assert measured is not None
    assert plain_m / true_ascent_m("rolling hills") > 1600 / 610
    assert plain_m / measured[0] > 1208 / 591
    assert measured[0] == pytest.approx(true_ascent_m("rolling hills"), rel=0.03)


def test_a_receiver_standing_still_does_not_climb() -> None:
    rng = np.random.default_rng(4)
    along = np.sort(rng.normal(1_000, 0.5, 3_600))
    ascent = ascent_descent(northward(along, 500 + rng.normal(0, NOISE_M, 3_600)))
    assert ascent is not None
    assert ascent[0] < 5.0


@given(st.integers(0, 10_000))
def test_reversing_swaps_ascent_and_descent_to_the_last_bit(seed: int) -> None:
    there = profile(wandering(seed, 120))
    back = profile(reverse(wandering(seed, 120)))
    assert (back.ascent_m, back.descent_m) == (there.descent_m, there.ascent_m)
    assert np.array_equal(back.height_m, there.height_m[::-1])
    assert back.length_m == there.length_m


def test_reversing_swaps_exactly_with_gaps_and_unknown_heights() -> None:
    line = wandering(8, 400)
    height = line.height_m.copy()
    height[50:60] = np.nan
    height[-3:] = np.nan
    broken = track(line.latitude_deg + (np.arange(400) > 200) * 0.01, line.longitude_deg, height, (0, 201))
    there, back = profile(broken), profile(reverse(broken))
    assert there.ascent_m is not None
    assert (back.ascent_m, back.descent_m) == (there.descent_m, there.ascent_m)
    assert np.array_equal(back.height_m, there.height_m[::-1], equal_nan=True)


def test_a_way_there_and_back_climbs_as_much_as_it_falls() -> None:
    line = wandering(9, 200)
    columns = (line.latitude_deg, line.longitude_deg, line.height_m)
    latitude, longitude, height = (np.concatenate((column, column[-2::-1])) for column in columns)
    measured = profile(track(latitude, longitude, height))
    assert measured.ascent_m == measured.descent_m


@given(st.integers(0, 10_000), st.integers(1, 300))
def test_ascent_less_descent_is_end_less_start(seed: int, points: int) -> None:
    line = wandering(seed, points)
    measured = profile(line)
    assert measured.ascent_m is not None
    assert measured.descent_m is not None
    assert measured.ascent_m - measured.descent_m == measured.height_m[-1] - measured.height_m[0]
    assert measured.height_m[0] == pytest.approx(line.height_m[0], abs=1e-6)
    assert measured.height_m[-1] == pytest.approx(line.height_m[-1], abs=1e-6)


def noisy_hill() -> tuple[Floats, Floats]:
    along = np.arange(0.0, 6_000.0, 17.0)
    return along, rolling_hills(along) + np.random.default_rng(1).normal(0, NOISE_M, len(along))


def test_points_added_on_the_line_change_ascent_by_under_one_percent() -> None:
    along, height = noisy_hill()
    dense = np.unique(np.concatenate((along, np.arange(0.0, along[-1], 1.3))))
    plain = ascent_descent(northward(along, height))
    more = ascent_descent(northward(dense, np.interp(dense, along, height)))
    assert plain is not None
    assert more is not None
    assert more == pytest.approx(plain, rel=0.01)
    # In fact they change nothing but rounding.
    assert more == pytest.approx(plain, rel=1e-6)


def test_points_recorded_twice_change_nothing() -> None:
    along, height = noisy_hill()
    plain = ascent_descent(northward(along, height))
    twice = ascent_descent(northward(np.repeat(along, 2), np.repeat(height, 2)))
    assert twice == pytest.approx(plain, rel=1e-9)


def test_a_steady_climb_counts_in_full() -> None:
    along = np.linspace(0, 5_000, 60)
    measured = profile(northward(along, 200 + along * 0.1))
    assert measured.ascent_m == pytest.approx(500.0, abs=1e-6)
    assert measured.descent_m == 0.0
    assert (measured.lowest_m, measured.highest_m) == (200.0, 700.0)


def test_a_gap_counts_neither_as_length_nor_as_climb() -> None:
    along = np.array((0.0, 500.0, 1_000.0, 5_000.0, 5_500.0, 6_000.0))
    height = np.array((100.0, 150.0, 200.0, 900.0, 850.0, 800.0))
    line = northward(along, height)
    broken = track(line.latitude_deg, line.longitude_deg, height, (0, 3))
    measured = profile(broken)
    assert measured.length_m == pytest.approx(2_000, rel=1e-3)
    assert measured.ascent_m == pytest.approx(100)
    assert measured.descent_m == pytest.approx(100)


def test_a_pause_of_the_recorder_does_not_break_the_smoothing() -> None:
    along, height = noisy_hill()
    line = northward(along, height)
    paused = track(line.latitude_deg, line.longitude_deg, height, tuple(range(0, len(along), 20)))
    assert profile(paused).ascent_m == pytest.approx(profile(line).ascent_m, rel=0.06)


def with_unknown(first_m: float, last_m: float) -> Track:
    along = np.arange(0.0, 4_001.0, 50.0)
    height = 500 + along * 0.1
    height[(along > first_m) & (along < last_m)] = np.nan
    return northward(along, height)


def test_a_short_unknown_stretch_is_bridged_and_told() -> None:
    measured = profile(with_unknown(1_000, 1_400))
    assert measured.ascent_m == pytest.approx(400, abs=1e-6)
    assert measured.unknown_share == pytest.approx(0.1, rel=0.01)


def test_a_long_unknown_stretch_leaves_the_figures_unknown() -> None:
    measured = profile(with_unknown(1_000, 2_500))
    assert measured.ascent_m is None
    assert measured.descent_m is None
    assert measured.unknown_share == pytest.approx(1_500 / 4_000, rel=0.01)
    unknown = np.isnan(measured.height_m)
    assert measured.distance_m[unknown].min() == pytest.approx(1_000, abs=20)
    assert measured.distance_m[unknown].max() == pytest.approx(2_500, abs=20)
    assert ascent_descent(with_unknown(1_000, 2_500)) is None


def test_without_any_height_nothing_is_known_and_nothing_is_zero() -> None:
    line = with_unknown(-1, 5_000)
    measured = profile(line)
    assert (measured.ascent_m, measured.descent_m, measured.lowest_m, measured.highest_m) == (None,) * 4
    assert measured.unknown_share == 1.0
    assert np.all(np.isnan(measured.height_m))
    assert measured.length_m == pytest.approx(4_000, rel=1e-3)


def test_a_single_known_height_is_no_climb_of_zero() -> None:
    line = with_unknown(-1, 3_980)
    assert profile(line).ascent_m is None


def test_one_point_climbs_nothing() -> None:
    measured = profile(track([44.0], [-24.0], [100.0]))
    assert (measured.length_m, measured.ascent_m, measured.descent_m) == (0.0, 0.0, 0.0)
    assert measured.distance_m.tolist() == [0.0, 0.0]


def test_points_at_one_place_with_different_heights_keep_the_identity() -> None:
    measured = profile(track([44.0] * 3, [-24.0] * 3, [4.46, 4.94, 6.87]))
    assert measured.ascent_m == pytest.approx(2.41, abs=1e-5)
    assert measured.descent_m == 0.0


@given(st.integers(0, 500))
def test_nodes_run_from_start_to_end_without_turning_back(seed: int) -> None:
    measured = profile(wandering(seed, 80))
    assert measured.distance_m[0] == 0.0
    assert measured.distance_m[-1] == measured.length_m
    assert np.all(np.diff(measured.distance_m) > 0)
    assert np.max(np.diff(measured.distance_m)) <= ASCENT_PARAMETERS.node_m + 1e-9


TEN_POINTS = [12.0, 17, 15, 20, 22, 18, 15, 16, 14, 12]
LONG_CLIMB = np.arange(0.0, 1003.0 + 1)


@pytest.mark.parametrize(
    ("heights", "threshold_m", "rise", "fall"),
    [
        # TNT cycling club, 'Elevation gain': ten points. The page prints a gain of 14; 5+5+2+1 is 13.
        (TEN_POINTS, 0.0, 13.0, 13.0),
        # By hand, from the rule.
        ([500.0, 620, 580, 700, 660, 900], 0.0, 480.0, 80.0),
        (TEN_POINTS, 2.0, 12.0, 12.0),
        (TEN_POINTS, 6.0, 10.0, 10.0),
        # A dead band of 10 m would lose the last 3 m.
        (LONG_CLIMB.tolist(), 10.0, 1003.0, 0.0),
        ([7.0], 5.0, 0.0, 0.0),
        ([7.0, 7.0], 5.0, 0.0, 0.0),
    ],
)
def test_the_turning_point_rule(heights: list[float], threshold_m: float, rise: float, fall: float) -> None:
    assert rises_and_falls(np.array(heights), threshold_m) == (rise, fall)


@given(st.lists(st.integers(-50, 50).map(float), min_size=1, max_size=60), st.integers(1, 20))
def test_the_turning_point_rule_reads_the_same_backwards(heights: list[float], threshold: int) -> None:
    row = np.array(heights)
    rise, fall = rises_and_falls(row, threshold)
    assert rises_and_falls(row[::-1], threshold) == (fall, rise)
    assert rise - fall == row[-1] - row[0]
    assert rise <= rises_and_falls(row, 0)[0]


def test_noise_alone_climbs_sigma_over_root_pi_a_step_when_summed_plainly() -> None:
    # For independent Gaussian noise each step adds sigma / sqrt(pi) = 0.5642 sigma (derived; simulated
    # 0.5620).
    row = np.random.default_rng(3).normal(0, 1.0, 200_001)
    assert rises_and_falls(row, 0.0)[0] / 200_000 == pytest.approx(0.56419, abs=0.01)


def test_a_larger_threshold_never_counts_more() -> None:
    line = wandering(6, 300)
    ascents = []
    for threshold_m in (0.0, 2.0, 5.0, 10.0, 30.0):
        measured = profile(line, replace(ASCENT_PARAMETERS, threshold_m=threshold_m)).ascent_m
        assert measured is not None
        ascents.append(measured)
    assert ascents == sorted(ascents, reverse=True)
