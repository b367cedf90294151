"""Nobody goes alone where there are edges or no telephone signal."""

from collections.abc import Iterator

from lacet.checks.case import Case
from lacet.checks.making import each_leg, group_finding, other_stages
from lacet.trip.finding import Finding, Level
from lacet.trip.words import Exposure, Signal

ID = "alone"
SAYS = "Someone on their own has a telephone signal and no exposed edges."


def check(case: Case) -> Iterator[Finding]:
    for day, group, leg, stage in each_leg(case):
        if len(group.travellers) != 1:
            continue
        facts = stage.on(leg.leg.way)
        reasons = []
        if facts is not None and facts.exposure is Exposure.EXPOSED:
            reasons.append("exposed edges")
        if stage.signal is Signal.NONE:
            reasons.append("no telephone signal")
        if reasons:
            who = case.trip.party.name_of(group.travellers[0])
            says = (
                f"{who} goes alone on {stage.name}: {' and '.join(reasons)}. "
                "Agree a time to ring in, or choose another way."
            )
            yield group_finding(ID, Level.WARN, day, group, says, leg.leg.id, fixes=other_stages(case, leg))
