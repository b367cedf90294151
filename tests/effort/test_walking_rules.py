"""Each walking rule against the values its source prints, its limits, and its shape."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lacet.effort.campbell import TERMS, campbell_speed_m_s
from lacet.effort.din33466 import din33466_time_s
from lacet.effort.langmuir import langmuir_time_s
from lacet.effort.naismith import naismith_time_s
from lacet.effort.quantity import KMH_PER_M_S, METRES_PER_FOOT, METRES_PER_MILE
from lacet.effort.scarf import naismith_number, scarf_equivalent_m, scarf_time_s
from lacet.effort.swiss import swiss_pace_s_per_m
from lacet.effort.tobler import HORSEBACK_FACTOR, OFF_PATH_FACTOR, tobler_speed_m_s

HOUR = 3600.0
MINUTE = 60.0
slopes = st.floats(-1.0, 1.0)
lengths_m = st.floats(0.0, 60_000.0, allow_subnormal=False)
heights_m = st.floats(0.0, 3_000.0, allow_subnormal=False)

# Naismith (1892), SMC Journal 2:136, metric form; the numbers are computed from the rule (5 km/h, 600 m/h)
NAISMITH_KM_M_H = [(20, 1600, 6.6667, 0.001), (12, 600, 3.4, 1e-9), (9, 0, 1.8, 1e-9)]

# Langmuir (1984) as restated in a 2014 note; computed: km, height difference m, minutes
LANGMUIR_KM_M_MIN = [
    (3, -420, 22.0),
    (4, -200, 48.0),
    (2.5, 250, 55.0),
    (6, -900, 42.0),
    (5, -1250, 101.667),
]

# Tobler (1993), NCGIA TR 93-1: table of sample values as reprinted in an encyclopedia; degrees, km/h
TOBLER_DEGREES_KMH = [
    (-20, 2.0),
    (-5, 5.26),
    (-2.8624, 6.0),
    (1, 4.74),
    (5, 3.71),
    (15, 1.97),
    (20, 1.41),
]

# DIN 33466:2003 as quoted by the German Alpine Club. The first is their printed example; the rest is computed
DIN33466_KM_M_M_KMH_H = [
    (4, 600, 0, 4, 2.5),
    (3, 750, 0, 3, 3.0),  # printed Austrian variant with 3 km/h on the flat
    (12, 800, 800, 4, 5.7667),
    (8, 0, 0, 4, 2.0),
    (10, 0, 1000, 4, 3.5),
]

# Schweizer Wanderwege; computed from the coefficients of the Swiss federal geoportal: slope in %, min/km
SWISS_PERCENT_MIN_PER_KM = [
    (-35, 32.0098),
    (-20, 19.8354),
    (-10, 14.2086),
    (0, 14.271),
    (5, 16.6314),
    (15, 25.1966),
    (20, 32.3257),
    (35, 57.8455),
]

# Campbell et al. (2019), supplement table S1 as quoted in two R packages; computed: percentile, degrees, m/s
CAMPBELL_PERCENTILE_DEGREES_M_S = [
    (5, 0, 1.1448),
    (5, -10, 0.9591),
    (5, 20, 0.5145),
    (10, 5, 1.1352),
    (10, -5, 1.2912),
    (25, 0, 1.8996),
    (50, 0, 2.5519),
]


@pytest.mark.parametrize(("km", "climb_m", "hours", "tolerance"), NAISMITH_KM_M_H)
def test_naismith_gives_the_metric_hours(km: float, climb_m: float, hours: float, tolerance: float) -> None:
    assert naismith_time_s(km * 1000.0, climb_m) / HOUR == pytest.approx(hours, abs=tolerance)


def test_naismith_gives_the_worked_case_of_1892_in_its_own_miles_and_feet() -> None:
    # "Excursions", SMC Journal 2:136 (value from memory): 10 miles and 6300 feet took six and a half hours
    seconds = naismith_time_s(
        10 * METRES_PER_MILE,
        6300 * METRES_PER_FOOT,
        flat_speed_m_s=3 * METRES_PER_MILE / HOUR,
        climb_m_per_h=2000 * METRES_PER_FOOT,
    )
    assert seconds / HOUR == pytest.approx(6.5, abs=0.05)


def test_naismiths_number_is_the_printed_7_92() -> None:
    # Scarf (1998): 3 miles and 2000 feet an hour
    miles_m_s, feet_m_s = 3 * METRES_PER_MILE / HOUR, 2000 * METRES_PER_FOOT / HOUR
    assert naismith_number(miles_m_s, feet_m_s) == pytest.approx(7.92, abs=1e-9)


@pytest.mark.parametrize(("flat_kmh", "minutes"), [(5, 394), (8, 246)])
def test_scarf_gives_the_printed_minutes(flat_kmh: float, minutes: float) -> None:
    # Scarf (2007): 20 km with 1600 m of climb, "6 hours and 34 minutes" and "4 hours and 6 minutes"
    assert scarf_time_s(20_000.0, 1600.0, flat_kmh / KMH_PER_M_S) / MINUTE == pytest.approx(minutes, abs=0.5)


def test_scarf_adds_eight_metres_for_each_metre_climbed() -> None:
    assert scarf_equivalent_m(14_500.0, 730.0) == pytest.approx(20_340.0, abs=1e-6)  # computed


@pytest.mark.parametrize(("km", "rise_m", "minutes"), LANGMUIR_KM_M_MIN)
def test_langmuir_gives_the_restated_minutes(km: float, rise_m: float, minutes: float) -> None:
    assert float(langmuir_time_s(km * 1000.0, rise_m)) / MINUTE == pytest.approx(minutes, abs=0.01)


def test_langmuir_turns_from_help_to_hindrance_beyond_12_degrees() -> None:
    level_s = naismith_time_s(1000.0, 0.0)
    falls_m = -1000.0 * np.tan(np.radians([4.9, 5.1, 11.9, 12.1]))
    assert np.sign(langmuir_time_s(np.full(4, 1000.0), falls_m) - level_s).tolist() == [0, -1, -1, 1]


@pytest.mark.parametrize(("degrees", "kmh"), TOBLER_DEGREES_KMH)
def test_tobler_gives_the_printed_speeds(degrees: float, kmh: float) -> None:
    speed = float(tobler_speed_m_s(np.tan(np.radians(degrees))))
    assert speed * KMH_PER_M_S == pytest.approx(kmh, abs=0.006)


@pytest.mark.parametrize(("factor", "kmh"), [(OFF_PATH_FACTOR, 3.022), (HORSEBACK_FACTOR, 6.2959)])
def test_tobler_slows_off_the_path_and_quickens_on_horseback(factor: float, kmh: float) -> None:
    assert float(tobler_speed_m_s(0.0, factor)) * KMH_PER_M_S == pytest.approx(kmh, abs=1e-4)


def test_tobler_is_fastest_at_five_per_cent_down() -> None:
    ratio = np.linspace(-1.0, 1.0, 2001)
    assert ratio[np.argmax(tobler_speed_m_s(ratio))] == pytest.approx(-0.05)


@pytest.mark.parametrize(("km", "up_m", "down_m", "flat_kmh", "hours"), DIN33466_KM_M_M_KMH_H)
def test_din33466_gives_the_quoted_hours(
    km: float, up_m: float, down_m: float, flat_kmh: float, hours: float
) -> None:
    seconds = din33466_time_s(km * 1000.0, up_m, down_m, flat_kmh / KMH_PER_M_S)
    assert seconds / HOUR == pytest.approx(hours, abs=0.001)


@pytest.mark.parametrize(("percent", "min_per_km"), SWISS_PERCENT_MIN_PER_KM)
def test_swiss_polynomial_gives_the_minutes_per_kilometre(percent: float, min_per_km: float) -> None:
    minutes = float(swiss_pace_s_per_m(percent / 100.0)) * 1000.0 / MINUTE
    assert minutes == pytest.approx(min_per_km, abs=0.0005)


def test_swiss_polynomial_walks_the_published_4_2_km_an_hour_on_the_level() -> None:
    assert KMH_PER_M_S / float(swiss_pace_s_per_m(0.0)) == pytest.approx(4.2, abs=0.05)


def test_swiss_polynomial_is_linear_beyond_forty_per_cent() -> None:
    # secondary source: 17 S up and 9 |S| down, S in tenths
    steep = swiss_pace_s_per_m(np.array([0.45, 0.40, -0.45, -0.40])) * 1000.0 / MINUTE
    assert steep == pytest.approx([76.5, 68.0, 40.5, 36.0], abs=1e-9)


@pytest.mark.parametrize(("percentile", "degrees", "speed"), CAMPBELL_PERCENTILE_DEGREES_M_S)
def test_campbell_gives_the_speeds_of_its_terms(percentile: int, degrees: float, speed: float) -> None:
    assert float(campbell_speed_m_s(np.tan(np.radians(degrees)), percentile)) == pytest.approx(
        speed, abs=0.001
    )


@pytest.mark.parametrize("percentile", sorted(TERMS))
def test_campbell_holds_its_speed_beyond_thirty_degrees(percentile: int) -> None:
    ends = campbell_speed_m_s(np.tan(np.radians([30.0, 45.0, -30.0, -45.0])), percentile)
    assert ends[0] == pytest.approx(ends[1])
    assert ends[2] == pytest.approx(ends[3])


@pytest.mark.parametrize("percentile", sorted(TERMS))
def test_campbell_is_fastest_a_little_downhill_and_slower_up_than_down(percentile: int) -> None:
    """As the paper's curves are, by each percentile: a slip in the sign of a term would show."""
    degrees = np.arange(-30.0, 30.1, 0.1)
    speed_m_s = campbell_speed_m_s(np.tan(np.radians(degrees)), percentile)
    fastest = degrees[np.argmax(speed_m_s)]
    assert -3.0 < fastest < -1.0
    as_far_from_it_m_s = campbell_speed_m_s(np.tan(np.radians([fastest + 25.0, fastest - 25.0])), percentile)
    assert as_far_from_it_m_s[0] < as_far_from_it_m_s[1]


