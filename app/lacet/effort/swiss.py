"""The Swiss hiking-time polynomial: minutes per kilometre from the slope, as on Swiss signposts."""

import numpy as np
from numpy.typing import ArrayLike

from lacet.effort.quantity import METRES_PER_KM, SECONDS_PER_MINUTE, Array
from lacet.effort.rule import Needs, WalkingRule

COEFFICIENTS = (
    14.271, 3.6991, 2.5922, -1.4384, 0.32105, 0.81542, -0.090261, -0.20757,
    0.010192, 0.028588, -0.00057466, -0.0021842, 1.5176e-5, 8.6894e-5, -1.3584e-7, -1.4026e-6,
)  # fmt: skip
"""C0 to C15 [min/km], for the slope in tenths (10 % is 1)."""

LIMIT_SLOPE_RATIO = 0.40
STEEP_UP_MIN_PER_KM = 17.0
STEEP_DOWN_MIN_PER_KM = 9.0

SOURCE = "Schweizer Wanderwege, Wanderzeitberechnung (G. and S. Weber; nationwide since 2006)"


def swiss_pace_s_per_m(slope_ratio: ArrayLike) -> Array:
    """Walking pace on a slope [s/m].

    Parameters
    ----------
    slope_ratio : rise over run [-], negative down

    Notes
    -----
    t[min/km] = sum C_i S^i, i = 0 to 15, S = slope in tenths, for slopes under 40 %. Steeper ground is
    linear: 17 S up, 9 |S| down (this continuation comes from secondary sources).

    References
    ----------
    Schweizer Wanderwege, *Wanderzeitberechnung*; coefficients as in the viewer of the Swiss federal
    geoportal.
    """
    tenths = np.asarray(slope_ratio, float) * 10.0
    limit = LIMIT_SLOPE_RATIO * 10.0
    inside = np.clip(tenths, -limit, limit)
    polynomial = np.full_like(inside, COEFFICIENTS[-1])
    for coefficient in COEFFICIENTS[-2::-1]:
        polynomial = polynomial * inside + coefficient
    linear = np.where(tenths > 0.0, STEEP_UP_MIN_PER_KM, -STEEP_DOWN_MIN_PER_KM) * tenths
    min_per_km = np.where(np.abs(tenths) < limit, polynomial, linear)
    return np.asarray(min_per_km * (SECONDS_PER_MINUTE / METRES_PER_KM))


RULE = WalkingRule(
    id="swiss",
    name="Swiss hiking time",
    source=SOURCE,
    note="pace from slope; polynomial up to 40 %, linear beyond",
    needs=frozenset({Needs.SLOPE}),
    step_s=lambda ground: ground.steps.run_m * swiss_pace_s_per_m(ground.steps.slope_ratio),
)
