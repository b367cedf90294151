"""Tobler's hiking function: walking speed from the slope, fastest on a slight descent."""

import numpy as np
from numpy.typing import ArrayLike

from lacet.effort.quantity import KMH_PER_M_S, Array
from lacet.effort.rule import Ground, Needs, WalkingRule
from lacet.effort.steps import STEEPEST_SLOPE_RATIO

OFF_PATH_FACTOR = 0.6
HORSEBACK_FACTOR = 1.25

SOURCE = "W. Tobler, NCGIA Technical Report 93-1 (1993), after E. Imhof, Gelaende und Karte (1950)"


def tobler_speed_m_s(slope_ratio: ArrayLike, factor: float = 1.0) -> Array:
    """Walking speed on a slope [m/s].

    Parameters
    ----------
    slope_ratio : rise over run [-], negative down
    factor : 1 on a path, `OFF_PATH_FACTOR`, `HORSEBACK_FACTOR`

    Notes
    -----
    v = 6 km/h * exp(-3.5 |S + 0.05|). The formula has no end of its own: at S = 1 it gives 0.15 km/h, so
    whoever applies it to a profile has to clamp the slope.

    References
    ----------
    Tobler (1993), "Three Presentations on Geographical Analysis and Modeling", NCGIA TR 93-1.
    """
    slope = np.asarray(slope_ratio, float)
    return np.asarray(factor * (6.0 / KMH_PER_M_S) * np.exp(-3.5 * np.abs(slope + 0.05)))


def _step_s(ground: Ground) -> Array:
    slope_ratio = np.clip(ground.steps.slope_ratio, -STEEPEST_SLOPE_RATIO, STEEPEST_SLOPE_RATIO)
    return ground.steps.run_m / tobler_speed_m_s(slope_ratio)


RULE = WalkingRule(
    id="tobler",
    name="Tobler",
    source=SOURCE,
    note="speed from slope; clamped at 45 degrees",
    needs=frozenset({Needs.SLOPE}),
    step_s=_step_s,
)
