"""A stage is walked or ridden only where the library describes it for that way."""

from collections.abc import Iterator

from lacet.checks.case import DayCase
from lacet.checks.making import each_leg, group_finding
from lacet.checks.mending import other_stages
from lacet.language import to_say
from lacet.trip.finding import Finding, Level
from lacet.trip.words import Way

ID = "way_described"
SAYS = "A stage is travelled in a way the library describes it for: a footpath isn't ridden."
_HOW = {Way.WALKING: to_say("on foot"), Way.CYCLING: to_say("by bike")}


def check_day(case: DayCase) -> Iterator[Finding]:
    for day, group, leg, stage in each_leg(case):
        if stage.on(leg.leg.way) is not None:
            continue
        says = to_say(
            "{stage} isn't described for going {way}: ground, edges and traffic are unknown. "
            "Choose another stage, or describe it in the library.",
            stage=stage.name,
            way=_HOW[leg.leg.way],
        )
        fixes = other_stages(case, leg)
        yield group_finding(
            ID, "not_described", Level.WARN, day, group, says, {"leg": leg.leg.id}, unknown=True, fixes=fixes
        )
