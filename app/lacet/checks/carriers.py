"""What several checks ask of a carrier: whether it runs then, what it holds, and who else would do."""

from dataclasses import replace
from datetime import date, time, timedelta

from lacet.checks.case import Ground
from lacet.checks.kept import per_catalogue
from lacet.checks.making import fix
from lacet.days.holidays import holidays_of
from lacet.days.opening import open_overlaps, opening, sentence
from lacet.figures.day import clock_s
from lacet.figures.values import DayFigures
from lacet.language import to_say
from lacet.trip import edits
from lacet.trip.catalogue import Catalogue
from lacet.trip.errors import LacetError
from lacet.trip.finding import Fix
from lacet.trip.library import Ref, Transfer
from lacet.trip.trip import Move
from lacet.trip.words import Carrier, Load

WAITS_S = 3_600.0
"""A guest who comes less than an hour before a service begins waits for it (common practice, no source)."""
READY_BY = time(9, 0)
DELIVERED_BY = time(15, 0)
"""Usual hours of a move that names none (common practice, no source)."""
_QUARTER_MIN = 15
_DAY_MIN = 24 * 60
_MOST = 2
ON_CALL = (Carrier.TAXI, Carrier.VAN, Carrier.REP)
"""Carriers that come when they are called: without hours of their own there is nothing to ask about."""


def runs(case: Ground, service: Transfer, on: date | None, from_s: float, to_s: float) -> bool | None:
    """Whether a service runs at some time between two clock times of a day; None where nobody can tell.

    Without a date the answer holds for every day of the year, or of the month asked for.
    """
    if not service.runs:
        return None
    begin, end = int(from_s // 60 // _QUARTER_MIN) * _QUARTER_MIN, int(to_s // 60)
    if begin >= _DAY_MIN or end < begin:
        return None
    between = (begin, min(end, _DAY_MIN - 1))
    ref = Ref(service.id, service.version)
    if on is not None:
        return _runs_on(case.catalogue, ref, on, *between)
    return _runs_always(case.catalogue, ref, case.as_of.year, case.trip.month, *between)


@per_catalogue
def _runs_on(catalogue: Catalogue, ref: Ref, on: date, begin: int, end: int) -> bool | None:
    service = catalogue.need(Transfer, ref)
    try:
        return open_overlaps(
            opening(service.runs), on, _time(begin), _time(end), holidays_of(catalogue.region)
        )
    except LacetError:
        return None


@per_catalogue
def _runs_always(
    catalogue: Catalogue, ref: Ref, year: int, month: int | None, begin: int, end: int
) -> bool | None:
    """True or False where a week in each month says the same, else None."""
    first_days = [date(year + 1, each, 8) for each in ((month,) if month else range(1, 13))]
    answers = {
        _runs_on(catalogue, ref, first + timedelta(days=number), begin, end)
        for first in first_days
        for number in range(7)
    }
    return answers.pop() if len(answers) == 1 else None


def _time(minute: int) -> time:
    return time(minute // 60, minute % 60)


def hours(service: Transfer) -> str:
    """When a service runs, as people say it."""
    try:
        return sentence(opening(service.runs)).replace("open ", "runs ", 1)
    except LacetError:
        return f"its hours are '{service.runs}'"


def anywhere(case: Ground) -> tuple[Transfer, ...]:
    """Carriers that drive wherever they are asked to, vans first."""
    return _anywhere(case.catalogue)


@per_catalogue
def _anywhere(catalogue: Catalogue) -> tuple[Transfer, ...]:
    found = [
        service
        for service in catalogue.current(Transfer)
        if service.from_place is None and service.carrier in ON_CALL
    ]
    return tuple(sorted(found, key=lambda service: service.carrier is not Carrier.VAN))


def room_for(service: Transfer, load: Load) -> int | None:
    """How many bags or bikes a carrier takes; None = nobody has said."""
    return service.bags if load is Load.BAGS else service.bikes


def moves_then(case: Ground, service: Transfer, day: DayFigures, move: Move) -> bool | None:
    """Whether a carrier runs between the hours of a move."""
    return runs(
        case, service, day.on, clock_s(move.ready_by or READY_BY), clock_s(move.delivered_by or DELIVERED_BY)
    )


def move_carriers(case: Ground, day: DayFigures, move: Move) -> tuple[Fix, ...]:
    """Others who drive anywhere and have the room: for a new move, or for one that is planned."""
    fitting = [
        service
        for service in anywhere(case)
        if (room_for(service, move.load) or 0) >= (move.count or 1)
        and (move.means is None or move.means.id != service.id)
        and moves_then(case, service, day, move) is not False
    ]
    return tuple(
        fix(
            to_say("{load:begun} with {service}", load=move.load, service=service.name),
            edits.set_move, case, day.id, replace(move, means=Ref(service.id, service.version)),
        )
        for service in fitting[:_MOST]
    )  # fmt: skip
