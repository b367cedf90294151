"""No leg on a stage that is closed that day; what an authority closes nobody here can open."""

from collections.abc import Iterator
from typing import Any

from lacet.checks.case import DayCase
from lacet.checks.making import each_leg, group_finding, shut
from lacet.checks.mending import other_stages, take_the_other_way
from lacet.checks.words import season_words
from lacet.days.seasons import SeasonRefused
from lacet.figures.values import DayFigures, GroupFigures, LegFigures
from lacet.trip.finding import COMMON_PRACTICE, Finding, Level
from lacet.trip.library import Closure, Stage
from lacet.trip.words import ClosureLevel

ID = "stage_closed"
SAYS = "A stage is open on the day it is walked or ridden; an authority's closure can't be overruled."


def check_day(case: DayCase) -> Iterator[Finding]:
    for day, group, leg, stage in each_leg(case):
        for closure in stage.closures:
            yield from _judge(case, day, group, leg, stage, closure)


def _judge(
    case: DayCase, day: DayFigures, group: GroupFigures, leg: LegFigures, stage: Stage, closure: Closure
) -> Iterator[Finding]:
    authority = closure.level is ClosureLevel.AUTHORITY
    about = f"{leg.leg.id} {closure.season}"
    try:
        closed = shut(case, day, closure.season)
    except SeasonRefused:
        says = f"When {stage.name} is closed can't be read ('{closure.season}'); mend it in the library."
        yield group_finding(ID, Level.NOTE, day, group, says, about, unknown=True)
        return
    if closed is None:
        word = "closed" if authority else "advised against"
        when = season_words(closure.season)
        says = f"{stage.name} is {word} {when}; without a date nobody can tell. {_told(closure)}Fix a date."
        yield group_finding(ID, Level.NOTE, day, group, says, about, unknown=authority)
    elif closed:
        word = "closed by the authority" if authority else "advised against"
        says = f"{stage.name} is {word} that day. {_told(closure)}Choose another way or date."
        fixes = (*take_the_other_way(case, day), *other_stages(case, leg))
        source = "closure by an authority, as the library states it" if authority else COMMON_PRACTICE
        level = Level.STOP if authority else Level.WARN
        more: dict[str, Any] = {"may_overrule": not authority, "source": source, "fixes": fixes}
        yield group_finding(ID, level, day, group, says, about, **more)


def _told(closure: Closure) -> str:
    return f"{closure.says} " if closure.says else ""
