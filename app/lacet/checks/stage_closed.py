"""No leg on a stage that is closed that day; what an authority closes nobody here can open."""

from collections.abc import Iterator
from typing import Any

from lacet.checks.case import DayCase
from lacet.checks.making import each_leg, group_finding, shut
from lacet.checks.mending import other_stages, take_the_other_way
from lacet.checks.words import season_words
from lacet.days.seasons import SeasonRefused
from lacet.figures.values import DayFigures, GroupFigures, LegFigures
from lacet.language import marked, to_say
from lacet.trip.finding import COMMON_PRACTICE, Finding, Level
from lacet.trip.library import Closure, Stage
from lacet.trip.words import ClosureLevel

ID = "stage_closed"
SAYS = "A stage is open on the day it is walked or ridden; an authority's closure can't be overruled."


_CLOSED = marked("{stage} is closed by the authority that day.{why} Choose another route or date.")
_ADVISED = marked("{stage} is advised against that day.{why} Choose another route or date.")
_CLOSED_SOMETIMES = marked("{stage} is closed {season}; without a date nobody can tell.{why} Set the date.")
_ADVISED_SOMETIMES = marked(
    "{stage} is advised against {season}; without a date nobody can tell.{why} Set the date."
)


def check_day(case: DayCase) -> Iterator[Finding]:
    for day, group, leg, stage in each_leg(case):
        for closure in stage.closures:
            yield from _judge(case, day, group, leg, stage, closure)


def _judge(
    case: DayCase, day: DayFigures, group: GroupFigures, leg: LegFigures, stage: Stage, closure: Closure
) -> Iterator[Finding]:
    authority = closure.level is ClosureLevel.AUTHORITY
    about = {"leg": leg.leg.id, "season": closure.season}
    try:
        closed = shut(case, day, closure.season)
    except SeasonRefused:
        says = to_say(
            "When {stage} is closed can't be read ('{season}'); correct it in the library.",
            stage=stage.name,
            season=closure.season,
        )
        yield group_finding(ID, "unread", Level.NOTE, day, group, says, about, unknown=True)
        return
    if closed is None:
        says = to_say(
            _CLOSED_SOMETIMES if authority else _ADVISED_SOMETIMES,
            stage=stage.name,
            season=season_words(closure.season),
            why=_why(closure),
        )
        yield group_finding(ID, "no_date", Level.NOTE, day, group, says, about, unknown=authority)
    elif closed:
        says = to_say(_CLOSED if authority else _ADVISED, stage=stage.name, why=_why(closure))
        fixes = (*take_the_other_way(case, day), *other_stages(case, leg))
        source = "closure by an authority, as the library states it" if authority else COMMON_PRACTICE
        level = Level.STOP if authority else Level.WARN
        more: dict[str, Any] = {"may_overrule": not authority, "source": source, "fixes": fixes}
        yield group_finding(ID, "closed", level, day, group, says, about, **more)


def _why(closure: Closure) -> str:
    return f" {closure.says}" if closure.says else ""
