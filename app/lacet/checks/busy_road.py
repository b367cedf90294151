"""Children and novices are kept off busy roads."""

from collections.abc import Iterator
from typing import Any

from lacet.checks.case import DayCase
from lacet.checks.making import each_leg, group_finding, guests_of
from lacet.checks.mending import other_stages, take_the_other_way
from lacet.figures.values import LegFigures
from lacet.language import to_say
from lacet.trip.finding import Finding, Level
from lacet.trip.library import StageWay
from lacet.trip.words import Traffic, Way

ID = "busy_road"
SAYS = "No busy road by bike, and none to speak of on foot, for children or novices."
CHILD_UNDER = 18


def check_day(case: DayCase) -> Iterator[Finding]:
    novices = case.trip.party.wishes.novices
    for day, group, leg, stage in each_leg(case):
        children = any(guest.age is not None and guest.age < CHILD_UNDER for guest in guests_of(case, group))
        facts = stage.on(leg.leg.way)
        if facts is None or not (children or novices):
            continue
        who = "children" if children else "novices"
        if leg.leg.way is Way.CYCLING and not facts.traffic:
            says = to_say(
                "Nobody has said how much traffic {stage} has, with {who} on bikes. Find out first.",
                stage=stage.name,
                who=who,
            )
            yield group_finding(
                ID,
                "traffic_unknown",
                Level.NOTE,
                day,
                group,
                says,
                {"leg": leg.leg.id},
                unit="m",
                unknown=True,
            )
            continue
        busy_m = _busy_m(facts, leg)
        limit_m = case.rules.busy_road_m if leg.leg.way is Way.CYCLING else case.rules.busy_road_walking_m
        if busy_m > limit_m:
            says = to_say(
                "{busy_m:length} of busy road on {stage}, with {who}. Let the van take them past it, "
                "or choose another way.",
                busy_m=busy_m,
                stage=stage.name,
                who=who,
            )
            more: dict[str, Any] = {
                "figure": busy_m,
                "limit": limit_m,
                "unit": "m",
                "fixes": (*take_the_other_way(case, day), *other_stages(case, leg)),
            }
            yield group_finding(ID, "busy", Level.WARN, day, group, says, {"leg": leg.leg.id}, **more)


def _busy_m(facts: StageWay, leg: LegFigures) -> float:
    """Length of busy road on the part of the stage that is travelled [m]."""
    begin_m = leg.leg.cut_from_m or 0.0
    end_m = begin_m + leg.distance_m
    return sum(
        max(0.0, min(stretch.to_m, end_m) - max(stretch.from_m, begin_m))
        for stretch in facts.traffic
        if stretch.traffic is Traffic.BUSY
    )
