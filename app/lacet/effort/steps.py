"""A profile cut into its steps: run, rise and slope between neighbouring nodes.

Rule of this module: a missing height is never invented. It is bridged in a straight line between its known
neighbours (level where nothing is known), and `assumed_flat` tells it, so that every figure built on it can
be marked.
"""

from dataclasses import dataclass

import numpy as np

from lacet.effort.quantity import Array, EffortError, Mask

STEEPEST_SLOPE_RATIO = 1.0
"""Slopes beyond 45 degrees are errors of the heights, not paths: walking is clamped here (own judgement)."""

SHORTEST_RUN_M = 1e-3
"""A step shorter than this is a repeated point: its slope says nothing."""


@dataclass(frozen=True, slots=True, eq=False)
class Steps:
    """Steps of a profile of n nodes.

    Attributes
    ----------
    run_m, rise_m, slope_ratio : arrays of n - 1
        Distance covered [m], height gained [m, negative down], rise over run [-] (0 where there is no run).
    assumed_flat : bool
        True when at least one height was missing.
    """

    run_m: Array
    rise_m: Array
    slope_ratio: Array
    assumed_flat: bool

    @property
    def climb_m(self) -> Array:
        """Height gained by each step [m], 0 where it falls."""
        return np.maximum(self.rise_m, 0.0)

    @property
    def fall_m(self) -> Array:
        """Height lost by each step [m], 0 where it climbs."""
        return np.maximum(-self.rise_m, 0.0)


def steps_of(distance_m: Array, height_m: Array) -> Steps:
    """Cut a profile into its steps.

    Parameters
    ----------
    distance_m : distance from the start at each node [m], never falling
    height_m : height at each node [m], NaN where unknown

    Raises
    ------
    EffortError
        When the arrays differ in length, are empty, or the distances are not finite or fall.
    """
    distance_m, height_m = np.asarray(distance_m, float), np.asarray(height_m, float)
    if distance_m.ndim != 1 or distance_m.shape != height_m.shape or distance_m.size == 0:
        raise EffortError("A profile needs one height for each distance, and at least one node.")
    run_m = np.diff(distance_m)
    # a NaN distance makes the comparison false, so this one test covers both faults
    if not (np.isfinite(distance_m[0]) and np.isfinite(distance_m[-1]) and np.all(run_m >= 0.0)):
        raise EffortError("The distances of a profile must be numbers that never fall.")
    known = np.isfinite(height_m)
    assumed_flat = not bool(known.all())
    rise_m = np.diff(_bridged(distance_m, height_m, known) if assumed_flat else height_m)
    slope_ratio = np.divide(rise_m, run_m, out=np.zeros_like(run_m), where=run_m > SHORTEST_RUN_M)
    return Steps(run_m, rise_m, slope_ratio, assumed_flat)


def cumulative(per_step: Array) -> Array:
    """Running sum of a figure per step, at each node, from 0."""
    total = np.empty(per_step.size + 1)
    total[0] = 0.0
    np.cumsum(per_step, out=total[1:])
    return total


def _bridged(distance_m: Array, height_m: Array, known: Mask) -> Array:
    if not known.any():
        return np.zeros_like(height_m)
    return np.interp(distance_m, distance_m[known], height_m[known])
