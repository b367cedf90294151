"""Snow may lie on the stage in that season."""

from collections.abc import Iterator

from lacet.checks.case import DayCase
from lacet.checks.making import each_leg, group_finding, shut
from lacet.checks.mending import other_stages, take_the_other_way
from lacet.checks.words import season_end, season_words
from lacet.days.seasons import SeasonRefused
from lacet.figures.values import DayFigures, GroupFigures, LegFigures
from lacet.language import marked, to_say
from lacet.trip.finding import Finding, Level
from lacet.trip.library import Stage

ID = "snow_possible"
SAYS = "A stage on which snow may lie that day is told, with the date until which it may."


_SNOW = marked(
    "Snow possible to {season_end} on {stage}. Ask locally the day before, and have another route ready."
)
_SNOW_UP_TO = marked(
    "Snow possible to {season_end} on {stage}, which goes up to {highest_m:height}. "
    "Ask locally the day before, and have another route ready."
)


def check_day(case: DayCase) -> Iterator[Finding]:
    for day, group, leg, stage in each_leg(case):
        if stage.snow_season:
            yield from _judge(case, day, group, leg, stage)


def _judge(
    case: DayCase, day: DayFigures, group: GroupFigures, leg: LegFigures, stage: Stage
) -> Iterator[Finding]:
    about, text = {"leg": leg.leg.id}, stage.snow_season
    try:
        covered = shut(case, day, text)
    except SeasonRefused:
        says = to_say(
            "When snow may lie on {stage} can't be read ('{text}'); correct it in the library.",
            stage=stage.name,
            text=text,
        )
        yield group_finding(ID, "unread", Level.NOTE, day, group, says, about, unknown=True)
        return
    if covered is None:
        says = to_say(
            "Snow possible on {stage} {season_words}; without a date nobody can tell. Set the date.",
            stage=stage.name,
            season_words=season_words(text),
        )
        yield group_finding(ID, "no_date", Level.NOTE, day, group, says, about, unknown=True)
    elif covered:
        says = to_say(
            _SNOW if leg.highest_m is None else _SNOW_UP_TO,
            season_end=season_end(text),
            stage=stage.name,
            highest_m=leg.highest_m,
        )
        fixes = (*take_the_other_way(case, day), *other_stages(case, leg))
        yield group_finding(ID, "snow", Level.WARN, day, group, says, about, fixes=fixes)
