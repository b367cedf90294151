"""A ride along a profile: steady speeds by slope, with motor or without, pushed where it is too steep.

Rule of this module: the power balance is solved in tables kept per rider, bike and surface; everything a
person or a law adds (caps, cut-off, pushing, an empty battery) is put on top, step by step. Rolling ground
lends no momentum.
"""

from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from types import MappingProxyType

import numpy as np

from lacet.effort import ebike, epac
from lacet.effort.ebike import AssistLevel, Battery
from lacet.effort.energy import JOULES_PER_KJ, cycling_energy_kj, walking_energy_j
from lacet.effort.power_balance import Resistance, martin_power_w
from lacet.effort.quantity import JOULES_PER_WH, KMH_PER_M_S, Array, EffortError, Mask
from lacet.effort.speed_table import PowerBySlope, SpeedTable, place_of, speed_table
from lacet.effort.steps import Steps, cumulative, steps_of
from lacet.effort.tobler import OFF_PATH_FACTOR, tobler_speed_m_s
from lacet.trip.library import SurfaceStretch
from lacet.trip.words import Surface

LOWEST_RIDING_M_S = 1.4
"""Slower than this (5 km/h) a bike is pushed (common practice, no source)."""

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
    """What a class of rider gives: power on the level and on climbs [W], fastest descent on a good road
    [m/s].
    """

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
class SurfaceFigures:
    """Rolling resistance of a narrow tyre [-], and the fastest anyone should ride there [m/s]."""

    rolling_coefficient: float
    cap_m_s: float


SURFACES = MappingProxyType(
    {
        # 0.004 asphalt and 0.008 rough but paved: list of a cycling-physics page. The rest is common
        # practice, no source, and so are the caps
        Surface.ASPHALT: SurfaceFigures(0.004, 60.0 / KMH_PER_M_S),
        Surface.COMPACTED_GRAVEL: SurfaceFigures(0.008, 30.0 / KMH_PER_M_S),
        Surface.LOOSE_GRAVEL: SurfaceFigures(0.014, 20.0 / KMH_PER_M_S),
        Surface.PATH: SurfaceFigures(0.020, 15.0 / KMH_PER_M_S),
        Surface.ROCK: SurfaceFigures(0.030, 6.0 / KMH_PER_M_S),
    }
)


@dataclass(frozen=True, slots=True)
class Rider:
    """A rider: mass without luggage [kg], class, factor on the time (1.2 takes 20 % longer), luggage
    carried [kg].
    """

    mass_kg: float = 75.0
    rider_class: RiderClass = RiderClass.LEISURE
    pace: float = 1.0
    luggage_kg: float = 8.0


@dataclass(frozen=True, slots=True)
class BikeFigures:
    """A bike: mass [kg], battery [Wh, None = none], rated motor power [W], cut-off [m/s], drag and tyres.

    `drag_area_m2` is that of an upright tourer with bags; `tyre_factor` scales the narrow tyre's rolling
    resistance to a treaded touring tyre (both common practice, no source).
    """

    mass_kg: float = 15.0
    capacity_wh: float | None = None
    motor_power_w: float = epac.EUROPE.motor_power_w
    cut_off_m_s: float = epac.EUROPE.cut_off_m_s
    motor_efficiency_share: float = ebike.MOTOR_EFFICIENCY_SHARE
    standby_w: float = ebike.STANDBY_W
    drag_area_m2: float = 0.55
    tyre_factor: float = 1.5


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
        When the profile is refused by `steps_of`, or a mass, pace or share can't be.
    """
    if not (np.isfinite(rider.pace) and rider.pace > 0.0):
        raise EffortError(f"A pace is a factor above 0, not {rider.pace}.")
    if assist is not None and not assist.share >= 0.0:
        raise EffortError(f"The assist level {assist.name} has a share below 0.")
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


def resistance_of(rider: Rider, bike: BikeFigures, surface: Surface) -> Resistance:
    """What this rider on this bike has to overcome on a surface."""
    return Resistance(
        mass_kg=rider.mass_kg + rider.luggage_kg + bike.mass_kg,
        drag_area_m2=bike.drag_area_m2,
        rolling_coefficient=SURFACES[surface].rolling_coefficient * bike.tyre_factor,
    )


def rider_power_w(figures: RiderFigures, slope_ratio: Array) -> Array:
    """Power a rider gives by slope [W]: more uphill, fading to nothing downhill, both without a kink."""
    return _power_and_rise(figures, slope_ratio)[0]


def _power_and_rise(figures: RiderFigures, slope_ratio: Array) -> tuple[Array, Array]:
    up = np.clip(slope_ratio / CLIMBING_FROM_SLOPE_RATIO, 0.0, 1.0)
    down = np.clip(-slope_ratio / COASTING_FROM_SLOPE_RATIO, 0.0, 1.0)
    more_w = figures.climbing_power_w - figures.level_power_w
    power_w = figures.level_power_w + more_w * up**2 * (3.0 - 2.0 * up)
    power_w -= figures.level_power_w * down**2 * (3.0 - 2.0 * down)
    rise_w = more_w * 6.0 * up * (1.0 - up) / CLIMBING_FROM_SLOPE_RATIO
    rise_w += figures.level_power_w * 6.0 * down * (1.0 - down) / COASTING_FROM_SLOPE_RATIO
    return np.maximum(power_w, 0.0), rise_w


@lru_cache(maxsize=1024)
def _table(figures: RiderFigures, resistance: Resistance, factor: float, added_w: float) -> SpeedTable:
    """Speeds at the rider's power times a factor, plus a constant power."""

    def power_by_slope(slope_ratio: Array) -> tuple[Array, Array]:
        power_w, rise_w = _power_and_rise(figures, slope_ratio)
        return factor * power_w + added_w, factor * rise_w

    law: PowerBySlope = power_by_slope
    return speed_table(resistance, law)


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
    motor_w = _motor_w(needed_w, speed, rider_power_w(figures, slope_ratio), bike, share)
    if pushed.any():
        speed = np.where(pushed, tobler_speed_m_s(slope_ratio, OFF_PATH_FACTOR), speed)
        needed_w, motor_w = np.where(pushed, 0.0, needed_w), np.where(pushed, 0.0, motor_w)
    return Pedalled(speed, needed_w - motor_w, motor_w, pushed)


def _motor_w(needed_w: Array, speed_m_s: Array, alone_w: Array, bike: BikeFigures, share: float) -> Array:
    """Motor power at the pedals [W]: its share of what is needed; at the cut-off only what the rider leaves
    open.
    """
    if share <= 0.0:
        return np.zeros_like(needed_w)
    motor_w = np.minimum(needed_w * (share / (1.0 + share)), bike.motor_power_w)
    open_w = np.clip(needed_w - alone_w, 0.0, motor_w)
    return np.where(speed_m_s >= bike.cut_off_m_s, open_w, motor_w)


def _battery_wh(steps: Steps, pedalled: Pedalled, rider: Rider, bike: BikeFigures) -> Array:
    """Taken from the battery on each step [Wh]; a slower pace costs standby alone, its motor work is not
    made less.
    """
    seconds = steps.run_m / pedalled.speed_m_s
    drawn_w = pedalled.motor_w / bike.motor_efficiency_share + bike.standby_w * rider.pace
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
