"""Herzog's refit of Minetti's walking data: right on the level, and never below zero downhill."""

import numpy as np
from numpy.typing import ArrayLike

from lacet.effort.minetti import LIMIT_SLOPE_RATIO
from lacet.effort.quantity import Array

COEFFICIENTS = (1337.8, 278.19, -517.39, -78.199, 93.419, 19.825, 1.64)
"""Highest power first [J/kg/m]."""

SOURCE = "I. Herzog (2010, 2016), refit of Minetti et al. (2002), as quoted in an R package"


def herzog_walking_j_per_kg_m(slope_ratio: ArrayLike) -> Array:
    """Energy cost of walking [J/kg/m].

    Parameters
    ----------
    slope_ratio : rise over run [-], signed; held at +-0.45, the end of the measurements it was fitted to

    Notes
    -----
    C = 1337.8 s^6 + 278.19 s^5 - 517.39 s^4 - 78.199 s^3 + 93.419 s^2 + 19.825 s + 1.64.
    """
    slope = np.clip(np.asarray(slope_ratio, float), -LIMIT_SLOPE_RATIO, LIMIT_SLOPE_RATIO)
    return np.asarray(np.polyval(COEFFICIENTS, slope))
