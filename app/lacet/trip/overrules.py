"""Overrules: a named person lets a finding stand, until its figure gets worse."""

from collections.abc import Iterable
from dataclasses import replace

from lacet.trip.finding import Finding
from lacet.trip.trip import Overrule


def bind_overrules(findings: Iterable[Finding], overrules: tuple[Overrule, ...]) -> tuple[Finding, ...]:
    """Mark each finding that a named person has let stand and that isn't worse than it was then."""
    decided = {overrule.key: overrule for overrule in overrules}
    if not decided:
        return tuple(findings)
    return tuple(_bound(finding, decided.get(finding.key)) for finding in findings)


def _bound(finding: Finding, overrule: Overrule | None) -> Finding:
    if overrule is None or not finding.may_overrule or _got_worse(finding, overrule):
        return finding
    return replace(finding, overruled_by=overrule)


def _got_worse(finding: Finding, overrule: Overrule) -> bool:
    if finding.figure is None or overrule.figure is None:
        return finding.figure is not overrule.figure
    if finding.worse_is_more:
        return finding.figure > overrule.figure
    return finding.figure < overrule.figure
