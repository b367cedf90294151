"""Campbell et al. (2019): speeds of recorded walkers and runners by slope, a curve for each percentile."""

from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from lacet.effort.quantity import Array
from lacet.effort.rule import Needs, WalkingRule


@dataclass(frozen=True, slots=True)
class Terms:
    """The five terms of one percentile's curve, for the slope in degrees."""

    a: float
    b: float
    c: float
    d: float
    e: float


TERMS = MappingProxyType(
    {
        1: Terms(-2.1, 12.273, 21.816, 0.263, -0.00193),
        5: Terms(-1.527, 14.041, 36.813, 0.32, -0.00273),
        10: Terms(-1.568, 13.328, 38.892, 0.404, -0.00323),
        25: Terms(-1.822, 8.827, 37.111, 0.616, -0.00402),
        50: Terms(-2.171, 10.064, 63.66, 0.628, -0.00463),
    }
)
"""Terms by percentile of speed. Walkers are roughly 1 to 10; the median of the sample is a jog."""

LIMIT_DEGREES = 30.0

SOURCE = "M. J. Campbell et al., Applied Geography 106, 93-107 (2019), supplement table S1"


def campbell_speed_m_s(slope_ratio: ArrayLike, percentile: int = 5) -> Array:
    """Speed on a slope [m/s], which is held at its value at 30 degrees beyond that.

    Parameters
    ----------
    slope_ratio : rise over run [-], negative down
    percentile : one of `TERMS`

    Notes
    -----
    v = c / (pi b (1 + ((theta - a) / b)^2)) + d + e theta, theta in degrees, -30 to 30. Some copies bracket
    the quotient as theta - a / b, which is wrong.

    References
    ----------
    Campbell, Dennison, Butler, Page (2019), "Using crowdsourced fitness tracker data to model the
    relationship between slope and travel rates", Applied Geography 106, 93-107.
    """
    terms = TERMS[percentile]
    degrees = np.clip(np.degrees(np.arctan(np.asarray(slope_ratio, float))), -LIMIT_DEGREES, LIMIT_DEGREES)
    peak = terms.c / (np.pi * terms.b * (1.0 + ((degrees - terms.a) / terms.b) ** 2))
    return np.asarray(peak + terms.d + terms.e * degrees)


RULE = WalkingRule(
    id="campbell",
    name="Campbell, 5th percentile",
    source=SOURCE,
    note="the slowest twentieth of recorded walkers and runners; held beyond 30 degrees",
    needs=frozenset({Needs.SLOPE}),
    step_s=lambda ground: ground.steps.run_m / campbell_speed_m_s(ground.steps.slope_ratio),
)
