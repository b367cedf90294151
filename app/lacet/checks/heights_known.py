"""Times and batteries rest on known heights; where they are missing the day is not proved."""

from collections.abc import Iterator

from lacet.checks.case import DayCase
from lacet.checks.making import group_finding
from lacet.checks.several import Several
from lacet.figures.values import LegFigures
from lacet.language import marked, to_say
from lacet.trip.finding import Finding, Level

ID = "heights_known"
SAYS = "Every leg's stage is in the library and its heights are known; else the day is not proved."
SLACK_M = 1.0


SEVERAL = {
    "flat": Several(
        says=marked(
            "Heights of {stage_name:some} are missing: time and battery are reckoned as if level. "
            "Fill them from an elevation raster."
        )
    ),
}


def check_day(case: DayCase) -> Iterator[Finding]:
    for day, group in case.groups():
        for stage_id in group.missing:
            says = to_say(
                "The library lacks stage '{stage_id}' or its track: the day is not proved. Take it in.",
                stage_id=stage_id,
            )
            yield group_finding(
                ID, "missing", Level.WARN, day, group, says, {"stage": stage_id}, unknown=True
            )
        for leg in group.legs:
            if _cut_short(leg):
                says = to_say(
                    "The part of {stage_name} that was cut out reaches beyond its end. Cut it anew, or "
                    "take the whole stage.",
                    stage_name=leg.stage_name,
                )
                yield group_finding(ID, "cut_short", Level.WARN, day, group, says, {"leg": leg.leg.id})
            if leg.assumed_flat or leg.ascent_m is None:
                says = to_say(
                    "Heights of {stage_name} are missing: time and battery are reckoned as if level. Fill "
                    "them from an elevation raster.",
                    stage_name=leg.stage_name,
                )
                yield group_finding(
                    ID, "flat", Level.WARN, day, group, says, {"leg": leg.leg.id}, unknown=True
                )


def _cut_short(leg: LegFigures) -> bool:
    """Whether the stage ends before the cut does, as after a newer version became shorter."""
    end_m = leg.leg.cut_to_m
    return end_m is not None and end_m - (leg.leg.cut_from_m or 0.0) > leg.distance_m + SLACK_M
