"""All checks, in the order their findings are told when they weigh the same."""

from collections.abc import Callable, Iterable
from types import ModuleType

from lacet.checks import (
    after_breakfast,
    alone,
    arrival_and_departure,
    bags_moved,
    battery,
    bike_fits,
    bikes_there,
    bookings_kept,
    briefing,
    busy_road,
    charging,
    day_within_limits,
    days_join_up,
    dinner_found,
    done_by_sunset,
    ground_wished,
    hard_days,
    heights_known,
    late_arrival,
    lodging_found,
    lodging_open,
    minors,
    moves_carried,
    near_by,
    needs_served,
    newer_version,
    price_known,
    price_sold,
    reception_open,
    rest_days_wished,
    rooms_suit,
    single_nights,
    snow_possible,
    stage_closed,
    transfers_run,
    water_and_food,
    way_described,
)
from lacet.checks.case import Case
from lacet.trip.finding import Finding

CHECKS: tuple[ModuleType, ...] = (
    days_join_up,
    lodging_found,
    arrival_and_departure,
    late_arrival,
    stage_closed,
    minors,
    day_within_limits,
    done_by_sunset,
    battery,
    charging,
    heights_known,
    way_described,
    lodging_open,
    rooms_suit,
    reception_open,
    dinner_found,
    needs_served,
    bags_moved,
    moves_carried,
    bike_fits,
    bikes_there,
    transfers_run,
    ground_wished,
    busy_road,
    alone,
    water_and_food,
    snow_possible,
    near_by,
    after_breakfast,
    briefing,
    rest_days_wished,
    hard_days,
    single_nights,
    bookings_kept,
    price_known,
    price_sold,
    newer_version,
)

Check = Callable[[Case], Iterable[Finding]]


def run_checks(case: Case) -> tuple[Finding, ...]:
    """Every finding on the case, in the order of the registry."""
    return tuple(finding for module in CHECKS for finding in module.check(case))
