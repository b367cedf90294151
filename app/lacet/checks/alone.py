"""Nobody goes alone where there are edges or no telephone signal."""

from collections.abc import Iterator

from lacet.checks.case import DayCase
from lacet.checks.making import each_leg, group_finding
from lacet.checks.mending import all_together, other_stages
from lacet.checks.words import begun, listed
from lacet.trip.finding import Finding, Level
from lacet.trip.library import StageWay
from lacet.trip.words import Exposure, Signal

ID = "alone"
SAYS = "Someone on their own has a telephone signal and no exposed edges."


_EDGES = {Exposure.SOME: "steep drops in places", Exposure.EXPOSED: "exposed edges"}


def check_day(case: DayCase) -> Iterator[Finding]:
    for day, group, leg, stage in each_leg(case):
        if len(group.travellers) != 1:
            continue
        facts = stage.on(leg.leg.way)
        who = begun(case.trip.party.name_of(group.travellers[0]))
        told = _dangers(facts, stage.signal)
        if told:
            says = (
                f"{who} goes alone on {stage.name}: {listed(told)}. "
                "Agree a time to ring in, or choose another way."
            )
            fixes = (*all_together(case, day, group), *other_stages(case, leg))
            yield group_finding(ID, Level.WARN, day, group, says, leg.leg.id, fixes=fixes)
        unsaid = _unsaid(facts, stage.signal)
        if unsaid:
            says = f"{who} goes alone on {stage.name}, and nobody has said {listed(unsaid)}. Find out first."
            yield group_finding(ID, Level.NOTE, day, group, says, f"{leg.leg.id} unsaid", unknown=True)


def _dangers(facts: StageWay | None, signal: Signal) -> list[str]:
    edges = None if facts is None or facts.exposure is None else _EDGES.get(facts.exposure)
    signals = "no telephone signal" if signal is Signal.NONE else None
    return [danger for danger in (edges, signals) if danger is not None]


def _unsaid(facts: StageWay | None, signal: Signal) -> list[str]:
    edges = "whether there are steep drops" if facts is not None and facts.exposure is None else None
    signals = "whether there is a telephone signal" if signal is Signal.UNKNOWN else None
    return [each for each in (edges, signals) if each is not None]
