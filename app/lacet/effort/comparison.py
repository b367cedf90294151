"""All rules beside each other for one stage, with their sources: what an office sees before it trusts one."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from lacet.effort import acsm, compendium, herzog, minetti, pandolf, walking
from lacet.effort.bikes import BikeFigures
from lacet.effort.compendium import HIKING_MET, met_energy_kj
from lacet.effort.cycling import ride
from lacet.effort.ebike import AssistLevel
from lacet.effort.energy import JOULES_PER_KJ
from lacet.effort.leg import Walker
from lacet.effort.power_balance import SOURCE as POWER_BALANCE_SOURCE
from lacet.effort.quantity import Array
from lacet.effort.riders import RIDERS, Rider, RiderClass
from lacet.effort.rule import WalkingRule
from lacet.effort.steps import Steps, steps_of
from lacet.effort.walking import OFFICE_DEFAULT, walking_times_s
from lacet.trip.words import Surface

HEIGHTS_MISSING = "heights are missing and taken as level or even"


@dataclass(frozen=True, slots=True)
class RuleRow:
    """One rule's answer for the stage: its moving time at the given pace [s], its range and what it needs."""

    name: str
    source: str
    seconds: float
    note: str
    needs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class EnergyRow:
    """One rule's energy for the stage on foot [kJ]."""

    name: str
    source: str
    energy_kj: float
    note: str


def rules_beside(
    distance_m: Array,
    height_m: Array,
    ascent_m: float | None = None,
    descent_m: float | None = None,
    pace: float = 1.0,
    bike: BikeFigures | None = None,
    surface: Surface = Surface.ASPHALT,
    assist: AssistLevel | None = None,
) -> tuple[RuleRow, ...]:
    """Every walking rule, then every class of rider, for one stage.

    Parameters
    ----------
    distance_m, height_m : the profile [m]
    ascent_m, descent_m : the stage's own totals [m], as in `walking_times_s`
    pace : factor on all times
    bike, surface, assist : what is ridden; without `assist` without a motor
    """
    steps = steps_of(distance_m, height_m)
    on_foot = [
        RuleRow(
            rule.name,
            rule.source,
            walking_times_s(rule, distance_m, height_m, pace, ascent_m, descent_m).moving_s,
            _noted(rule.note, steps),
            tuple(sorted(rule.needs)),
        )
        for rule in walking.RULES
    ]
    by_bike = [
        _ridden_row(rider_class, distance_m, height_m, pace, bike or BikeFigures(), surface, assist)
        for rider_class in RiderClass
    ]
    return (*on_foot, *by_bike)


def energies_beside(
    distance_m: Array,
    height_m: Array,
    walker: Walker,
    rule: WalkingRule = OFFICE_DEFAULT,
    ascent_m: float | None = None,
    descent_m: float | None = None,
) -> tuple[EnergyRow, ...]:
    """Energy of a stage on foot by every published cost; where speed counts, at the times of `rule`."""
    steps = steps_of(distance_m, height_m)
    times = walking_times_s(rule, distance_m, height_m, walker.pace, ascent_m, descent_m)
    seconds, mass_kg = np.diff(times.time_s), walker.mass_kg
    speed = np.divide(steps.run_m, seconds, out=np.zeros_like(seconds), where=seconds > 0.0)
    uphill = np.maximum(steps.slope_ratio, 0.0)

    def row(name: str, source: str, joules: float, note: str) -> EnergyRow:
        return EnergyRow(name, source, joules / JOULES_PER_KJ, _noted(note, steps))

    def by_slope(cost: Callable[[Array], Array]) -> float:
        return float(cost(steps.slope_ratio) @ steps.run_m) * mass_kg

    oxygen_w = acsm.oxygen_energy_w(acsm.acsm_walking_ml_kg_min(speed, uphill), mass_kg)
    loaded_w = pandolf.pandolf_power_w(mass_kg, 0.0, speed, uphill)
    hiking_j = met_energy_kj(HIKING_MET, mass_kg, times.moving_s) * JOULES_PER_KJ
    level = "descents count as level"
    return (
        row("Minetti", minetti.SOURCE, by_slope(minetti.minetti_walking_j_per_kg_m), "held beyond 45 %"),
        row(
            "Herzog", herzog.SOURCE, by_slope(herzog.herzog_walking_j_per_kg_m), "Minetti's data, fitted anew"
        ),
        row("ACSM", acsm.SOURCE, float(oxygen_w @ seconds), f"3 to 6 km/h; {level}"),
        row("Pandolf", pandolf.SOURCE, float(loaded_w @ seconds), level),
        row("Compendium, hiking", compendium.SOURCE, hiking_j, "6 MET, whatever the ground"),
    )


def _ridden_row(
    rider_class: RiderClass,
    distance_m: Array,
    height_m: Array,
    pace: float,
    bike: BikeFigures,
    surface: Surface,
    assist: AssistLevel | None,
) -> RuleRow:
    ridden = ride(distance_m, height_m, Rider(rider_class=rider_class, pace=pace), bike, surface, assist)
    figures = RIDERS[rider_class]
    motor = "without a motor" if assist is None else f"assist {assist.name}"
    note = f"{figures.level_power_w:.0f} W level, {figures.climbing_power_w:.0f} W uphill, {motor}"
    if ridden.pushed_m > 0.0:
        note += f"; pushes {ridden.pushed_m / 1000.0:.1f} km"
    if ridden.assumed_flat:
        note += f"; {HEIGHTS_MISSING}"
    return RuleRow(f"{rider_class.value} rider", POWER_BALANCE_SOURCE, ridden.moving_s, note, ("slope",))


def _noted(note: str, steps: Steps) -> str:
    return f"{note}; {HEIGHTS_MISSING}" if steps.assumed_flat else note
