"""All checks, in the order their findings are told when they weigh the same."""

from collections.abc import Callable, Iterable
from types import ModuleType

from lacet.checks import (
    after_breakfast,
    alone,
    arrival_and_departure,
    battery,
    briefing,
    busy_road,
    day_within_limits,
    days_join_up,
    done_by_sunset,
    ground_wished,
    hard_days,
    heights_known,
    late_arrival,
    minors,
    newer_version,
    rest_days_wished,
    snow_possible,
    stage_closed,
    water_and_food,
)
from lacet.checks.case import Case
from lacet.trip.finding import Finding

CHECKS: tuple[ModuleType, ...] = (
    days_join_up,
    arrival_and_departure,
    late_arrival,
    stage_closed,
    minors,
    day_within_limits,
    done_by_sunset,
    battery,
    heights_known,
    ground_wished,
    busy_road,
    alone,
    water_and_food,
    snow_possible,
    after_breakfast,
    briefing,
    rest_days_wished,
    hard_days,
    newer_version,
)

Check = Callable[[Case], Iterable[Finding]]


def run_checks(case: Case) -> tuple[Finding, ...]:
    """Every finding on the case, in the order of the registry."""
    return tuple(finding for module in CHECKS for finding in module.check(case))
