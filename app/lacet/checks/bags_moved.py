"""Bags travel when guests change houses, reach every house, and are there when they are missed.

Whoever is driven takes their bags along. On the way home bags are missed at the departure; else they are when
the guests are done for the day and the house lets them in.
"""

from collections.abc import Iterator
from dataclasses import replace
from datetime import time

from lacet.checks.beds import house_of
from lacet.checks.carriers import DELIVERED_BY, READY_BY, move_carriers
from lacet.checks.case import DayCase
from lacet.checks.making import clock_time, day_finding, fix
from lacet.checks.words import guests
from lacet.figures.day import clock_s
from lacet.figures.values import DayFigures
from lacet.language import Text, marked, to_say
from lacet.trip import edits
from lacet.trip.finding import Finding, Ids, Level
from lacet.trip.itinerary import crossing_of, leaves_on
from lacet.trip.library import Lodging
from lacet.trip.trip import Move
from lacet.trip.words import Load, Means

ID = "bags_moved"
SAYS = "Bags are moved whenever the lodging changes, and are there when the guests are."
_QUARTER_S = 900.0
_UNKNOWN_ACCESS = marked(
    "Nobody has said whether a van reaches {lodging}. Ask the house how the bags get there."
)
_NO_ACCESS = marked("No vehicle reaches {lodging}. Agree with the house how the bags get there.")


def check_day(case: DayCase) -> Iterator[Finding]:
    day = case.figures
    if case.before is not None:
        moves = case.day(day.number).moves
        bags = [move for move in moves if move.load is Load.BAGS]
        changing = _changing(case, day)
        left = [who for who in changing if not any(_brings(case, move, day, who) for move in bags)]
        if left:
            yield _left_behind(case, day, tuple(left))
        for move in bags:
            yield from _late(case, day, move)
        if bags:
            yield from _reached(case, day)


def _changing(case: DayCase, day: DayFigures) -> list[str]:
    """Who goes on to another house, or away for good, under their own power."""
    return [
        who
        for group in day.groups
        if group.legs
        for who in group.travellers
        if _goes_on(case, day, who, group.end_place)
    ]


def _goes_on(case: DayCase, day: DayFigures, who: str, end_place: str | None) -> bool:
    houses = _houses(case, day, who)
    if case.traveller(who).sleeps_after(day.number) and not case.is_last:
        return len(houses) == 2
    return bool(houses) and houses[0].place != end_place


def _houses(case: DayCase, day: DayFigures, who: str) -> list[Lodging]:
    """The houses a guest changes between that day: none for who stays on, one on the first and last night."""
    guest = case.traveller(who)
    before = house_of(case, day.number - 1, who) if guest.sleeps_after(day.number - 1) else None
    stays_on = guest.sleeps_after(day.number) and not case.is_last
    after = house_of(case, day.number, who) if stays_on else None
    if before is not None and after is not None and before.id == after.id:
        return []
    return [house for house in (before, after) if house is not None]


def _brings(case: DayCase, move: Move, day: DayFigures, who: str) -> bool:
    """Whether a move goes to where a guest sleeps; one without an end goes wherever it is needed."""
    house = house_of(case, day.number, who)
    return move.to_id is None or (house is not None and move.to_id in (house.id, house.place))


def _left_behind(case: DayCase, day: DayFigures, left: tuple[str, ...]) -> Finding:
    everybody = len(left) == len(case.trip.party.travellers)
    before = house_of(case, day.number - 1, left[0])
    lodging = before.name if before else to_say("their lodging")
    if everybody:
        says = to_say(
            "Nobody moves the bags that day, and guests go on from {lodging}. "
            "Add a bag move, or let the bags ride along.",
            lodging=lodging,
        )
    else:
        says = to_say(
            "Nobody moves the bags of {who} that day, and guests go on from {lodging}. "
            "Add a bag move, or let the bags ride along.",
            who=guests(case, left),
            lodging=lodging,
        )
    about: dict[str, Ids] = {} if everybody else {"guest": left}
    return day_finding(
        ID,
        "left_behind",
        Level.STOP,
        day,
        says,
        about,
        travellers=left,
        fixes=move_carriers(
            case, day, Move(load=Load.BAGS, ready_by=READY_BY, delivered_by=DELIVERED_BY, count=len(left))
        ),
    )


