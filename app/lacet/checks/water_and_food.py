"""No long stretch without water, nor without anything to eat.

Guests leave their house with full bottles and a breakfast, and the day's end ends the stretch; in between
count the stage's own points and the places at the ends of legs. A place of which nobody has said whether it
has water or food may help or not: where that decides, the day isn't proved.
"""

from collections.abc import Iterator
from itertools import pairwise
from typing import Any

from lacet.checks.case import DayCase
from lacet.checks.making import fix, group_finding, place_of, within_cut
from lacet.checks.several import Several
from lacet.figures.values import DayFigures, GroupFigures, LegFigures
from lacet.language import marked, to_say
from lacet.trip import edits
from lacet.trip.finding import Finding, Level
from lacet.trip.itinerary import night_of
from lacet.trip.library import Stage
from lacet.trip.trip import Meal
from lacet.trip.words import Board, MealKind, PointKind, Way

ID = "water_and_food"
SAYS = "Water is never more than a few hours away, food never most of a day without a packed lunch."


SEVERAL = {
    "water": Several(says=marked("Up to {longest_s:duration} without {what}. {mend}"), most=("longest_s",)),
    "food": Several(says=marked("Up to {longest_s:duration} without {what}. {mend}"), most=("longest_s",)),
}


def check_day(case: DayCase) -> Iterator[Finding]:
    for day, group in case.groups():
        if not group.legs:
            continue
        by_bike = all(leg.leg.way is Way.CYCLING for leg in group.legs)
        rules = case.rules
        dry_s = rules.dry_cycling_s if by_bike else rules.dry_s
        yield from _judge(case, day, group, PointKind.WATER, dry_s)
        hungry_s = rules.hungry_cycling_s if by_bike else rules.hungry_s
        if group.moving_s > hungry_s and not _has_lunch(case, day, group):
            yield from _judge(case, day, group, PointKind.FOOD, hungry_s)


def _judge(
    case: DayCase, day: DayFigures, group: GroupFigures, kind: PointKind, limit_s: float
) -> Iterator[Finding]:
    # Most days are shorter than the limit as a whole: nothing needs to be looked up for them.
    longest_s = 0.0 if group.moving_s <= limit_s else _longest_s(case, group, kind, hoping=False)
    if longest_s <= limit_s:
        return
    what, mend = (to_say("water"), to_say("Tell them to carry enough from the start of the day."))
    more: dict[str, Any] = {}
    if kind is PointKind.FOOD:
        what, mend = (to_say("anything to eat"), to_say("Add a packed lunch."))
        lunch = Meal(
            kind=MealKind.PACKED_LUNCH,
            at_lodging=True,
            travellers=None if len(day.groups) == 1 else group.travellers,
        )
        more["fixes"] = (fix(to_say("A packed lunch"), edits.set_meal, case, day.id, lunch),)
    if _longest_s(case, group, kind, hoping=True) <= limit_s:
        says = to_say(
            "{longest_s:duration} without {what} unless a place on the way has some. Ask, or: {mend}",
            longest_s=longest_s,
            what=what,
            mend=mend,
        )
        level, more["unknown"] = Level.NOTE, True
    else:
        level = Level.WARN
        says = to_say(
            "{longest_s:duration} without {what}. {mend}", longest_s=longest_s, what=what, mend=mend
        )
    more |= {"figure": longest_s, "limit": limit_s, "unit": "s"}
    yield group_finding(ID, kind.value, level, day, group, says, **more)


def _has_lunch(case: DayCase, day: DayFigures, group: GroupFigures) -> bool:
    """Whether all of the group carry a packed lunch, or had full board where they woke."""
    meals = [meal for meal in case.day(day.number).meals if meal.kind is MealKind.PACKED_LUNCH]
    before = case.day(day.number - 1) if day.number > 1 else None
    return all(
        any(meal.travellers is None or who in meal.travellers for meal in meals)
        or (
            before is not None
            and (night := night_of(before, who)) is not None
            and night.board is Board.FULL_BOARD
        )
        for who in group.travellers
    )


def _longest_s(case: DayCase, group: GroupFigures, kind: PointKind, hoping: bool) -> float:
    """The longest moving time between two supplies; `hoping` counts places of which nobody has said."""
    supplied_s, moved_s = [0.0], 0.0
    for leg in group.legs:
        supplied_s += [moved_s + along_s for along_s in _supplies_s(case, leg, kind, hoping)]
        moved_s += leg.moving_s
    return max(after - before for before, after in pairwise(sorted((*supplied_s, moved_s))))


def _supplies_s(case: DayCase, leg: LegFigures, kind: PointKind, hoping: bool) -> list[float]:
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
        if place is None:
            continue
        has = place.has_food if kind is PointKind.FOOD else place.has_water
        if has or (has is None and hoping):
            found.append(at_s)
    return found
