"""Whoever moves bags or bikes has room for them and runs that day; bags are as many and heavy as usual.

One bag a head of 20 kg at most is common practice, no source.
"""

from collections.abc import Iterator

from lacet.checks.carriers import hours, move_carriers, moves_then, room_for
from lacet.checks.case import DayCase
from lacet.checks.making import day_finding
from lacet.figures.values import DayFigures
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
        says = f"{move.count} bags for {heads} guests; {a_head} a head is usual. Ask the carrier."
        yield day_finding(
            ID, Level.WARN, day, says, f"count {move.id}", figure=float(move.count),
            limit=float(a_head * heads), unit="bags",
        )  # fmt: skip
    # Whoever shares a bag may not make it heavier for that, nor whoever brings two bring twice as much.
    each_kg = move.kg / min(move.count or heads, heads) if move.kg is not None else 0.0
    if each_kg > limit_kg:
        says = (
            f"{each_kg:.0f} kg a head; {limit_kg:.0f} kg is usual. Ask the carrier, or have guests pack less."
        )
        yield day_finding(
            ID, Level.WARN, day, says, f"kg {move.id}", figure=each_kg, limit=limit_kg, unit="kg"
        )


def _carried(case: DayCase, day: DayFigures, move: Move, count: int) -> Iterator[Finding]:
    what = move.load.value
    service = case.catalogue.get(Transfer, move.means) if move.means else None
    if service is None:
        says = f"The {what} are to be moved, but nobody is named who does. Choose a carrier."
        yield day_finding(ID, Level.WARN, day, says, f"means {move.id}", fixes=move_carriers(case, day, move))
        return
    room = room_for(service, move.load)
    if room is None:
        says = f"Nobody has said how many {what} {service.name} takes; {count} are to be moved. Ask."
        yield day_finding(ID, Level.NOTE, day, says, f"room {move.id}", unknown=True)
    elif count > room:
        says = f"{service.name} takes {room} {what}, {count} are to be moved. Choose another carrier."
        yield day_finding(
            ID, Level.STOP, day, says, f"room {move.id}", figure=float(count), limit=float(room), unit=what,
            fixes=move_carriers(case, day, move),
        )  # fmt: skip
    if moves_then(case, service, day, move) is False:
        says = f"{service.name} doesn't run then: {hours(service)}. Choose another carrier."
        yield day_finding(
            ID,
            Level.STOP,
            day,
            says,
            f"runs {move.id}",
            source="the carrier's hours",
            fixes=move_carriers(case, day, move),
        )
