"""How far a battery lasts on ground of a kind: capacity, assist, and what such a kilometre takes.

The trade says that a full battery at the lowest assist gives about 70 km in rolling country (common practice,
no source). This model gives the same for a 500 Wh hire battery at nine tenths of its health, with a leisure
rider of 80 kg and 8 kg of luggage on a 25 kg bike, on asphalt with 15 m of climb a kilometre, at 15 degrees,
down to a reserve of a fifth. New, mild and ridden empty it would be 110 km; with 30 m a kilometre it is 45.
"""

from dataclasses import dataclass

from lacet.effort.bikes import BikeFigures
from lacet.effort.cycling import ride
from lacet.effort.ebike import (
    DEFAULT_TEMPERATURE_C,
    AssistLevel,
    Battery,
    usable_wh,
)
from lacet.effort.quantity import METRES_PER_KM, Array
from lacet.effort.riders import Rider, RiderClass
from lacet.trip.words import Surface

HIRE_RIDER = Rider(mass_kg=80.0, rider_class=RiderClass.LEISURE, luggage_kg=8.0)
HIRE_BIKE = BikeFigures(mass_kg=25.0)


@dataclass(frozen=True, slots=True)
class RangeAssumptions:
    """What a range rests on: who rides what on which ground, and the battery's state."""

    rider: Rider = HIRE_RIDER
    bike: BikeFigures = HIRE_BIKE
    surface: Surface = Surface.ASPHALT
    health_share: float = 0.9
    reserve_share: float = 0.2
    temperature_c: float = DEFAULT_TEMPERATURE_C


def wh_per_km(
    assist: AssistLevel, distance_m: Array, height_m: Array, given: RangeAssumptions = RangeAssumptions()
) -> float | None:
    """What the battery gives on a kilometre of this ground [Wh/km]; None where the bike has to be pushed.

    Pushing takes nothing from the battery: a mean over it would promise a range that nobody rides.
    """
    ridden = ride(distance_m, height_m, given.rider, given.bike, given.surface, assist)
    length_m = float(distance_m[-1] - distance_m[0])
    if ridden.battery_wh_used is None or ridden.pushed_m > 0.0 or ridden.assumed_flat or length_m <= 0.0:
        return None
    return float(ridden.battery_wh_used[-1]) * METRES_PER_KM / length_m


def range_m(
    capacity_wh: float,
    assist: AssistLevel,
    distance_m: Array,
    height_m: Array,
    given: RangeAssumptions = RangeAssumptions(),
) -> float | None:
    """How far a full battery goes on ground like this before it falls under its reserve [m].

    None where the bike has to be pushed or heights are missing.
    """
    spent = wh_per_km(assist, distance_m, height_m, given)
    if spent is None:
        return None
    battery = Battery(capacity_wh, given.health_share, reserve_share=given.reserve_share)
    return usable_wh(battery, given.temperature_c) * (1.0 - given.reserve_share) / spent * METRES_PER_KM
