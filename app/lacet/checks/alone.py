"""Nobody goes alone where there are edges or no telephone signal."""

from collections.abc import Iterator

from lacet.checks.case import DayCase
from lacet.checks.making import each_leg, group_finding
from lacet.checks.mending import all_together, other_stages
from lacet.checks.several import Several
from lacet.language import Text, marked, to_say
from lacet.trip.finding import Finding, Level
from lacet.trip.library import StageWay
from lacet.trip.words import Exposure, Signal

ID = "alone"
SAYS = "Someone on their own has a telephone signal and no exposed edges."


_EDGES = {Exposure.SOME: to_say("steep drops in places"), Exposure.EXPOSED: to_say("exposed edges")}


SEVERAL = {
    "danger": Several(
        says=marked(
            "{who:begun} goes alone on {stage}: {told}. Agree a latest arrival and who raises the alarm, "
            "or choose other routes."
        ),
        by=("who",),
    ),
    "unsaid": Several(
        says=marked("{who:begun} goes alone on {stage}, and nobody has said {unsaid}. Find out first."),
        by=("who",),
    ),
}


def check_day(case: DayCase) -> Iterator[Finding]:
    for day, group, leg, stage in each_leg(case):
        if len(group.travellers) != 1:
            continue
        facts = stage.on(leg.leg.way)
        who = case.trip.party.name_of(group.travellers[0])
        told = _dangers(facts, stage.signal)
        if told:
            says = to_say(
                "{who:begun} goes alone on {stage}: {told}. Agree a latest arrival and who raises the alarm, "
                "or choose another route.",
                who=who,
                stage=stage.name,
                told=tuple(told),
            )
            fixes = (*all_together(case, day, group), *other_stages(case, leg))
            yield group_finding(ID, "danger", Level.WARN, day, group, says, {"leg": leg.leg.id}, fixes=fixes)
        unsaid = _unsaid(facts, stage.signal)
        if unsaid:
            says = to_say(
                "{who:begun} goes alone on {stage}, and nobody has said {unsaid}. Find out first.",
                who=who,
                stage=stage.name,
                unsaid=tuple(unsaid),
            )
            yield group_finding(ID, "unsaid", Level.NOTE, day, group, says, {"leg": leg.leg.id}, unknown=True)


def _dangers(facts: StageWay | None, signal: Signal) -> list[Text]:
    edges = None if facts is None or facts.exposure is None else _EDGES.get(facts.exposure)
    signals = to_say("no telephone signal") if signal is Signal.NONE else None
    return [danger for danger in (edges, signals) if danger is not None]


def _unsaid(facts: StageWay | None, signal: Signal) -> list[Text]:
    edges = to_say("whether there are steep drops") if facts is not None and facts.exposure is None else None
    signals = to_say("whether there is a telephone signal") if signal is Signal.UNKNOWN else None
    return [each for each in (edges, signals) if each is not None]
