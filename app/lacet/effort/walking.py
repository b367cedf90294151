"""The walking rules applied to a profile: one registry, one function.

Rule of this module: rules over totals (Naismith, DIN 33466) keep their published total exactly, on the leg's
own length, ascent and descent, and are shared out along the way; rules over slopes (Tobler, Swiss, Campbell)
are summed step by step; Langmuir stands between them. The clamps here are the office's, the formulas' own
stand in their files.
"""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from lacet.effort import campbell, din33466, langmuir, naismith, swiss, tobler
from lacet.effort.quantity import Array, EffortError
from lacet.effort.steps import SHORTEST_RUN_M, Steps, cumulative, steps_of

STEEPEST_SLOPE_RATIO = 1.0
"""Slopes beyond 45 degrees are errors of the heights, not paths: Tobler is clamped here (own judgement)."""

FASTEST_DOWNHILL_M_S = 2.5
"""Cap for Langmuir's descents, which would ask for 12 km/h just below 12 degrees (9 km/h is own judgement).
"""

LANGMUIR_STRETCH_M = 500.0
"""Langmuir's corrections go by the mean slope of stretches about this long (own judgement)."""


class WalkingRule(StrEnum):
    """The walking rules an office can choose from."""

    DIN33466 = "din33466"
    NAISMITH = "naismith"
    LANGMUIR = "langmuir"
    TOBLER = "tobler"
    SWISS = "swiss"
    CAMPBELL = "campbell"


OFFICE_DEFAULT = WalkingRule.DIN33466


@dataclass(frozen=True, slots=True, eq=False)
class WalkingTimes:
    """Moving time along a leg.

    Attributes
    ----------
    time_s : seconds since the start at each node, stops left out
    assumed_flat : True when a height was missing, so that the time is only what the known ground asks for
    """

    time_s: Array
    assumed_flat: bool

    @property
    def moving_s(self) -> float:
        """Moving time of the whole leg [s]."""
        return float(self.time_s[-1])


@dataclass(frozen=True, slots=True, eq=False)
class Ground:
    """What a rule may look at: the steps, and the leg's climb and fall shared out over them [m]."""

    steps: Steps
    climb_m: Array
    fall_m: Array


def walking_times_s(
    rule: WalkingRule,
    distance_m: Array,
    height_m: Array,
    pace: float = 1.0,
    ascent_m: float | None = None,
    descent_m: float | None = None,
) -> WalkingTimes:
    """Moving time along a leg by one rule.

    Parameters
    ----------
    distance_m, height_m : the profile [m]; heights may be NaN
    pace : factor on the time: 1 is the rule, 1.2 takes 20 % longer
    ascent_m, descent_m : the leg's own totals [m]; without them the plain sums of the profile are taken.
        Rules over slopes alone (Tobler, Swiss, Campbell) don't look at them.

    Raises
    ------
    EffortError
        When the pace is not above 0, or the profile is refused by `steps_of`.
    """
    if not (np.isfinite(pace) and pace > 0.0):
        raise EffortError(f"A pace is a factor above 0, not {pace}.")
    steps = steps_of(distance_m, height_m)
    ground = Ground(
        steps,
        _shared_out(ascent_m, steps.climb_m, steps.run_m),
        _shared_out(descent_m, steps.fall_m, steps.run_m),
    )
    return WalkingTimes(cumulative(RULES[rule](ground) * pace), steps.assumed_flat)


def _shared_out(total_m: float | None, part_m: Array, run_m: Array) -> Array:
    """The total in the proportions of the parts; by distance where the profile shows none of it."""
    if total_m is None or not np.isfinite(total_m):
        return part_m
    weight = part_m if part_m.any() else run_m
    whole = float(weight.sum())
    return weight * (total_m / whole) if whole > 0.0 else np.zeros_like(weight)


def _din33466_s(ground: Ground) -> Array:
    # the larger of the two times counts whole and the smaller half; which is which is settled by the leg's
    # totals, so that the sum of the steps is the published total
    level_s = din33466.horizontal_time_s(ground.steps.run_m)
    steep_s = din33466.vertical_time_s(ground.climb_m, ground.fall_m)
    if level_s.sum() >= steep_s.sum():
        return level_s + 0.5 * steep_s
    return steep_s + 0.5 * level_s


def _naismith_s(ground: Ground) -> Array:
    return naismith.naismith_time_s(ground.steps.run_m, ground.climb_m)


def _langmuir_s(ground: Ground) -> Array:
    run_m = ground.steps.run_m
    stretch = _stretches(run_m)
    length_m = np.maximum(np.bincount(stretch, run_m), SHORTEST_RUN_M)
    slope_ratio = np.bincount(stretch, ground.steps.rise_m) / length_m
    correction_s = langmuir.langmuir_correction_s_per_m(slope_ratio) * np.bincount(stretch, ground.fall_m)
    quickest_s_per_m = 1.0 / FASTEST_DOWNHILL_M_S - 1.0 / naismith.FLAT_SPEED_M_S
    return _naismith_s(ground) + np.maximum(correction_s / length_m, quickest_s_per_m)[stretch] * run_m


def _stretches(run_m: Array) -> NDArray[np.intp]:
    """For each step, which stretch of about `LANGMUIR_STRETCH_M` it lies in."""
    distance_m = cumulative(run_m)
    length_m = float(distance_m[-1])
    count = max(1, round(length_m / LANGMUIR_STRETCH_M))
    middle_m = distance_m[:-1] + 0.5 * run_m
    return np.minimum(middle_m * (count / max(length_m, SHORTEST_RUN_M)), count - 1).astype(np.intp)


def _tobler_s(ground: Ground) -> Array:
    slope_ratio = np.clip(ground.steps.slope_ratio, -STEEPEST_SLOPE_RATIO, STEEPEST_SLOPE_RATIO)
    return ground.steps.run_m / tobler.tobler_speed_m_s(slope_ratio)


def _swiss_s(ground: Ground) -> Array:
    return ground.steps.run_m * swiss.swiss_pace_s_per_m(ground.steps.slope_ratio)


def _campbell_s(ground: Ground) -> Array:
    return ground.steps.run_m / campbell.campbell_speed_m_s(ground.steps.slope_ratio)


RULES: MappingProxyType[WalkingRule, Callable[[Ground], Array]] = MappingProxyType(
    {
        WalkingRule.DIN33466: _din33466_s,
        WalkingRule.NAISMITH: _naismith_s,
        WalkingRule.LANGMUIR: _langmuir_s,
        WalkingRule.TOBLER: _tobler_s,
        WalkingRule.SWISS: _swiss_s,
        WalkingRule.CAMPBELL: _campbell_s,
    }
)
"""Seconds per step at pace 1, by rule."""

SOURCES: MappingProxyType[WalkingRule, str] = MappingProxyType(
    {
        WalkingRule.DIN33466: din33466.SOURCE,
        WalkingRule.NAISMITH: naismith.SOURCE,
        WalkingRule.LANGMUIR: langmuir.SOURCE,
        WalkingRule.TOBLER: tobler.SOURCE,
        WalkingRule.SWISS: swiss.SOURCE,
        WalkingRule.CAMPBELL: campbell.SOURCE,
    }
)
