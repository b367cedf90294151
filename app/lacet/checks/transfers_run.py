"""A transfer has somebody who drives it, that day, with seats for everybody."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, time

from lacet.checks.case import Case
from lacet.checks.making import fix, group_finding
from lacet.days.holidays import holidays_of
from lacet.days.opening import open_overlaps, opening, state
from lacet.figures.values import DayFigures, GroupFigures, Step
from lacet.trip import edits
from lacet.trip.errors import LacetError
from lacet.trip.finding import Finding, Fix, Level
from lacet.trip.library import Ref, Transfer
from lacet.trip.trip import Ride

ID = "transfers_run"
SAYS = "Every transfer has a carrier with seats for the party that runs that day."


def check(case: Case) -> Iterator[Finding]:
    for day, group in case.groups():
        for step in group.steps:
            if isinstance(step.item, Ride):
                yield from _judge(case, day, group, step, step.item)


def _judge(case: Case, day: DayFigures, group: GroupFigures, step: Step, ride: Ride) -> Iterator[Finding]:
    ends = f"{case.place_name(ride.from_place)} to {case.place_name(ride.to_place)}"
    service = case.catalogue.get(Transfer, ride.transfer) if ride.transfer else None
    if service is None:
        says = f"Nobody drives the transfer {ends} yet. Choose a carrier."
        yield group_finding(ID, Level.WARN, day, group, says, ride.id, fixes=_carriers(case, group, ride))
        return
    if (
        service.seats is not None
        and len(group.travellers) > service.seats
        and service.carrier.value != "taxi"
    ):
        says = f"{service.name} has {service.seats} seats, {len(group.travellers)} guests go."
        yield group_finding(
            ID, Level.STOP, day, group, says, f"{ride.id} seats", figure=float(len(group.travellers)),
            limit=float(service.seats), unit="seats", fixes=_carriers(case, group, ride),
        )  # fmt: skip
    if ride.minutes is None and service.minutes is None:
        says = f"How long the transfer {ends} takes isn't known and left out of the clock. Enter it."
        yield group_finding(ID, Level.NOTE, day, group, says, f"{ride.id} minutes", unknown=True)
    if service.runs and day.on is not None and _runs(case, service, day, step) is False:
        says = f"{service.name} doesn't run then ({service.runs}). Choose another hour or carrier."
        yield group_finding(
            ID, Level.STOP, day, group, says, f"{ride.id} runs", fixes=_carriers(case, group, ride)
        )


def _runs(case: Case, service: Transfer, day: DayFigures, step: Step) -> bool | None:
    assert day.on is not None, "asked only with a date"
    try:
        hours, holidays = opening(service.runs), holidays_of(case.catalogue.region)
        minutes = int(step.starts_s // 60)
        if minutes >= 24 * 60:
            return None
        at = time(minutes // 60, minutes % 60)
        if state(hours, datetime.combine(day.on, at), holidays):
            return True
        # A timetable's hours: a guest who comes a little early waits.
        return open_overlaps(hours, day.on, at, time(min(at.hour + 1, 23), at.minute), holidays)
    except LacetError:
        return None


def _carriers(case: Case, group: GroupFigures, ride: Ride) -> tuple[Fix, ...]:
    fitting = [
        service
        for service in case.catalogue.current(Transfer)
        if service.from_place is None
        and (service.seats or 0) >= len(group.travellers)
        and (ride.transfer is None or service.id != ride.transfer.id)
    ]
    return tuple(
        fix(
            f"With {service.name}",
            edits.replace_item, case, ride.id, replace(ride, transfer=Ref(service.id, service.version)),
        )
        for service in fitting[:2]
    )  # fmt: skip
