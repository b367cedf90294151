"""How far a battery lasts: capacity x assist x climb per kilometre.

The trade says that a full battery at the lowest assist gives about 70 km in rolling country (common practice,
no source). This model gives the same for a 500 Wh hire battery at nine tenths of its health, with a leisure
rider of 80 kg and 8 kg of luggage on a 25 kg bike, on asphalt with 15 m of climb a kilometre, at 15 degrees,
down to a reserve of a fifth. New, mild and ridden empty it would be 110 km; with 30 m a kilometre it is 45.
"""

from dataclasses import dataclass

import numpy as np

from lacet.effort.bikes import BikeFigures
from lacet.effort.cycling import ride
from lacet.effort.ebike import (
    DEFAULT_TEMPERATURE_C,
    AssistLevel,
    Battery,
    usable_wh,
)
from lacet.effort.quantity import METRES_PER_KM, Array, EffortError
from lacet.effort.riders import Rider, RiderClass
from lacet.trip.words import Surface

ROLLING_CLIMB_M_PER_KM = 15.0
"""Climb per kilometre of rolling country (common practice, no source)."""

HIRE_RIDER = Rider(mass_kg=80.0, rider_class=RiderClass.LEISURE, luggage_kg=8.0)
HIRE_BIKE = BikeFigures(mass_kg=25.0)

HILL_SPACING_M = 2000.0
SAMPLE_LENGTH_M = 20_000.0
SAMPLE_STEP_M = 50.0


@dataclass(frozen=True, slots=True)
class RangeAssumptions:
    """What a range rests on: who rides what on which ground, and the battery's state."""

    rider: Rider = HIRE_RIDER
    bike: BikeFigures = HIRE_BIKE
    surface: Surface = Surface.ASPHALT
    health_share: float = 0.9
    reserve_share: float = 0.2
    temperature_c: float = DEFAULT_TEMPERATURE_C


def rolling_profile(climb_m_per_km: float) -> tuple[Array, Array]:
    """Distance and height [m] of 20 km of even hills, 2 km from top to top, climbing so much a kilometre."""
    if not climb_m_per_km >= 0.0:
        raise EffortError(f"Climb per kilometre is not below 0 m, so not {climb_m_per_km}.")
    distance_m = np.arange(0.0, SAMPLE_LENGTH_M + SAMPLE_STEP_M, SAMPLE_STEP_M)
    hill_m = climb_m_per_km * HILL_SPACING_M / METRES_PER_KM
    return distance_m, hill_m / 2.0 * (1.0 - np.cos(2.0 * np.pi * distance_m / HILL_SPACING_M))


def wh_per_km(
    assist: AssistLevel, climb_m_per_km: float, given: RangeAssumptions = RangeAssumptions()
) -> float:
    """What the battery gives on a kilometre of rolling ground [Wh/km]."""
    distance_m, height_m = rolling_profile(climb_m_per_km)
    ridden = ride(distance_m, height_m, given.rider, given.bike, given.surface, assist)
    assert ridden.battery_wh_used is not None  # an assist was given
    return float(ridden.battery_wh_used[-1]) * METRES_PER_KM / SAMPLE_LENGTH_M


def range_m(
    capacity_wh: float,
    assist: AssistLevel,
    climb_m_per_km: float,
    given: RangeAssumptions = RangeAssumptions(),
) -> float:
    """How far a full battery takes the rider before it falls under its reserve [m]."""
    battery = Battery(capacity_wh, given.health_share, reserve_share=given.reserve_share)
    spent_wh = usable_wh(battery, given.temperature_c) * (1.0 - given.reserve_share)
    return spent_wh / wh_per_km(assist, climb_m_per_km, given) * METRES_PER_KM
