"""One leg for those who travel it together: length, climb, time and battery.

Rules: a group moves at the pace of its slowest; everybody's own time is kept beside it. The profile and
each rider's effort depend on nothing but frozen inputs and are kept between assessments, which is what
lets a drag ask for a whole variant many times a second.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from lacet.effort.cycling import BikeFigures, Rider, RiderClass
from lacet.effort.ebike import LOWEST_ASSIST, AssistLevel, Battery, share_left, usable_wh
from lacet.effort.leg import LegEffort, Walker, ride_leg, walk_leg
from lacet.effort.walking import walking_rule
from lacet.figures.leg_line import travelled
from lacet.figures.values import FloatArray, LegFigures, LegTrace, RiderBattery
from lacet.tracks.profile import Profile, profile
from lacet.tracks.track import Track
from lacet.trip.catalogue import Catalogue
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import Bike, Stage, SurfaceStretch
from lacet.trip.party import Traveller
from lacet.trip.region import UNKIND_C
from lacet.trip.trip import Hire, Leg, Trip
from lacet.trip.words import Surface, Way

KEPT_PROFILES = 256
KEPT_EFFORTS = 2048
_RIDER_CLASSES = {member.value: member for member in RiderClass}


class Batteries:
    """How full each rider's battery is, carried through the days; full until something is ridden."""

    def __init__(self, shares: dict[str, float] | None = None) -> None:
        self._shares = dict(shares or {})

    def share(self, traveller_id: str) -> float:
        return self._shares.get(traveller_id, 1.0)

    def leave(self, traveller_id: str, share: float) -> None:
        """Set what is left after a leg."""
        self._shares[traveller_id] = share

    def fill(self, traveller_id: str) -> None:
        """Charge overnight."""
        self._shares.pop(traveller_id, None)

    def copy(self) -> "Batteries":
        return Batteries(self._shares)

    def shares(self) -> tuple[tuple[str, float], ...]:
        """Those that aren't known to be full, by guest."""
        return tuple(sorted(self._shares.items()))


@dataclass(frozen=True, slots=True, eq=False)
class LegDraft:
    """A leg reckoned, but not yet on the clock of its day."""

    leg: Leg
    stage: Stage
    travellers: tuple[str, ...]
    line: Profile
    slowest: LegEffort
    efforts: tuple[LegEffort, ...]
    batteries: tuple[RiderBattery, ...]
    battery_share: FloatArray | None

    @property
    def moving_s(self) -> float:
        return self.slowest.moving_s

    def on_the_clock(
        self, starts_s: float, ends_s: float, from_place: str | None, to_place: str | None
    ) -> LegFigures:
        """The leg's figures between two clock times."""
        return LegFigures(
            leg=self.leg,
            stage_name=self.stage.name,
            from_place=from_place,
            to_place=to_place,
            travellers=self.travellers,
            distance_m=self.line.length_m,
            ascent_m=self.line.ascent_m,
            descent_m=self.line.descent_m,
            lowest_m=self.line.lowest_m,
            highest_m=self.line.highest_m,
            moving_s=self.slowest.moving_s,
            moving_s_of=tuple(
                (who, effort.moving_s) for who, effort in zip(self.travellers, self.efforts, strict=True)
            ),
            assumed_flat=self.slowest.assumed_flat,
            starts_s=starts_s,
            ends_s=ends_s,
            batteries=self.batteries,
            trace=LegTrace(
                distance_m=self.line.distance_m,
                height_m=self.line.height_m,
                time_s=self.slowest.time_s,
                battery_share=self.battery_share,
            ),
        )


