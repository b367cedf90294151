"""Whoever moves bags or bikes has room for them and runs that day; bags are as many and heavy as usual.

One bag a head of 20 kg at most is common practice, no source.
"""

from collections.abc import Iterator

from lacet.checks.carriers import hours, move_carriers, moves_then, room_for
from lacet.checks.case import DayCase
from lacet.checks.making import day_finding
from lacet.figures.values import DayFigures
from lacet.language import to_say
from lacet.trip.finding import Finding, Level
from lacet.trip.library import Transfer
from lacet.trip.trip import Move
from lacet.trip.words import Load

ID = "moves_carried"
SAYS = "Bags and bikes have a carrier with room that runs that day: one bag a head, 20 kg at most."


def check_day(case: DayCase) -> Iterator[Finding]:
    day = case.figures
    heads = sum(guest.there_on(day.number) for guest in case.trip.party.travellers)
    for move in case.day(day.number).moves:
        if move.load is Load.BAGS and heads:
            yield from _usual(case, day, move, heads)
        yield from _carried(case, day, move, move.count or heads)


def _usual(case: DayCase, day: DayFigures, move: Move, heads: int) -> Iterator[Finding]:
    a_head, limit_kg = case.rules.bags_a_head, case.rules.bag_kg
    if move.count is not None and move.count > a_head * heads:
        says = to_say(
            "{count} bags for {heads} guests; {a_head} a head is usual. Ask the carrier.",
            count=move.count,
            heads=heads,
            a_head=a_head,
        )
        yield day_finding(
            ID, "count", Level.WARN, day, says, {"move": move.id}, figure=float(move.count),
            limit=float(a_head * heads), unit="bags",
        )  # fmt: skip
    # Whoever shares a bag may not make it heavier for that, nor whoever brings two bring twice as much.
    each_kg = move.kg / min(move.count or heads, heads) if move.kg is not None else 0.0
    if each_kg > limit_kg:
        says = to_say(
            "{each_kg:.0f} kg a head; {limit_kg:.0f} kg is usual. Ask the carrier, or have guests pack less.",
            each_kg=each_kg,
            limit_kg=limit_kg,
        )
        yield day_finding(
            ID, "kg", Level.WARN, day, says, {"move": move.id}, figure=each_kg, limit=limit_kg, unit="kg"
        )


def _carried(case: DayCase, day: DayFigures, move: Move, count: int) -> Iterator[Finding]:
    what = move.load.value
    service = case.catalogue.get(Transfer, move.means) if move.means else None
    if service is None:
        says = to_say(
            "The {what} are to be moved, but nobody is named who does. Choose a carrier.", what=what
        )
        yield day_finding(
            ID, "no_carrier", Level.WARN, day, says, {"move": move.id}, fixes=move_carriers(case, day, move)
        )
        return
    room = room_for(service, move.load)
    if room is None:
        says = to_say(
            "Nobody has said how many {what} {service} takes; {count} are to be moved. Ask.",
            what=what,
            service=service.name,
            count=count,
        )
        yield day_finding(ID, "room_unknown", Level.NOTE, day, says, {"move": move.id}, unknown=True)
    elif count > room:
        says = to_say(
            "{service} takes {room} {what}, {count} are to be moved. Choose another carrier.",
            service=service.name,
            room=room,
            what=what,
            count=count,
        )
        yield day_finding(
            ID, "room", Level.STOP, day, says, {"move": move.id}, figure=float(count),
            limit=float(room), unit=what,
            fixes=move_carriers(case, day, move),
        )  # fmt: skip
    if moves_then(case, service, day, move) is False:
        says = to_say(
            "{service} doesn't run then: {hours}. Choose another carrier.",
            service=service.name,
            hours=hours(service),
        )
        yield day_finding(
            ID,
            "runs",
            Level.STOP,
            day,
            says,
            {"move": move.id},
            source="the carrier's hours",
            fixes=move_carriers(case, day, move),
        )