def _late(case: DayCase, day: DayFigures, move: Move) -> Iterator[Finding]:
    if move.delivered_by is None:
        return
    by_s = clock_s(move.delivered_by)
    due_s, missed_s = _due_s(case, day), _missed_s(case, day)
    if due_s is not None and by_s > due_s:
        says = to_say(
            "Bags are there by {by_s:clock}, for the departure {due_s:clock} is the latest. Ask "
            "the carrier to be earlier.",
            by_s=by_s,
            due_s=due_s,
        )
        yield _told_late(case, day, move, Level.STOP, says, due_s, 0.0)
    elif missed_s is not None and by_s - missed_s > case.rules.bags_after_s:
        says = to_say(
            "Bags are there by {by_s:clock}, the guests may come from {missed_s:clock}. Ask the "
            "carrier to be earlier.",
            by_s=by_s,
            missed_s=missed_s,
        )
        yield _told_late(case, day, move, Level.WARN, says, missed_s, case.rules.bags_after_s)


def _told_late(
    case: DayCase,
    day: DayFigures,
    move: Move,
    level: Level,
    says: Text,
    due_s: float,
    limit_s: float,
) -> Finding:
    """Late by so much after it is due; the fix is the quarter hour before."""
    by_s = clock_s(move.delivered_by) if move.delivered_by is not None else due_s
    earlier_s = (due_s + limit_s) // _QUARTER_S * _QUARTER_S
    ready_s = clock_s(move.ready_by) if move.ready_by is not None else 0.0
    mend = fix(
        to_say("Bags there by {earlier_s:clock}", earlier_s=earlier_s), edits.set_move, case, day.id,
        replace(move, delivered_by=clock_time(earlier_s)),
    )  # fmt: skip
    return day_finding(
        ID, "late", level, day, says, {"move": move.id}, figure=by_s - due_s, limit=limit_s, unit="s",
        fixes=(mend,) if ready_s < earlier_s < 86_400.0 else (),
    )  # fmt: skip


def _missed_s(case: DayCase, day: DayFigures) -> float | None:
    """When the first guests who sleep there may be in their rooms."""
    found = []
    for group in day.groups:
        house = house_of(case, day.number, group.travellers[0])
        staying = any(case.traveller(who).sleeps_after(day.number) for who in group.travellers)
        if group.done_s is not None and house is not None and staying and not case.is_last:
            found.append(max(group.done_s, _opens_s(house)))
    return min(found, default=None)


def _due_s(case: DayCase, day: DayFigures) -> float | None:
    """When bags must be at the hub for the first guests who leave the region that day, where known."""
    found = []
    for guest in case.trip.party.travellers:
        leave = crossing_of(case.trip.departures, guest.id)
        if leave is None or leave.at is None:
            continue
        if day.number == leaves_on(case.trip, leave, guest, case.last):
            flies, rules = leave.means is Means.FLIGHT, case.rules
            found.append(
                clock_s(leave.at) - (rules.before_flight_stop_s if flies else rules.before_boat_stop_s)
            )
    return min(found, default=None)


def _opens_s(house: Lodging) -> float:
    """When the house lets guests in; before that nobody misses a bag."""
    try:
        return clock_s(time.fromisoformat(house.check_in.partition("-")[0].strip()))
    except ValueError:
        return 0.0


def _reached(case: DayCase, day: DayFigures) -> Iterator[Finding]:
    """No van reaches a house without vehicle access, to fetch bags or to bring them."""
    there = [guest.id for guest in case.trip.party.travellers if guest.there_on(day.number)]
    houses = {house.id: house for who in there for house in _houses(case, day, who)}
    for house in houses.values():
        if house.vehicle_access:
            continue
        unknown = house.vehicle_access is None
        says = to_say(_UNKNOWN_ACCESS if unknown else _NO_ACCESS, lodging=house.name)
        level = Level.WARN if unknown else Level.STOP
        yield day_finding(ID, "access", level, day, says, {"lodging": house.id}, unknown=unknown)
