"""A transfer has somebody who drives it, that day, with seats for everybody."""

from collections.abc import Iterator
from dataclasses import replace

from lacet.checks.carriers import ON_CALL, WAITS_S, anywhere, hours, runs
from lacet.checks.case import DayCase
from lacet.checks.making import fix, group_finding
from lacet.checks.several import Several
from lacet.figures.values import DayFigures, GroupFigures, Step
from lacet.language import marked, to_say
from lacet.trip import edits
from lacet.trip.finding import Finding, Fix, Level
from lacet.trip.library import Ref, Transfer
from lacet.trip.trip import Ride
from lacet.trip.words import Carrier

ID = "transfers_run"
SAYS = "Every transfer has a carrier with seats for the party that runs that day."
_MOST = 3


SEVERAL = {
    "no_carrier": Several(says=marked("Nobody drives these transfers yet: {ends:some}. Choose carriers.")),
}


def check_day(case: DayCase) -> Iterator[Finding]:
    for day, group in case.groups():
        for step in group.steps:
            if isinstance(step.item, Ride):
                yield from _judge(case, day, group, step, step.item)


def _judge(case: DayCase, day: DayFigures, group: GroupFigures, step: Step, ride: Ride) -> Iterator[Finding]:
    ends = to_say(
        "{here} to {there}", here=case.place_name(ride.from_place), there=case.place_name(ride.to_place)
    )
    service = case.catalogue.get(Transfer, ride.transfer) if ride.transfer else None
    if service is None:
        says = to_say("Nobody drives the transfer {ends} yet. Choose a carrier.", ends=ends)
        yield group_finding(
            ID,
            "no_carrier",
            Level.WARN,
            day,
            group,
            says,
            {"ride": ride.id},
            fixes=_others(case, day, group, step, ride),
        )
        return
    yield from _seats(case, day, group, step, ride, service)
    if ride.minutes is None and service.minutes is None:
        says = to_say(
            "How long the transfer {ends} takes isn't known and left out of the clock. Enter it.", ends=ends
        )
        yield group_finding(
            ID, "minutes_unknown", Level.NOTE, day, group, says, {"ride": ride.id}, unknown=True
        )
    yield from _runs(case, day, group, step, ride, service)


def _seats(
    case: DayCase, day: DayFigures, group: GroupFigures, step: Step, ride: Ride, service: Transfer
) -> Iterator[Finding]:
    going = len(group.travellers)
    # A taxi firm sends a second car; the price counts it.
    if service.seats is not None and going > service.seats and service.carrier is not Carrier.TAXI:
        says = to_say(
            "{service} has {seats} seats, {going} guests go. Choose another carrier.",
            service=service.name,
            seats=service.seats,
            going=going,
        )
        yield group_finding(
            ID, "seats", Level.STOP, day, group, says, {"ride": ride.id}, figure=float(going),
            limit=float(service.seats), unit="seats", fixes=_others(case, day, group, step, ride),
        )  # fmt: skip


def _runs(
    case: DayCase, day: DayFigures, group: GroupFigures, step: Step, ride: Ride, service: Transfer
) -> Iterator[Finding]:
    answer = runs(case, service, day.on, step.starts_s, step.starts_s + WAITS_S)
    if answer is False:
        says = to_say(
            "{service} doesn't run then: {hours}. Choose another hour or carrier.",
            service=service.name,
            hours=hours(service),
        )
        yield group_finding(
            ID, "runs", Level.STOP, day, group, says, {"ride": ride.id}, source="the carrier's hours",
            fixes=_others(case, day, group, step, ride),
        )  # fmt: skip
    elif answer is None and (service.runs or service.carrier not in ON_CALL):
        if not service.runs:
            how = to_say("{service}: nobody has said when it runs. Ask.", service=service.name)
        elif day.on is None:
            how = to_say(
                "{service}: it {hours}; nobody can tell without a date. Set the date.",
                service=service.name,
                hours=hours(service),
            )
        else:
            how = to_say(
                "{service}: whether it runs then can't be told from its hours ('{runs}'). Ask.",
                service=service.name,
                runs=service.runs,
            )
        yield group_finding(ID, "hours_unknown", Level.NOTE, day, group, how, {"ride": ride.id}, unknown=True)


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
            to_say("With {service}", service=service.name),
            edits.replace_item, case, ride.id, replace(ride, transfer=Ref(service.id, service.version)),
        )
        for service in fitting[:_MOST]
    )  # fmt: skip
