"""A ride along a profile: steady speeds by slope, with motor or without, pushed where it is too steep.

Rule of this module: the power balance is solved in tables kept per rider, bike and surface; everything a
person or a law adds (caps, cut-off, pushing, an empty battery) is put on top, step by step. Rolling ground
lends no momentum.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from lacet.effort import ebike
from lacet.effort.bikes import SURFACES, BikeFigures, resistance_of
from lacet.effort.ebike import AssistLevel, Battery
from lacet.effort.energy import JOULES_PER_KJ, cycling_energy_kj, walking_energy_j
from lacet.effort.power_balance import Resistance, martin_power_w
from lacet.effort.quantity import JOULES_PER_WH, Array, EffortError, Mask
from lacet.effort.riders import RIDERS, Rider, RiderClass, RiderFigures, power_and_rise
from lacet.effort.speed_table import SpeedTable, place_of, speed_table
from lacet.effort.steps import STEEPEST_SLOPE_RATIO, Steps, cumulative, steps_of
from lacet.effort.tobler import OFF_PATH_FACTOR, tobler_speed_m_s
from lacet.trip.library import SurfaceStretch
from lacet.trip.words import Surface

__all__ = ["BikeFigures", "RideEffort", "Rider", "RiderClass", "Surface", "ride"]

LOWEST_RIDING_M_S = 1.4
"""Slower than this (5 km/h) a bike is pushed (common practice, no source)."""


@dataclass(frozen=True, slots=True, eq=False)
class RideEffort:
    """A ride along a profile of n nodes.

    Attributes
    ----------
    time_s : seconds since the start at each node, stops left out
    speed_m_s : speed on each of the n - 1 steps at pace 1
    rider_energy_j : work the rider does at the pedals [J]
    burnt_kj : energy the rider burns, pushing included [kJ]
    battery_wh_used : taken from the battery up to each node [Wh], None without a motor
    pushed_m : how far the bike is pushed [m]
    empty_at_m : where the battery runs out [m]; from there the ride goes on without it
    assumed_flat : True when a height was missing
    """

    time_s: Array
    speed_m_s: Array
    rider_energy_j: float
    burnt_kj: float
    battery_wh_used: Array | None
    pushed_m: float
    empty_at_m: float | None
    assumed_flat: bool

    @property
    def moving_s(self) -> float:
        """Moving time of the whole leg [s]."""
        return float(self.time_s[-1])


@dataclass(frozen=True, slots=True, eq=False)
class Pedalled:
    """Per step: speed [m/s], power of rider and motor at the pedals [W], whether the bike is pushed."""

    speed_m_s: Array
    rider_w: Array
    motor_w: Array
    pushed: Mask


def ride(
    distance_m: Array,
    height_m: Array,
    rider: Rider,
    bike: BikeFigures,
    surface: Surface = Surface.ASPHALT,
    assist: AssistLevel | None = None,
    battery: Battery | None = None,
    temperature_c: float = ebike.DEFAULT_TEMPERATURE_C,
    stretches: tuple[SurfaceStretch, ...] = (),
) -> RideEffort:
    """Ride a leg.

    Parameters
    ----------
    distance_m, height_m : the profile [m]; heights may be NaN
    surface, stretches : the surface, and where it is another one (in the leg's own distances)
    assist : assist level, None rides without the motor
    battery : where given, the motor stops when it is empty; without one the charge has no end
    temperature_c : what the battery has to bear

    Raises
    ------
    EffortError
        When the profile is refused by `steps_of`, or the assist's share is below 0.
    """
    if assist is not None and not assist.share >= 0.0:
        raise EffortError("The assist level {assist} has a share below 0.", assist=assist.name)
    distance_m = np.asarray(distance_m, float)
    steps = steps_of(distance_m, height_m)
    surfaces = _surfaces(distance_m, surface, stretches)
    pedalled = _pedalled(steps, surfaces, rider, bike, assist)
    if assist is None:
        return _effort(steps, pedalled, rider, bike, None, None)
    used_wh = cumulative(_battery_wh(steps, pedalled, rider, bike))
    if battery is None:
        return _effort(steps, pedalled, rider, bike, used_wh, None)
    available_wh = ebike.available_wh(battery, temperature_c)
    empty_at_m = ebike.crossing_m(distance_m, used_wh, available_wh)
    if empty_at_m is not None:
        with_motor = used_wh[1:] <= available_wh
        pedalled = _joined(with_motor, pedalled, _pedalled(steps, surfaces, rider, bike, None))
        used_wh = np.minimum(used_wh, available_wh)
    return _effort(steps, pedalled, rider, bike, used_wh, empty_at_m)


@lru_cache(maxsize=256)  # 58 kB each; a rider on a surface takes one, or three with a motor
def _table(figures: RiderFigures, resistance: Resistance, factor: float, added_w: float) -> SpeedTable:
    """Speeds at the rider's power times a factor, plus a constant power."""

    def power_by_slope(slope_ratio: Array) -> tuple[Array, Array]:
        power_w, rise_w = power_and_rise(figures, slope_ratio)
        return factor * power_w + added_w, factor * rise_w

    return speed_table(resistance, power_by_slope)


def _surfaces(
    distance_m: Array, surface: Surface, stretches: tuple[SurfaceStretch, ...]
) -> list[tuple[Surface, Mask | None]]:
    """The surfaces of a leg, each with the steps it covers (None = all)."""
    if not stretches:
        return [(surface, None)]
    middle_m = 0.5 * (distance_m[:-1] + distance_m[1:])
    kinds = list(Surface)
    kind = np.full(middle_m.size, kinds.index(surface))
    for stretch in stretches:
        kind[(middle_m >= stretch.from_m) & (middle_m < stretch.to_m)] = kinds.index(stretch.surface)
    return [(kinds[index], kind == index) for index in np.unique(kind)]


def _pedalled(
    steps: Steps,
    surfaces: list[tuple[Surface, Mask | None]],
    rider: Rider,
    bike: BikeFigures,
    assist: AssistLevel | None,
) -> Pedalled:
    """Speeds and powers on every step, surface by surface."""
    share = 0.0 if assist is None else assist.share
    if len(surfaces) == 1:
        return _pedalled_on(surfaces[0][0], steps.slope_ratio, rider, bike, share)
    count = steps.run_m.size
    whole = Pedalled(np.empty(count), np.empty(count), np.empty(count), np.empty(count, bool))
    for surface, covered in surfaces:
        part = _pedalled_on(surface, steps.slope_ratio[covered], rider, bike, share)
        for name in ("speed_m_s", "rider_w", "motor_w", "pushed"):
            getattr(whole, name)[covered] = getattr(part, name)
    return whole


def _pedalled_on(
    surface: Surface, slope_ratio: Array, rider: Rider, bike: BikeFigures, share: float
) -> Pedalled:
    figures, resistance = RIDERS[rider.rider_class], resistance_of(rider, bike, surface)
    where = place_of(slope_ratio)
    speed = _table(figures, resistance, 1.0, 0.0).speed_m_s(where)
    if share > 0.0:
        # the motor gives its share up to its power; above the cut-off the rider is alone again
        shared = _table(figures, resistance, 1.0 + share, 0.0).speed_m_s(where)
        capped = _table(figures, resistance, 1.0, bike.motor_power_w).speed_m_s(where)
        speed = np.maximum(speed, np.minimum(np.minimum(shared, capped), bike.cut_off_m_s))
    speed = np.minimum(speed, min(figures.downhill_cap_m_s, SURFACES[surface].cap_m_s))
    pushed = speed < LOWEST_RIDING_M_S
    needed_w = np.maximum(martin_power_w(resistance, speed, slope_ratio), 0.0)
    motor_w = _motor_w(needed_w, speed, bike, share)
    if pushed.any():
        walked = np.clip(slope_ratio, -STEEPEST_SLOPE_RATIO, STEEPEST_SLOPE_RATIO)
        speed = np.where(pushed, tobler_speed_m_s(walked, OFF_PATH_FACTOR), speed)
        needed_w, motor_w = np.where(pushed, 0.0, needed_w), np.where(pushed, 0.0, motor_w)
    return Pedalled(speed, needed_w - motor_w, motor_w, pushed)


def _motor_w(needed_w: Array, speed_m_s: Array, bike: BikeFigures, share: float) -> Array:
    """Motor power at the pedals [W]: its share of what is needed, nothing above the cut-off.

    At the cut-off itself the rider is taken to ease off rather than the motor, which is the safe side for the
    battery.
    """
    if share <= 0.0:
        return np.zeros_like(needed_w)
    motor_w = np.minimum(needed_w * (share / (1.0 + share)), bike.motor_power_w)
    return np.where(speed_m_s <= bike.cut_off_m_s, motor_w, 0.0)


def _battery_wh(steps: Steps, pedalled: Pedalled, rider: Rider, bike: BikeFigures) -> Array:
    """Taken from the battery on each step [Wh]; a slower pace costs standby alone, its motor work is not
    made less.
    """
    seconds = steps.run_m / pedalled.speed_m_s
    motor_w = pedalled.motor_w * (ebike.UNSTEADY_FACTOR / bike.motor_efficiency_share)
    drawn_w = motor_w + bike.standby_w * rider.pace
    return drawn_w * seconds / JOULES_PER_WH


def _joined(with_motor: Mask, assisted: Pedalled, alone: Pedalled) -> Pedalled:
    return Pedalled(
        np.where(with_motor, assisted.speed_m_s, alone.speed_m_s),
        np.where(with_motor, assisted.rider_w, alone.rider_w),
        np.where(with_motor, assisted.motor_w, alone.motor_w),
        np.where(with_motor, assisted.pushed, alone.pushed),
    )


def _effort(
    steps: Steps,
    pedalled: Pedalled,
    rider: Rider,
    bike: BikeFigures,
    used_wh: Array | None,
    empty_at_m: float | None,
) -> RideEffort:
    seconds = steps.run_m / pedalled.speed_m_s
    work_j = float(pedalled.rider_w @ seconds)
    pushed = pedalled.pushed
    pushed_kj = 0.0
    if pushed.any():
        mass_kg = rider.mass_kg + rider.luggage_kg + bike.mass_kg
        pushed_kj = (
            float(walking_energy_j(steps.run_m[pushed], steps.slope_ratio[pushed], mass_kg).sum())
            / JOULES_PER_KJ
        )
    return RideEffort(
        time_s=cumulative(seconds * rider.pace),
        speed_m_s=pedalled.speed_m_s,
        rider_energy_j=work_j,
        burnt_kj=cycling_energy_kj(work_j) + pushed_kj,
        battery_wh_used=used_wh,
        pushed_m=float(steps.run_m[pushed].sum()),
        empty_at_m=empty_at_m,
        assumed_flat=steps.assumed_flat,
    )