@dataclass(frozen=True, slots=True, eq=False)
class LegMaker:
    """Reckons the legs of one day. `hires` are those that cover it."""

    trip: Trip
    hires: tuple[Hire, ...]
    catalogue: Catalogue
    rules: HouseRules

    def draft(self, leg: Leg, travellers: tuple[str, ...], batteries: Batteries) -> LegDraft | None:
        """Reckon a leg, taking from the batteries; None when the library lacks the stage or its track."""
        stage = self.catalogue.get(Stage, leg.stage)
        if stage is None or stage.track_id not in self.catalogue.tracks or not travellers:
            return None
        line = leg_profile(self.catalogue.tracks[stage.track_id], leg.backward, leg.cut_from_m, leg.cut_to_m)
        if line is None:
            return None
        guests = [guest for guest in self.trip.party.travellers if guest.id in travellers]
        if leg.way is Way.WALKING:
            efforts = tuple(_walked(line, _walker(guest), self.rules.walking_rule) for guest in guests)
            left: list[tuple[RiderBattery, FloatArray]] = []
        else:
            ridden = [self._ride(leg, stage, line, guest, batteries) for guest in guests]
            efforts = tuple(effort for effort, _ in ridden)
            left = [battery for _, battery in ridden if battery is not None]
        least = min(left, key=lambda each: each[0].left_share, default=None)
        return LegDraft(
            leg=leg,
            stage=stage,
            travellers=tuple(guest.id for guest in guests),
            line=line,
            slowest=max(efforts, key=lambda effort: effort.moving_s),
            efforts=efforts,
            batteries=tuple(battery for battery, _ in left),
            battery_share=None if least is None else least[1],
        )

    def temperature_c(self) -> float | None:
        """What a battery has to bear: the month's mean; None where the region doesn't state it."""
        month = self.trip.start.month if self.trip.start is not None else self.trip.month
        return self.catalogue.region.temperature_in(month)

    def bike_of(self, traveller_id: str, leg: Leg) -> Bike | None:
        """The library bike a guest rides on a leg, or None for their own or an unknown one."""
        ref = leg.bike or next((hire.bike for hire in self.hires if hire.traveller == traveller_id), None)
        return None if ref is None else self.catalogue.get(Bike, ref)

    def _ride(
        self,
        leg: Leg,
        stage: Stage,
        line: Profile,
        guest: Traveller,
        batteries: Batteries,
    ) -> tuple[LegEffort, tuple[RiderBattery, FloatArray] | None]:
        bike = self.bike_of(guest.id, leg)
        assist = None if bike is None or bike.battery_wh is None else _assist(bike, leg.assist)
        effort = _ridden(
            line,
            _rider(guest, self.rules),
            _bike_figures(bike, self.rules),
            assist,
            surfaces_along(stage, leg, line.length_m),
        )
        if bike is None or bike.battery_wh is None or effort.battery_wh is None:
            return effort, None
        return effort, self._battery(bike, effort.battery_wh, line, guest.id, batteries)

    def _battery(
        self, bike: Bike, used_wh: FloatArray, line: Profile, traveller_id: str, batteries: Batteries
    ) -> tuple[RiderBattery, FloatArray]:
        start_share = batteries.share(traveller_id)
        battery = Battery(
            capacity_wh=bike.battery_wh or 0.0,
            health_share=bike.battery_health_share,
            start_share=start_share,
            reserve_share=self.rules.battery_reserve_share,
        )
        stated_c = self.temperature_c()
        temperature_c = UNKIND_C if stated_c is None else stated_c
        left = share_left(battery, used_wh, temperature_c)
        batteries.leave(traveller_id, float(left[-1]))
        told = RiderBattery(
            traveller=traveller_id,
            start_share=start_share,
            left_share=float(left[-1]),
            used_wh=float(used_wh[-1]),
            usable_wh=usable_wh(battery, temperature_c),
            under_reserve_at_m=_first_under(line.distance_m, left, battery.reserve_share),
            temperature_c=temperature_c,
            temperature_known=stated_c is not None,
        )
        return told, left


@lru_cache(maxsize=KEPT_PROFILES)
def leg_profile(track: Track, backward: bool, from_m: float | None, to_m: float | None) -> Profile | None:
    """The profile of a leg in its own direction; None when nothing of its cut is left (see `travelled`)."""
    found = travelled(track, backward, from_m, to_m)
    return None if found is None else profile(found.track)


def surfaces_along(stage: Stage, leg: Leg, length_m: float) -> tuple[SurfaceStretch, ...]:
    """The stage's surfaces in the leg's own distances."""
    facts = stage.on(leg.way)
    if facts is None or not facts.surfaces:
        return ()
    begin_m = leg.cut_from_m or 0.0
    moved = [(each.from_m - begin_m, each.to_m - begin_m, each.surface) for each in facts.surfaces]
    if leg.backward:
        moved = [(length_m - to_m, length_m - from_m, surface) for from_m, to_m, surface in reversed(moved)]
    return tuple(
        SurfaceStretch(max(from_m, 0.0), min(to_m, length_m), surface)
        for from_m, to_m, surface in moved
        if to_m > 0.0 and from_m < length_m
    )


def _first_under(distance_m: FloatArray, share: FloatArray, limit: float) -> float | None:
    under = np.flatnonzero(share < limit)
    return float(distance_m[under[0]]) if len(under) else None


@lru_cache(maxsize=KEPT_EFFORTS)
def _walked(line: Profile, walker: Walker, rule: str) -> LegEffort:
    return walk_leg(line.distance_m, line.height_m, walker, walking_rule(rule), line.ascent_m, line.descent_m)


@lru_cache(maxsize=KEPT_EFFORTS)
def _ridden(
    line: Profile,
    rider: Rider,
    bike: BikeFigures,
    assist: AssistLevel | None,
    surfaces: tuple[SurfaceStretch, ...],
) -> LegEffort:
    """Without the battery's charge: a leg's use doesn't depend on the legs before it."""
    return ride_leg(
        line.distance_m, line.height_m, rider, bike, Surface.ASPHALT, assist=assist, stretches=surfaces
    )


def _walker(guest: Traveller) -> Walker:
    return Walker(pace=guest.pace) if guest.mass_kg is None else Walker(guest.pace, guest.mass_kg)


def _rider(guest: Traveller, rules: HouseRules) -> Rider:
    return Rider(
        mass_kg=rules.rider_mass_kg if guest.mass_kg is None else guest.mass_kg,
        rider_class=_RIDER_CLASSES.get(guest.rider, RiderClass.LEISURE),
        pace=guest.pace,
        luggage_kg=rules.luggage_on_bike_kg,
    )


def _bike_figures(bike: Bike | None, rules: HouseRules) -> BikeFigures:
    mass_kg = rules.bike_mass_kg if bike is None or bike.mass_kg is None else bike.mass_kg
    return BikeFigures(mass_kg=mass_kg, capacity_wh=None if bike is None else bike.battery_wh)


def _assist(bike: Bike, name: str | None) -> AssistLevel:
    """The level the leg names, else the bike's lowest."""
    levels = bike.assists or (LOWEST_ASSIST,)
    named = next((level for level in levels if level.name == name), None)
    return named or min(levels, key=lambda level: level.share)
