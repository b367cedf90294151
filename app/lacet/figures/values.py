"""The figures of legs, groups, days and whole variants. Frozen; unknown is None, never zero.

Clock values are seconds after local midnight of the day they belong to (`..._s` on the clock may pass
86 400 when a day runs past midnight). Arrays live in `LegTrace`, outside equality.
"""

from dataclasses import dataclass, field
from datetime import date

import numpy as np
from numpy.typing import NDArray

from lacet.trip.trip import Item, Leg
from lacet.trip.words import Way

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class LegTrace:
    """A leg along the way: what the profile, the map and the hover read.

    Attributes
    ----------
    distance_m, height_m : (n,)
        From the leg's start; heights are smoothed, NaN where unknown.
    time_s : (n,)
        Moving seconds since the leg's start, of the slowest in the group.
    battery_share : (n,) or None
        Battery left, of the rider with least.
    """

    distance_m: FloatArray
    height_m: FloatArray
    time_s: FloatArray
    battery_share: FloatArray | None


@dataclass(frozen=True, slots=True, kw_only=True)
class RiderBattery:
    """One rider's battery over one leg, as shares of what it holds when full that day.

    `temperature_c` is what it has to bear; where nobody has said how warm it gets, it is the unkind case.
    """

    traveller: str
    start_share: float
    left_share: float
    used_wh: float
    usable_wh: float
    under_reserve_at_m: float | None
    temperature_c: float
    temperature_known: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class LegFigures:
    """One leg for those who travel it together. `assumed_flat` says that heights were missing."""

    leg: Leg
    stage_name: str
    from_place: str | None
    to_place: str | None
    travellers: tuple[str, ...]
    distance_m: float
    ascent_m: float | None
    descent_m: float | None
    lowest_m: float | None
    highest_m: float | None
    moving_s: float
    moving_s_of: tuple[tuple[str, float], ...]
    assumed_flat: bool
    starts_s: float
    ends_s: float
    batteries: tuple[RiderBattery, ...] = ()
    trace: LegTrace = field(compare=False, repr=False)

    @property
    def battery_left_share(self) -> float | None:
        """The least any rider has left, or None on foot and without a battery."""
        return min((battery.left_share for battery in self.batteries), default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One item of a group's day on the clock."""

    item: Item
    starts_s: float
    ends_s: float | None
    from_place: str | None
    to_place: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupFigures:
    """Those who spend a day together. `departs_s` and `done_s` are None on a day without travel."""

    travellers: tuple[str, ...]
    items: tuple[Item, ...]
    steps: tuple[Step, ...]
    legs: tuple[LegFigures, ...]
    ways: tuple[Way, ...]
    start_place: str | None
    end_place: str | None
    distance_m: float
    ascent_m: float | None
    descent_m: float | None
    moving_s: float
    departs_s: float | None
    done_s: float | None
    battery_left_share: float | None
    missing: tuple[str, ...] = ()

    @property
    def known(self) -> bool:
        """Whether every figure rests on known heights and stages."""
        return (
            not self.missing and self.ascent_m is not None and not any(leg.assumed_flat for leg in self.legs)
        )


@dataclass(frozen=True, slots=True)
class AlternativeFigures:
    """What a day would be if an alternative were taken; never part of the totals."""

    id: str
    groups: tuple[GroupFigures, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DayFigures:
    """One day of a variant. Its own figures are those of the group that moves longest (`lead`)."""

    number: int
    id: str
    on: date | None
    groups: tuple[GroupFigures, ...]
    lead: int
    rest: bool
    sunrise_s: float | None
    sunset_s: float | None
    civil_dusk_s: float | None
    polar: str | None
    alternatives: tuple[AlternativeFigures, ...] = ()

    @property
    def group(self) -> GroupFigures | None:
        return self.groups[self.lead] if self.groups else None


@dataclass(frozen=True, slots=True, kw_only=True)
class TravellerTotals:
    """What one guest does in the whole trip; None where a day is unknown."""

    traveller: str
    walking_m: float
    cycling_m: float
    ascent_m: float | None
    moving_s: float


@dataclass(frozen=True, slots=True, kw_only=True)
class VariantTotals:
    """Sums over the days that are known; `unknown_days` counts the others."""

    days: int
    nights: int
    rest_days: int
    walking_m: float
    cycling_m: float
    distance_m: float
    ascent_m: float
    descent_m: float
    moving_s: float
    unknown_days: int


@dataclass(frozen=True, slots=True, kw_only=True)
class VariantFigures:
    days: tuple[DayFigures, ...]
    totals: VariantTotals
    travellers: tuple[TravellerTotals, ...]
