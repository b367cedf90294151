"""Minetti et al. (2002): the energy a metre on foot costs, by gradient."""

import numpy as np
from numpy.typing import ArrayLike

from lacet.effort.quantity import Array

WALKING_COEFFICIENTS = (280.5, -58.7, -76.8, 51.9, 19.6, 2.5)
RUNNING_COEFFICIENTS = (155.4, -30.4, -43.3, 46.3, 19.5, 3.6)
"""Highest power first [J/kg/m] as under figure 1 of the paper; held against its measured means."""

LIMIT_SLOPE_RATIO = 0.45

SOURCE = "A. E. Minetti et al., J. Appl. Physiol. 93, 1039-1046 (2002)"


def minetti_walking_j_per_kg_m(slope_ratio: ArrayLike) -> Array:
    """Energy cost of walking [J per kg of body and load, per metre].

    Parameters
    ----------
    slope_ratio : rise over run [-]; held at +-0.45, the end of the measurements

    Notes
    -----
    C = 280.5 i^5 - 58.7 i^4 - 76.8 i^3 + 51.9 i^2 + 19.6 i + 2.5. On the level the fit gives 2.5 where 1.64
    +- 0.50 was measured, so that flat walks are told as dearer than they are.

    References
    ----------
    Minetti, Moia, Roi, Susta, Ferretti (2002), "Energy cost of walking and running at extreme uphill and
    downhill slopes", J. Appl. Physiol. 93, 1039-1046.
    """
    return _polynomial(WALKING_COEFFICIENTS, slope_ratio)


def minetti_running_j_per_kg_m(slope_ratio: ArrayLike) -> Array:
    """Energy cost of running [J/kg/m]; range and source as in `minetti_walking_j_per_kg_m`."""
    return _polynomial(RUNNING_COEFFICIENTS, slope_ratio)


def _polynomial(coefficients: tuple[float, ...], slope_ratio: ArrayLike) -> Array:
    gradient = np.clip(np.asarray(slope_ratio, float), -LIMIT_SLOPE_RATIO, LIMIT_SLOPE_RATIO)
    total = np.full_like(gradient, coefficients[0])
    for coefficient in coefficients[1:]:
        total = total * gradient + coefficient
    return np.asarray(total)