@given(distance=lengths_m, up=heights_m, down=heights_m)
def test_rules_over_totals_give_the_same_for_numbers_and_arrays(
    distance: float, up: float, down: float
) -> None:
    d, u, f = np.array([distance]), np.array([up]), np.array([down])
    assert float(din33466_time_s(d, u, f)[0]) == pytest.approx(din33466_time_s(distance, up, down))
    assert float(naismith_time_s(d, u)[0]) == naismith_time_s(distance, up)
    assert float(scarf_equivalent_m(d, u)[0]) == scarf_equivalent_m(distance, up)
    assert float(langmuir_time_s(d, -f)[0]) == float(langmuir_time_s(distance, -down))


@given(slope=slopes)
def test_rules_over_slopes_give_the_same_for_numbers_and_arrays(slope: float) -> None:
    # numpy may round the last bit of exp and arctan differently in its vector loops
    for rule in (tobler_speed_m_s, swiss_pace_s_per_m, campbell_speed_m_s):
        assert float(rule(np.array([slope, 0.1]))[0]) == pytest.approx(float(rule(slope)), rel=1e-14)


@given(slope=st.floats(0.0, 0.9), steeper=st.floats(0.0, 0.1))
def test_steeper_is_never_faster_uphill(slope: float, steeper: float) -> None:
    pair = np.array([slope, slope + steeper])
    for speed in (tobler_speed_m_s(pair), 1.0 / swiss_pace_s_per_m(pair), campbell_speed_m_s(pair)):
        assert speed[1] <= speed[0] * (1.0 + 1e-12)


@given(distance=lengths_m, up=heights_m, down=heights_m, more=st.floats(0.0, 500.0))
def test_more_ground_never_takes_less_time(distance: float, up: float, down: float, more: float) -> None:
    hours = din33466_time_s(distance, up, down) - 1e-6
    assert din33466_time_s(distance + more, up, down) >= hours
    assert din33466_time_s(distance, up + more, down) >= hours
    assert din33466_time_s(distance, up, down + more) >= hours


@given(distance=lengths_m, up=heights_m, down=heights_m)
def test_din33466_lies_between_the_larger_time_and_one_and_a_half_of_it(
    distance: float, up: float, down: float
) -> None:
    larger = max(distance / (4 / KMH_PER_M_S), (up / 300 + down / 500) * HOUR)
    assert larger - 1e-6 <= din33466_time_s(distance, up, down) <= 1.5 * larger + 1e-6
