"""Steady speed by slope as a table of cubics, so that a ride never solves the power balance point by point.

Rule of this module: only smooth curves are tabled (one power law, one resistance). Caps, cut-offs and the
change to pushing are applied after the look-up, so that their kinks stay exact.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lacet.effort.power_balance import Resistance, martin_speed_m_s, speed_rise_m_s
from lacet.effort.quantity import Array

LOWEST_SLOPE_RATIO = -0.40
HIGHEST_SLOPE_RATIO = 0.50
STEP_SLOPE_RATIO = 0.0005

PowerBySlope = Callable[[Array], tuple[Array, Array]]
"""Power [W] and its rise [W per unit of slope]; kinks may stand only on multiples of `STEP_SLOPE_RATIO`."""


@dataclass(frozen=True, slots=True, eq=False)
class SpeedTable:
    """Cubic Hermite pieces over equal steps of slope; `cubics` holds a row of four coefficients a step."""

    cubics: Array

    def speed_m_s(self, where: "Place") -> Array:
        """Speeds at looked-up slopes [m/s]."""
        row = self.cubics[where.row]
        speed = row[:, 3] * where.part
        for power in (2, 1):
            speed += row[:, power]
            speed *= where.part
        return np.asarray(speed + row[:, 0])


@dataclass(frozen=True, slots=True, eq=False)
class Place:
    """Where slopes lie in any table: row, and part of the step beyond it (0 to 1)."""

    row: NDArray[np.intp]
    part: Array


def place_of(slope_ratio: Array) -> Place:
    """Look slopes up, once for all tables; slopes outside the tables are held at their ends."""
    steps = (
        np.clip(slope_ratio, LOWEST_SLOPE_RATIO, HIGHEST_SLOPE_RATIO) - LOWEST_SLOPE_RATIO
    ) / STEP_SLOPE_RATIO
    row = np.minimum(steps.astype(np.intp), _count() - 2)
    return Place(row, steps - row)


def speed_table(resistance: Resistance, power_by_slope: PowerBySlope) -> SpeedTable:
    """Table the steady speed of one power law against one resistance; under 0.03 ppm from the solved
    balance.
    """
    slope_ratio = np.linspace(LOWEST_SLOPE_RATIO, HIGHEST_SLOPE_RATIO, _count())
    power_w, power_rise_w = power_by_slope(slope_ratio)
    speed = martin_speed_m_s(resistance, power_w, slope_ratio)
    rise = speed_rise_m_s(resistance, speed, slope_ratio, power_rise_w) * STEP_SLOPE_RATIO
    left, right, left_rise, right_rise = speed[:-1], speed[1:], rise[:-1], rise[1:]
    square = 3.0 * (right - left) - 2.0 * left_rise - right_rise
    cube = 2.0 * (left - right) + left_rise + right_rise
    return SpeedTable(np.column_stack((left, left_rise, square, cube)))


def _count() -> int:
    return round((HIGHEST_SLOPE_RATIO - LOWEST_SLOPE_RATIO) / STEP_SLOPE_RATIO) + 1
