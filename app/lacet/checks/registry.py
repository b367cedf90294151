"""All checks, in the order their findings are told when they weigh the same."""

from collections.abc import Callable, Iterable
from functools import partial
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
from lacet.checks.case import Case, DayCase, Evening
from lacet.trip.finding import Finding
from lacet.trip.frame import frame_of
from lacet.trip.kept import Kept
from lacet.trip.trip import Day, Hire, Trip

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

_OF_TRIP: tuple[tuple[int, Callable[[Case], Iterable[Finding]]], ...] = tuple(
    (place, module.check) for place, module in enumerate(CHECKS) if hasattr(module, "check")
)
_OF_DAY: tuple[tuple[int, Callable[[DayCase], Iterable[Finding]]], ...] = tuple(
    (place, module.check_day) for place, module in enumerate(CHECKS) if hasattr(module, "check_day")
)

Found = tuple[tuple[int, tuple[Finding, ...]], ...]
"""Findings by the place of their check in the registry; checks that found nothing are left out."""

_DAYS: Kept[Found] = Kept(2048)


def run_checks(case: Case) -> tuple[Finding, ...]:
    """Every finding on the case, in the order of the registry and then of the days.

    What was found about a day is kept with all that it rests on, so that moving a stage asks again only about
    the days it touches.
    """
    found: list[list[Finding]] = [[] for _ in CHECKS]
    for place, check in _OF_TRIP:
        found[place].extend(check(case))
    for about_day in _by_day(case):
        for place, findings in about_day:
            found[place].extend(findings)
    return tuple(finding for findings in found for finding in findings)


def _by_day(case: Case) -> list[Found]:
    frame = frame_of(case.trip, case.catalogue)
    told: list[Found] = []
    evening: tuple[object, ...] = ()
    day_id = ""
    for planned, figures in zip(case.itinerary, case.figures.days, strict=True):
        hired = case.hires_on(planned.number)
        rests_on = (planned, figures, *evening, frame, case.rules, case.commitments, *hired)
        values = (
            planned.number,
            day_id,
            figures.on,
            len(case.itinerary),
            case.variant_id,
            case.as_of,
            case.asked,
        )
        make = partial(_find, case, frame, hired, planned.number)
        told.append(_DAYS.get(case.catalogue, rests_on, values, make))
        evening, day_id = (planned.day.nights, planned.day.meals), planned.day.id
    return told


def _find(case: Case, frame: Trip, hired: tuple[Hire, ...], number: int) -> Found:
    seen = day_case(case, frame, hired, number)
    found = ((place, tuple(check(seen))) for place, check in _OF_DAY)
    return tuple(each for each in found if each[1])


def day_case(case: Case, frame: Trip, hired: tuple[Hire, ...], number: int) -> DayCase:
    """What a check of one day may see: nothing in it leads to another day."""
    evening = None
    if number > 1:
        before = case.figures.days[number - 2]
        planned = case.day(number - 1)
        kept = Day(id=planned.id, nights=planned.nights, meals=planned.meals)
        evening = Evening(before.number, before.id, before.on, kept)
    return DayCase(
        trip=frame,
        variant_id=case.variant_id,
        catalogue=case.catalogue,
        rules=case.rules,
        commitments=case.commitments,
        as_of=case.as_of,
        asked=case.asked,
        number=number,
        planned=case.itinerary[number - 1],
        figures=case.figures.days[number - 1],
        before=evening,
        last=len(case.itinerary),
        hires=hired,
    )
