"""The walking rules on a profile: totals kept, heights missing, pace, order along the way."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from lacet.effort import din33466, langmuir, naismith, tobler, walking
from lacet.effort.din33466 import din33466_time_s
from lacet.effort.langmuir import FASTEST_DOWNHILL_M_S, langmuir_time_s
from lacet.effort.naismith import naismith_time_s
from lacet.effort.quantity import EffortError
from lacet.effort.rule import Needs, WalkingRule
from lacet.effort.steps import steps_of
from lacet.effort.walking import walking_rule, walking_times_s
from lacet.trip.errors import LacetError
from lacet.trip.house_rules import HouseRules
from tests.effort.profiles import Profile, drawn, even_slope, reversed_profile, up_and_down

every_rule = pytest.mark.parametrize("rule", walking.RULES, ids=lambda rule: rule.id)

# Stage of 5 km at +10 % and 5 km at -10 %, computed from the published formulas: Naismith 2.8333 h, Tobler
# 2.4014 h, DIN 33466 3.9167 h
STAGE_HOURS = [
    (naismith.RULE, 2.8333),
    (tobler.RULE, 2.4014),
    (din33466.RULE, 3.9167),
]


@pytest.mark.parametrize(("rule", "hours"), STAGE_HOURS)
def test_a_stage_takes_the_hours_of_the_published_rule(rule: WalkingRule, hours: float) -> None:
    assert walking_times_s(rule, *up_and_down()).moving_s / 3600.0 == pytest.approx(hours, abs=0.001)


def test_every_rule_has_an_id_a_name_a_source_and_a_note_of_its_own() -> None:
    for part in ("id", "name", "source", "note"):
        said = [getattr(rule, part) for rule in walking.RULES]
        assert all(said)
        assert len(set(said)) == len(said)


@every_rule
def test_a_rule_looks_at_what_it_says_it_needs(rule: WalkingRule) -> None:
    def moving_s(up: float, down: float) -> float:
        return walking_times_s(rule, *even_slope(-0.3), 1.0, up, down).moving_s

    assert (moving_s(900.0, 1500.0) != moving_s(0.0, 1500.0)) is (Needs.CLIMB in rule.needs)
    assert (moving_s(0.0, 900.0) != moving_s(0.0, 1500.0)) is (Needs.FALL in rule.needs)
    level = walking_times_s(rule, *even_slope(0.0), 1.0, 0.0, 1500.0).moving_s
    assert (moving_s(0.0, 1500.0) != level) is (Needs.SLOPE in rule.needs)


def test_the_house_rule_names_a_rule_that_exists() -> None:
    assert walking_rule(HouseRules().walking_rule) is din33466.RULE


def test_a_rule_nobody_knows_is_refused_with_those_there_are() -> None:
    with pytest.raises(EffortError, match="no walking rule 'by guess'; choose one of din33466, naismith"):
        walking_rule("by guess")


@given(profile=drawn(), up=st.floats(0.0, 3000.0), down=st.floats(0.0, 3000.0))
def test_rules_over_totals_keep_the_published_total(profile: Profile, up: float, down: float) -> None:
    distance_m, height_m = profile
    length_m = float(distance_m[-1])
    assume(length_m > 1.0)
    din = walking_times_s(din33466.RULE, distance_m, height_m, 1.0, up, down)
    over_climb = walking_times_s(naismith.RULE, distance_m, height_m, 1.0, up, down)
    assert din.moving_s == pytest.approx(din33466_time_s(length_m, up, down), rel=1e-9, abs=1e-6)
    assert over_climb.moving_s == pytest.approx(naismith_time_s(length_m, up), rel=1e-9, abs=1e-6)


@pytest.mark.parametrize("slope_ratio", [-0.26, -0.14, -0.05, 0.0, 0.1])
def test_langmuir_on_an_even_slope_is_the_formula(slope_ratio: float) -> None:
    profile = even_slope(slope_ratio, 3000.0)
    seconds = walking_times_s(langmuir.RULE, *profile).moving_s
    assert seconds == pytest.approx(float(langmuir_time_s(3000.0, 3000.0 * slope_ratio)))


def test_langmuir_is_capped_where_the_formula_would_run() -> None:
    # 11.9 degrees: the formula asks for 11.9 km/h
    seconds = walking_times_s(langmuir.RULE, *even_slope(-float(np.tan(np.radians(11.9))))).moving_s
    assert seconds == pytest.approx(1000.0 / FASTEST_DOWNHILL_M_S)


def test_langmuir_goes_by_stretches_and_not_by_single_steps() -> None:
    # 7 degrees down on the whole, in steps of 14 degrees and level: no step lies between 5 and 12 degrees
    distance_m = np.arange(0.0, 3001.0, 10.0)
    fall_m = np.repeat(np.arange(151) * 2.0 * 10.0 * np.tan(np.radians(7.0)), 2)[: distance_m.size]
    seconds = walking_times_s(langmuir.RULE, distance_m, 1000.0 - fall_m).moving_s
    assert seconds == pytest.approx(float(langmuir_time_s(3000.0, -float(fall_m[-1]))), rel=1e-6)


@every_rule
@given(profile=drawn(), pace=st.floats(0.5, 2.0))
def test_time_never_falls_along_the_way_and_pace_multiplies_it(
    rule: WalkingRule, profile: Profile, pace: float
) -> None:
    times = walking_times_s(rule, *profile)
    assert times.time_s.shape == profile[0].shape
    assert times.time_s[0] == 0.0
    assert np.all(np.isfinite(times.time_s))
    assert np.all(np.diff(times.time_s) >= 0.0)
    assert walking_times_s(rule, *profile, pace).time_s == pytest.approx(times.time_s * pace)


@every_rule
@pytest.mark.parametrize("slope_ratio", [0.0, 0.05, 0.1, 0.2, 0.39, 0.5])
def test_a_steeper_climb_is_never_faster(rule: WalkingRule, slope_ratio: float) -> None:
    gentle = walking_times_s(rule, *even_slope(slope_ratio)).moving_s
    assert walking_times_s(rule, *even_slope(slope_ratio + 0.02)).moving_s >= gentle


@every_rule
def test_points_added_on_the_line_change_nothing(rule: WalkingRule) -> None:
    few, many = up_and_down(nodes=21), up_and_down(nodes=2001)
    assert walking_times_s(rule, *many).moving_s == pytest.approx(
        walking_times_s(rule, *few).moving_s, rel=1e-6
    )


@every_rule
def test_points_repeated_change_nothing(rule: WalkingRule) -> None:
    distance_m, height_m = up_and_down()
    twice = walking_times_s(rule, np.repeat(distance_m, 2), np.repeat(height_m, 2)).moving_s
    assert twice == pytest.approx(walking_times_s(rule, distance_m, height_m).moving_s)


@given(profile=drawn())
def test_din33466_both_ways_differ_only_by_climb_and_fall(profile: Profile) -> None:
    steps = steps_of(*profile)
    length_m, up, down = (float(part.sum()) for part in (steps.run_m, steps.climb_m, steps.fall_m))
    back = walking_times_s(din33466.RULE, *reversed_profile(profile)).moving_s
    assert back == pytest.approx(din33466_time_s(length_m, down, up), rel=1e-9, abs=1e-6)


def test_the_climb_is_shared_out_where_the_profile_climbs() -> None:
    times = walking_times_s(naismith.RULE, *up_and_down(1000.0), ascent_m=200.0, descent_m=200.0)
    # 12 min a kilometre, and all 20 min of climb before the top
    assert times.time_s[[100, 200]] / 60.0 == pytest.approx([32.0, 44.0])


def test_a_climb_the_profile_does_not_show_is_shared_out_by_distance() -> None:
    times = walking_times_s(naismith.RULE, *even_slope(0.0), ascent_m=60.0, descent_m=0.0)
    assert times.time_s[50] == pytest.approx(times.moving_s / 2.0)
    assert times.moving_s / 60.0 == pytest.approx(12.0 + 6.0)


@every_rule
def test_without_heights_the_time_is_the_distance_alone_and_told(rule: WalkingRule) -> None:
    distance_m, _ = even_slope(0.0)
    times = walking_times_s(rule, distance_m, np.full_like(distance_m, np.nan))
    assert times.assumed_flat
    assert times.moving_s == pytest.approx(walking_times_s(rule, *even_slope(0.0)).moving_s)


@every_rule
def test_a_gap_in_the_heights_is_bridged_and_told(rule: WalkingRule) -> None:
    distance_m, height_m = even_slope(0.1)
    whole = walking_times_s(rule, distance_m, height_m)
    height_m[30:60] = np.nan
    times = walking_times_s(rule, distance_m, height_m)
    assert times.assumed_flat
    assert not whole.assumed_flat
    assert times.moving_s == pytest.approx(whole.moving_s)


@every_rule
def test_a_leg_of_one_node_or_no_length_takes_no_time(rule: WalkingRule) -> None:
    assert walking_times_s(rule, np.array([0.0]), np.array([5.0])).time_s.tolist() == [0.0]
    assert walking_times_s(rule, np.zeros(3), np.full(3, 7.0), ascent_m=0.0, descent_m=0.0).moving_s == 0.0


@pytest.mark.parametrize("pace", [0.0, -1.0, float("nan"), float("inf")])
def test_a_pace_that_is_no_factor_is_refused(pace: float) -> None:
    with pytest.raises(LacetError, match="pace"):
        walking_times_s(din33466.RULE, *even_slope(0.0), pace)


@pytest.mark.parametrize(
    ("distance_m", "height_m"),
    [([0.0, 1.0], [0.0]), ([], []), ([0.0, 2.0, 1.0], [0.0] * 3), ([0.0, np.nan], [0.0] * 2)],
)
def test_a_profile_that_is_none_is_refused(distance_m: list[float], height_m: list[float]) -> None:
    with pytest.raises(EffortError):
        walking_times_s(tobler.RULE, np.array(distance_m), np.array(height_m))
