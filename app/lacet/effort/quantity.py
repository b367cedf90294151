"""Types and constants that the formulas share. Nothing here is a rule of its own."""

from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from lacet.trip.errors import LacetError

Array = NDArray[np.float64]
"""A float64 array; a formula given a scalar returns a zero-dimensional one, which `float()` takes."""

Mask = NDArray[np.bool_]

Quantity = TypeVar("Quantity", float, Array)
"""A float or an array, where a formula gives back what it was given."""

GRAVITY_M_S2 = 9.81
SECONDS_PER_HOUR = 3600.0
SECONDS_PER_MINUTE = 60.0
JOULES_PER_WH = 3600.0
METRES_PER_KM = 1000.0
METRES_PER_MILE = 1609.344
METRES_PER_FOOT = 0.3048
KMH_PER_M_S = 3.6


class EffortError(LacetError):
    """A figure that cannot be computed with; the message says which and why."""
