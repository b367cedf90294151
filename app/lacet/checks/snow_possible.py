"""Snow may lie on the stage in that season."""

from collections.abc import Iterator

from lacet.checks.case import DayCase
from lacet.checks.making import each_leg, group_finding, shut
from lacet.checks.mending import other_stages, take_the_other_way
from lacet.checks.words import metres, season_end, season_words
from lacet.days.seasons import SeasonRefused
from lacet.figures.values import DayFigures, GroupFigures, LegFigures
from lacet.trip.finding import Finding, Level
from lacet.trip.library import Stage

ID = "snow_possible"
SAYS = "A stage on which snow may lie that day is told, with the date until which it may."


def check_day(case: DayCase) -> Iterator[Finding]:
    for day, group, leg, stage in each_leg(case):
        if stage.snow_season:
            yield from _judge(case, day, group, leg, stage)


def _judge(
    case: DayCase, day: DayFigures, group: GroupFigures, leg: LegFigures, stage: Stage
) -> Iterator[Finding]:
    about, text = leg.leg.id, stage.snow_season
    try:
        covered = shut(case, day, text)
    except SeasonRefused:
        says = f"When snow may lie on {stage.name} can't be read ('{text}'); mend it in the library."
        yield group_finding(ID, Level.NOTE, day, group, says, about, unknown=True)
        return
    if covered is None:
        says = (
            f"Snow possible on {stage.name} {season_words(text)}; without a date nobody can tell. Fix a date."
        )
        yield group_finding(ID, Level.NOTE, day, group, says, about, unknown=True)
    elif covered:
        height = "" if leg.highest_m is None else f", which goes up to {metres(leg.highest_m)}"
        says = (
            f"Snow possible to {season_end(text)} on {stage.name}{height}. "
            "Ask locally the day before, and have another way ready."
        )
        fixes = (*take_the_other_way(case, day), *other_stages(case, leg))
        yield group_finding(ID, Level.WARN, day, group, says, about, fixes=fixes)
