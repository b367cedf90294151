"""A stage by itself: its grade as a day of its own, and how far the library's batteries go on such ground."""

from collections.abc import Iterator
from dataclasses import dataclass

from lacet.effort.battery_range import RangeAssumptions, range_m
from lacet.effort.grade import BANDS, Graded, effort_grade, grade_sentence, office_grade
from lacet.effort.leg import BikeFigures, Rider, Walker, ride_leg, walk_leg
from lacet.effort.walking import walking_rule
from lacet.tracks.profile import Profile
from lacet.trip.catalogue import Catalogue
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import Bike, Stage
from lacet.trip.region import UNKIND_C
from lacet.trip.words import Way


@dataclass(frozen=True, slots=True)
class StageGrade:
    """The office's grade of a stage in one way, were it a day of its own, and the sentence that says so."""

    way: Way
    graded: Graded
    says: str


@dataclass(frozen=True, slots=True)
class BatteryReach:
    """How far a full battery goes at a level of assist, down to the reserve [m]; None where it is pushed."""

    bike: str
    battery_wh: float
    assist: str
    range_m: float | None


def stage_grades(stage: Stage, line: Profile, rules: HouseRules) -> tuple[StageGrade, ...]:
    """One for each way the library describes the stage for; none where heights or the climb are unknown."""
    return tuple(_grades(stage, line, rules)) if line.ascent_m is not None else ()


def _grades(stage: Stage, line: Profile, rules: HouseRules) -> Iterator[StageGrade]:
    for facts in stage.ways:
        ascent_m = line.ascent_m or 0.0
        moving_s = _moving_s(facts.way, line, rules)
        graded = office_grade(facts.way, moving_s, line.length_m, ascent_m, facts.footing, facts.exposure)
        effort = effort_grade(moving_s, line.length_m, ascent_m, BANDS[facts.way])
        yield StageGrade(facts.way, graded, grade_sentence(effort.grade, facts.footing, facts.exposure))


def _moving_s(way: Way, line: Profile, rules: HouseRules) -> float:
    if way is Way.WALKING:
        rule = walking_rule(rules.walking_rule)
        return walk_leg(
            line.distance_m, line.height_m, Walker(), rule, line.ascent_m, line.descent_m
        ).moving_s
    return ride_leg(line.distance_m, line.height_m, Rider(), BikeFigures()).moving_s


def battery_reaches(
    stage: Stage, line: Profile, catalogue: Catalogue, rules: HouseRules
) -> tuple[BatteryReach, ...]:
    """Every e-bike of the library at each of its levels, on ground like a stage that can be ridden."""
    if stage.on(Way.CYCLING) is None:
        return ()
    bikes = sorted(catalogue.current(Bike), key=lambda bike: bike.name)
    return tuple(reach for bike in bikes for reach in _of_bike(bike, line, catalogue, rules))


def _coldest_c(catalogue: Catalogue) -> float:
    """A stage by itself has no month: the coldest one stated, else the unkind case [°C]."""
    stated_c = catalogue.region.temperature_in(None)
    return UNKIND_C if stated_c is None else stated_c


def _of_bike(bike: Bike, line: Profile, catalogue: Catalogue, rules: HouseRules) -> Iterator[BatteryReach]:
    if not bike.battery_wh:
        return
    mass_kg = rules.bike_mass_kg if bike.mass_kg is None else bike.mass_kg
    given = RangeAssumptions(
        rider=Rider(mass_kg=rules.rider_mass_kg, luggage_kg=rules.luggage_on_bike_kg),
        bike=BikeFigures(mass_kg=mass_kg, capacity_wh=bike.battery_wh),
        health_share=bike.battery_health_share,
        reserve_share=rules.battery_reserve_share,
        temperature_c=_coldest_c(catalogue),
    )
    for assist in bike.assists:
        reach_m = range_m(bike.battery_wh, assist, line.distance_m, line.height_m, given)
        yield BatteryReach(bike.name, bike.battery_wh, assist.name, reach_m)
