"""The battery: what is usable of it, how much is left along the way, where it falls under the reserve.

Rule of this module: shares are shares of the *usable* charge, as a rider reads them from the display. A
battery gives its capacity times its health times what the cold leaves.
"""

from dataclasses import dataclass

import numpy as np

from lacet.effort.quantity import Array, EffortError
from lacet.trip.library import Assist

AssistLevel = Assist
"""An assist level is the library's own: a name, and motor power as a share of the rider's."""

LOWEST_ASSIST = AssistLevel("lowest", 0.6)
MIDDLE_ASSIST = AssistLevel("middle", 1.2)
HIGHEST_ASSIST = AssistLevel("highest", 2.4)
"""Levels for a bike whose maker's figures nobody has entered (common practice, no source)."""

MOTOR_EFFICIENCY_SHARE = 0.75
"""Power at the chain over power out of the battery, controller and motor at touring loads (common practice,
no source).
"""

UNSTEADY_FACTOR = 1.25
"""Motor work on a road over that at steady speed in still air: starts, corners, gusts (own judgement).

A start to 20 km/h with 113 kg costs 0.5 Wh of motion, a wind of 3 m/s from anywhere about a sixth of the
air's share.
"""

STANDBY_W = 5.0
"""Display, controller and lights (common practice, no source)."""

COLD_C = (-20.0, 0.0, 25.0)
COLD_SHARE = (0.60, 0.80, 1.00)
"""Capacity against 25 degrees Celsius. One cell at a high rate: for an e-bike pack this is on the safe side.

Source: Samsung SDI, specification of cell INR18650-15L, version 3.21, section 7.5.
"""

DEFAULT_TEMPERATURE_C = 15.0


@dataclass(frozen=True, slots=True)
class Battery:
    """A battery as it leaves in the morning.

    Attributes
    ----------
    capacity_wh : printed capacity [Wh]
    health_share : what age has left of it, 0 to 1
    start_share : how full it leaves, 0 to 1
    reserve_share : share of the usable charge that should be left at the end, 0 to 1
    """

    capacity_wh: float
    health_share: float = 1.0
    start_share: float = 1.0
    reserve_share: float = 0.2

    def __post_init__(self) -> None:
        if not (np.isfinite(self.capacity_wh) and self.capacity_wh > 0.0):
            raise EffortError(
                "A battery has a capacity above 0 Wh, not {capacity_wh}.", capacity_wh=self.capacity_wh
            )
        for name in ("health_share", "start_share", "reserve_share"):
            if not 0.0 <= getattr(self, name) <= 1.0:
                raise EffortError("A battery's {field} lies between 0 and 1.", field=name.replace("_", " "))


def cold_share(temperature_c: float) -> float:
    """What the temperature leaves of a battery's capacity [-]; held at the ends of the table."""
    return float(np.interp(temperature_c, COLD_C, COLD_SHARE))


def usable_wh(battery: Battery, temperature_c: float = DEFAULT_TEMPERATURE_C) -> float:
    """Usable charge of the full battery [Wh]."""
    return battery.capacity_wh * battery.health_share * cold_share(temperature_c)


def available_wh(battery: Battery, temperature_c: float = DEFAULT_TEMPERATURE_C) -> float:
    """Charge it leaves with [Wh]."""
    return usable_wh(battery, temperature_c) * battery.start_share


def share_left(battery: Battery, used_wh: Array, temperature_c: float = DEFAULT_TEMPERATURE_C) -> Array:
    """Share of the usable charge left after so many watt-hours [-], never below 0."""
    whole_wh = usable_wh(battery, temperature_c)
    if whole_wh <= 0.0:
        return np.zeros_like(np.asarray(used_wh, float))
    return np.maximum(battery.start_share - np.asarray(used_wh, float) / whole_wh, 0.0)


def below_reserve_at_m(
    distance_m: Array, used_wh: Array, battery: Battery, temperature_c: float = DEFAULT_TEMPERATURE_C
) -> float | None:
    """Where the battery falls under its reserve [m], None when it doesn't."""
    return crossing_m(
        distance_m, used_wh, (battery.start_share - battery.reserve_share) * usable_wh(battery, temperature_c)
    )


def crossing_m(distance_m: Array, used_wh: Array, limit_wh: float) -> float | None:
    """Where the use passes a limit [m], straight between nodes; None when it never does."""
    if float(used_wh[-1]) <= limit_wh:
        return None
    if limit_wh <= 0.0:
        return float(distance_m[0])
    return float(np.interp(limit_wh, used_wh, distance_m))
