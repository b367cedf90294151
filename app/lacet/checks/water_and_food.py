"""No long stretch without water, nor without anything to eat."""

from collections.abc import Iterator
from typing import Any

from lacet.checks.case import Case
from lacet.checks.making import group_finding, place_of, within_cut
from lacet.checks.words import duration
from lacet.figures.values import DayFigures, GroupFigures, LegFigures
from lacet.trip.finding import Finding, Level
from lacet.trip.library import Stage
from lacet.trip.words import MealKind, PointKind

ID = "water_and_food"
SAYS = "Water is never more than a few hours away, food never most of a day without a packed lunch."


def check(case: Case) -> Iterator[Finding]:
    for day, group in case.groups():
        if not group.legs:
            continue
        dry_s = _longest_s(case, group, PointKind.WATER)
        if dry_s > case.rules.dry_s:
            says = f"{duration(dry_s)} without water. Tell them to carry enough from the start of the day."
            more: dict[str, Any] = {"figure": dry_s, "limit": case.rules.dry_s, "unit": "s"}
            yield group_finding(ID, Level.WARN, day, group, says, "water", **more)
        if _has_lunch(case, day):
            continue
        hungry_s = _longest_s(case, group, PointKind.FOOD)
        if hungry_s > case.rules.hungry_s:
            says = f"{duration(hungry_s)} without anything to eat. Add a packed lunch."
            more = {"figure": hungry_s, "limit": case.rules.hungry_s, "unit": "s"}
            yield group_finding(ID, Level.WARN, day, group, says, "food", **more)


def _has_lunch(case: Case, day: DayFigures) -> bool:
    return any(meal.kind is MealKind.PACKED_LUNCH for meal in case.day(day.number).meals)


def _longest_s(case: Case, group: GroupFigures, kind: PointKind) -> float:
    """The longest moving time between two supplies; a night's place and every supply begin it anew."""
    longest_s, last_s, moved_s = 0.0, 0.0, 0.0
    for leg in group.legs:
        for along_s in _supplies_s(case, leg, kind):
            longest_s = max(longest_s, moved_s + along_s - last_s)
            last_s = moved_s + along_s
        moved_s += leg.moving_s
    return max(longest_s, moved_s - last_s)


def _supplies_s(case: Case, leg: LegFigures, kind: PointKind) -> list[float]:
    """Moving seconds from the leg's start to each supply: points of the stage, and places at its ends."""
    stage = case.catalogue.need(Stage, leg.leg.stage)
    length_m = leg.distance_m or 1.0
    found = [
        here / length_m * leg.moving_s
        for point in stage.points
        if point.kind is kind and (here := within_cut(leg.leg, point.along_m, leg.distance_m)) is not None
    ]
    for place_id, at_s in ((leg.from_place, 0.0), (leg.to_place, leg.moving_s)):
        place = place_of(case, place_id)
        if place is not None and (place.has_food if kind is PointKind.FOOD else place.has_water):
            found.append(at_s)
    return sorted(found)
