"""Bikes and the ground under them: mass, drag, tyres, motor; rolling resistance and a sensible top speed."""

from dataclasses import dataclass
from types import MappingProxyType

from lacet.effort import ebike, epac
from lacet.effort.power_balance import Resistance
from lacet.effort.quantity import KMH_PER_M_S, EffortError
from lacet.effort.riders import Rider
from lacet.trip.words import Surface


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

    def __post_init__(self) -> None:
        if not (self.cut_off_m_s > 0.0 and self.motor_power_w > 0.0 and self.standby_w >= 0.0):
            raise EffortError("A motor has a power and a cut-off above 0, and a standby use not below 0.")
        if not 0.0 < self.motor_efficiency_share <= 1.0:
            raise EffortError("A motor's efficiency lies above 0 and is at most 1.")


def resistance_of(rider: Rider, bike: BikeFigures, surface: Surface) -> Resistance:
    """What this rider on this bike has to overcome on a surface."""
    return Resistance(
        mass_kg=rider.mass_kg + rider.luggage_kg + bike.mass_kg,
        drag_area_m2=bike.drag_area_m2,
        rolling_coefficient=SURFACES[surface].rolling_coefficient * bike.tyre_factor,
    )
