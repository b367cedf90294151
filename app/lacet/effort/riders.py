"""Riders: how strong each class is, and what power they give by slope.

The figures are common practice without a source; they are in one place so that recorded rides can correct
them.
"""

from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType

import numpy as np

from lacet.effort.quantity import KMH_PER_M_S, Array, EffortError

CLIMBING_FROM_SLOPE_RATIO = 0.05
COASTING_FROM_SLOPE_RATIO = 0.06
"""From these slopes on a rider gives all the climbing power, or none (own judgement)."""


class RiderClass(StrEnum):
    """How strong a rider is, weakest first."""

    LEISURE = "leisure"
    REGULAR = "regular"
    SPORTY = "sporty"
    TRAINED = "trained"


@dataclass(frozen=True, slots=True)
class RiderFigures:
    """What a class of rider gives: level and climbing power [W], fastest descent on a good road [m/s]."""

    level_power_w: float
    climbing_power_w: float
    downhill_cap_m_s: float


RIDERS = MappingProxyType(
    {
        RiderClass.LEISURE: RiderFigures(70.0, 110.0, 25.0 / KMH_PER_M_S),
        RiderClass.REGULAR: RiderFigures(100.0, 150.0, 35.0 / KMH_PER_M_S),
        RiderClass.SPORTY: RiderFigures(140.0, 200.0, 45.0 / KMH_PER_M_S),
        RiderClass.TRAINED: RiderFigures(190.0, 260.0, 55.0 / KMH_PER_M_S),
    }
)
"""Common practice, no source: 18, 21, 24 and 27 km/h on a level road with an upright touring bike."""


@dataclass(frozen=True, slots=True)
class Rider:
    """A rider: own mass [kg], class, factor on the time (1.2 takes 20 % longer), luggage carried [kg]."""

    mass_kg: float = 75.0
    rider_class: RiderClass = RiderClass.LEISURE
    pace: float = 1.0
    luggage_kg: float = 8.0

    def __post_init__(self) -> None:
        if not (self.mass_kg > 0.0 and self.luggage_kg >= 0.0):
            raise EffortError("A rider's mass is above 0 kg, and luggage not below.")
        if not (np.isfinite(self.pace) and self.pace > 0.0):
            raise EffortError("A pace is a factor above 0, not {pace}.", pace=self.pace)


def rider_power_w(figures: RiderFigures, slope_ratio: Array) -> Array:
    """Power a rider gives by slope [W]: more uphill, fading to nothing downhill, both without a kink."""
    return power_and_rise(figures, slope_ratio)[0]


def power_and_rise(figures: RiderFigures, slope_ratio: Array) -> tuple[Array, Array]:
    """`rider_power_w`, and how steeply it changes with the slope [W per unit of slope]."""
    up = np.clip(slope_ratio / CLIMBING_FROM_SLOPE_RATIO, 0.0, 1.0)
    down = np.clip(-slope_ratio / COASTING_FROM_SLOPE_RATIO, 0.0, 1.0)
    more_w = figures.climbing_power_w - figures.level_power_w
    power_w = figures.level_power_w + more_w * up**2 * (3.0 - 2.0 * up)
    power_w -= figures.level_power_w * down**2 * (3.0 - 2.0 * down)
    rise_w = more_w * 6.0 * up * (1.0 - up) / CLIMBING_FROM_SLOPE_RATIO
    rise_w += figures.level_power_w * 6.0 * down * (1.0 - down) / COASTING_FROM_SLOPE_RATIO
    return np.maximum(power_w, 0.0), rise_w
