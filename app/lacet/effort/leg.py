"""One leg on foot or by bike: the figures an assessment needs, in one call.

Rule of this module: parameters are frozen and hashable, so that callers can keep what they got; results hold
arrays and are compared by identity.
"""

from dataclasses import dataclass

import numpy as np

from lacet.effort import ebike
from lacet.effort.bikes import BikeFigures
from lacet.effort.cycling import ride
from lacet.effort.ebike import AssistLevel, Battery
from lacet.effort.energy import walking_energy_kj
from lacet.effort.quantity import Array
from lacet.effort.riders import Rider, RiderClass
from lacet.effort.rule import WalkingRule
from lacet.effort.steps import steps_of
from lacet.effort.walking import OFFICE_DEFAULT, walking_times_s
from lacet.trip.library import SurfaceStretch
from lacet.trip.words import Surface

HARDEST_LENGTH_M = 1000.0
HARDEST_STEP_M = 100.0

__all__ = [
    "AssistLevel",
    "Battery",
    "BikeFigures",
    "LegEffort",
    "Rider",
    "RiderClass",
    "Stretch",
    "Walker",
    "WalkingRule",
    "ride_leg",
    "walk_leg",
]


@dataclass(frozen=True, slots=True)
class Walker:
    """A walker: factor on the time (1.2 takes 20 % longer), body and daypack [kg]."""

    pace: float = 1.0
    mass_kg: float = 80.0


@dataclass(frozen=True, slots=True)
class Stretch:
    """A stretch of a leg: from and to [m], and its moving time [s]."""

    from_m: float
    to_m: float
    moving_s: float


@dataclass(frozen=True, slots=True, eq=False)
class LegEffort:
    """What one leg costs.

    Attributes
    ----------
    moving_s : moving time of the leg, stops left out
    time_s : seconds since its start at each node
    battery_wh : taken from the battery up to each node [Wh], None without a motor
    energy_kj : energy the body burns
    hardest : the kilometre that takes longest
    pushed_m : how far a bike is pushed
    empty_at_m : where the battery runs out [m], when one was given and does
    assumed_flat : True when a height was missing: every figure here is then not proved
    """

    moving_s: float
    time_s: Array
    battery_wh: Array | None
    energy_kj: float
    hardest: Stretch
    pushed_m: float
    empty_at_m: float | None
    assumed_flat: bool


def walk_leg(
    distance_m: Array,
    height_m: Array,
    walker: Walker,
    rule: WalkingRule = OFFICE_DEFAULT,
    ascent_m: float | None = None,
    descent_m: float | None = None,
) -> LegEffort:
    """Figures of a leg on foot; the parameters are those of `walking_times_s`."""
    times = walking_times_s(rule, distance_m, height_m, walker.pace, ascent_m, descent_m)
    return LegEffort(
        moving_s=times.moving_s,
        time_s=times.time_s,
        battery_wh=None,
        energy_kj=walking_energy_kj(steps_of(distance_m, height_m), walker.mass_kg),
        hardest=hardest_stretch(distance_m, times.time_s),
        pushed_m=0.0,
        empty_at_m=None,
        assumed_flat=times.assumed_flat,
    )


def ride_leg(
    distance_m: Array,
    height_m: Array,
    rider: Rider,
    bike: BikeFigures,
    surface: Surface = Surface.ASPHALT,
    assist: AssistLevel | None = None,
    battery: Battery | None = None,
    temperature_c: float = ebike.DEFAULT_TEMPERATURE_C,
    stretches: tuple[SurfaceStretch, ...] = (),
) -> LegEffort:
    """Figures of a leg by bike; the parameters are those of `cycling.ride`.

    Without `battery` the charge has no end, so that the leg's use doesn't depend on the legs before it: a day
    adds the legs up and asks `ebike.share_left` and `ebike.below_reserve_at_m`.
    """
    ridden = ride(distance_m, height_m, rider, bike, surface, assist, battery, temperature_c, stretches)
    return LegEffort(
        moving_s=ridden.moving_s,
        time_s=ridden.time_s,
        battery_wh=ridden.battery_wh_used,
        energy_kj=ridden.burnt_kj,
        hardest=hardest_stretch(distance_m, ridden.time_s),
        pushed_m=ridden.pushed_m,
        empty_at_m=ridden.empty_at_m,
        assumed_flat=ridden.assumed_flat,
    )


def hardest_stretch(distance_m: Array, time_s: Array, length_m: float = HARDEST_LENGTH_M) -> Stretch:
    """The stretch of a length that takes longest, to the nearest 100 m; the whole leg where it is shorter."""
    start_m, end_m = float(distance_m[0]), float(distance_m[-1])
    if end_m - start_m <= length_m:
        return Stretch(start_m, end_m, float(time_s[-1] - time_s[0]))
    from_m = np.append(np.arange(start_m, end_m - length_m, HARDEST_STEP_M), end_m - length_m)
    seconds = np.interp(from_m + length_m, distance_m, time_s) - np.interp(from_m, distance_m, time_s)
    hardest = int(np.argmax(seconds))
    return Stretch(float(from_m[hardest]), float(from_m[hardest]) + length_m, float(seconds[hardest]))
