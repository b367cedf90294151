"""Children and novices are kept off busy roads."""

from collections.abc import Iterator
from typing import Any

from lacet.checks.case import Case
from lacet.checks.making import each_leg, group_finding, guests_of, other_stages, within_cut
from lacet.checks.words import kilometres
from lacet.trip.finding import Finding, Level
from lacet.trip.words import Traffic, Way

ID = "busy_road"
SAYS = "No busy road by bike, and none to speak of on foot, for children or novices."


def check(case: Case) -> Iterator[Finding]:
    novices = case.trip.party.wishes.novices
    for day, group, leg, stage in each_leg(case):
        children = any(guest.age is not None and guest.age < 18 for guest in guests_of(case, group))
        facts = stage.on(leg.leg.way)
        if facts is None or not (children or novices):
            continue
        busy_m = 0.0
        for stretch in facts.traffic:
            if stretch.traffic is Traffic.BUSY:
                ends = [within_cut(leg.leg, end, leg.distance_m) for end in (stretch.from_m, stretch.to_m)]
                busy_m += abs(ends[1] - ends[0]) if ends[0] is not None and ends[1] is not None else 0.0
        limit_m = case.rules.busy_road_m if leg.leg.way is Way.CYCLING else case.rules.busy_road_walking_m
        if busy_m > limit_m:
            who = "children" if children else "novices"
            says = (
                f"{kilometres(busy_m)} of busy road on {stage.name}, with {who}. "
                "Let the van take them past it, or choose another way."
            )
            more: dict[str, Any] = {
                "figure": busy_m,
                "limit": limit_m,
                "unit": "m",
                "fixes": other_stages(case, leg),
            }
            yield group_finding(ID, Level.WARN, day, group, says, leg.leg.id, **more)
