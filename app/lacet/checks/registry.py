"""All checks, in the order their findings are told when they weigh the same."""

from collections.abc import Callable, Iterable
from types import ModuleType

from lacet.checks import days_join_up, done_by_sunset
from lacet.checks.case import Case
from lacet.trip.finding import Finding

CHECKS: tuple[ModuleType, ...] = (days_join_up, done_by_sunset)

Check = Callable[[Case], Iterable[Finding]]


def run_checks(case: Case) -> tuple[Finding, ...]:
    """Every finding on the case, in the order of the registry."""
    return tuple(finding for module in CHECKS for finding in module.check(case))
