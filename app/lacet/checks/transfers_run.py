"""A transfer has somebody who drives it, that day, with seats for everybody."""

from collections.abc import Iterator
from dataclasses import replace

from lacet.checks.carriers import ON_CALL, WAITS_S, anywhere, hours, runs
from lacet.checks.case import DayCase
from lacet.checks.making import fix, group_finding
from lacet.checks.words import begun
from lacet.figures.values import DayFigures, GroupFigures, Step
from lacet.trip import edits
from lacet.trip.finding import Finding, Fix, Level
from lacet.trip.library import Ref, Transfer
from lacet.trip.trip import Ride
from lacet.trip.words import Carrier

ID = "transfers_run"
SAYS = "Every transfer has a carrier with seats for the party that runs that day."
_MOST = 3


def check_day(case: DayCase) -> Iterator[Finding]:
    for day, group in case.groups():
        for step in group.steps:
            if isinstance(step.item, Ride):
                yield from _judge(case, day, group, step, step.item)


def _judge(case: DayCase, day: DayFigures, group: GroupFigures, step: Step, ride: Ride) -> Iterator[Finding]:
    ends = f"{case.place_name(ride.from_place)} to {case.place_name(ride.to_place)}"
    service = case.catalogue.get(Transfer, ride.transfer) if ride.transfer else None
    if service is None:
        says = f"Nobody drives the transfer {ends} yet. Choose a carrier."
        yield group_finding(
            ID, Level.WARN, day, group, says, ride.id, fixes=_others(case, day, group, step, ride)
        )
        return
    yield from _seats(case, day, group, step, ride, service)
    if ride.minutes is None and service.minutes is None:
        says = f"How long the transfer {ends} takes isn't known and left out of the clock. Enter it."
        yield group_finding(ID, Level.NOTE, day, group, says, f"{ride.id} minutes", unknown=True)
    yield from _runs(case, day, group, step, ride, service)


def _seats(
    case: DayCase, day: DayFigures, group: GroupFigures, step: Step, ride: Ride, service: Transfer
) -> Iterator[Finding]:
    going = len(group.travellers)
    # A taxi firm sends a second car; the price counts it.
    if service.seats is not None and going > service.seats and service.carrier is not Carrier.TAXI:
        says = f"{service.name} has {service.seats} seats, {going} guests go. Choose another carrier."
        yield group_finding(
            ID, Level.STOP, day, group, says, f"{ride.id} seats", figure=float(going),
            limit=float(service.seats), unit="seats", fixes=_others(case, day, group, step, ride),
        )  # fmt: skip


def _runs(
    case: DayCase, day: DayFigures, group: GroupFigures, step: Step, ride: Ride, service: Transfer
) -> Iterator[Finding]:
    answer = runs(case, service, day.on, step.starts_s, step.starts_s + WAITS_S)
    if answer is False:
        says = f"{service.name} doesn't run then: {hours(service)}. Choose another hour or carrier."
        yield group_finding(
            ID, Level.STOP, day, group, says, f"{ride.id} runs", source="the carrier's hours",
            fixes=_others(case, day, group, step, ride),
        )  # fmt: skip
    elif answer is None and (service.runs or service.carrier not in ON_CALL):
        if not service.runs:
            how = "nobody has said when it runs. Ask"
        elif day.on is None:
            how = f"it {hours(service)}; nobody can tell without a date. Set the date"
        else:
            how = f"whether it runs then can't be told from its hours ('{service.runs}'). Ask"
        yield group_finding(
            ID, Level.NOTE, day, group, f"{begun(service.name)}: {how}.", f"{ride.id} runs", unknown=True
        )


def _others(case: DayCase, day: DayFigures, group: GroupFigures, step: Step, ride: Ride) -> tuple[Fix, ...]:
    """Carriers that drive anywhere, have the seats and aren't known to stand still then."""
    fitting = [
        service
        for service in anywhere(case)
        if (service.seats or 0) >= len(group.travellers)
        and (ride.transfer is None or service.id != ride.transfer.id)
        and runs(case, service, day.on, step.starts_s, step.starts_s + WAITS_S) is not False
    ]
    return tuple(
        fix(
            f"With {service.name}",
            edits.replace_item, case, ride.id, replace(ride, transfer=Ref(service.id, service.version)),
        )
        for service in fitting[:_MOST]
    )  # fmt: skip
