"""Bikes stand where their riders are.

A hired bike begins at one of its depots, a guest's own where the guest is. It goes along when it is ridden or
taken on a transfer that has room for it, and wherever somebody moves bikes that day; on foot it stays behind.
Where nobody can tell, it may be in more places than one.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field

from lacet.checks.carriers import DELIVERED_BY, READY_BY, move_carriers
from lacet.checks.case import Case
from lacet.checks.making import day_finding
from lacet.checks.words import guests
from lacet.figures.values import DayFigures, GroupFigures, Step
from lacet.language import to_count, to_say
from lacet.trip.finding import Finding, Level
from lacet.trip.hires import days_of
from lacet.trip.library import Bike, Transfer
from lacet.trip.trip import Hire, Leg, Move, Ride
from lacet.trip.words import Load, Way

ID = "bikes_there"
SAYS = "A bike stands where its rider is: ridden, taken along or moved there, not left behind on foot."


@dataclass(slots=True)
class _Missed:
    """Riders who set out by bike from one place while their bikes stand in others."""

    begins: str
    stands: frozenset[str]
    riders: list[str] = field(default_factory=list)


def check(case: Case) -> Iterator[Finding]:
    missed: dict[tuple[int, str, frozenset[str]], _Missed] = {}
    for hire in case.variant.hires:
        if case.trip.party.traveller(hire.traveller) is not None:
            for number, begins, stands in _follow(case, hire):
                told = missed.setdefault((number, begins, stands), _Missed(begins, stands))
                told.riders.append(hire.traveller)
    for (number, _, _), each in missed.items():
        yield _told(case, case.figures.days[number - 1], each)


def _follow(case: Case, hire: Hire) -> Iterator[tuple[int, str, frozenset[str]]]:
    """Days on which the bike isn't where the ride begins: day, where it begins, where the bike stands."""
    stands = _begins_at(case, hire)
    for number in days_of(hire, case.variant):
        day = case.figures.days[number - 1]
        group = next((each for each in day.groups if hire.traveller in each.travellers), None)
        moved = any(move.load is Load.BIKES for move in case.day(day.number).moves)
        if moved:
            stands = frozenset()
        for step in group.steps if group is not None else ():
            if _rides(step) and step.from_place is not None:
                if stands and step.from_place not in stands:
                    yield day.number, step.from_place, stands
                stands = frozenset((step.to_place,)) if step.to_place else frozenset()
            elif group is not None:
                stands = _taken_along(case, group, day.number, step, stands)
        if moved and group is not None:
            stands = frozenset((group.end_place,)) if group.end_place else frozenset()


def _rides(step: Step) -> bool:
    return isinstance(step.item, Leg) and step.item.way is Way.CYCLING and step.item.bike is None


def _begins_at(case: Case, hire: Hire) -> frozenset[str]:
    """The depots of a hired bike; nowhere in particular where nobody has said, and for a guest's own."""
    bike = case.catalogue.get(Bike, hire.bike) if hire.bike else None
    return frozenset(depot.place for depot in bike.depots if depot.count > 0) if bike else frozenset()


def _taken_along(
    case: Case, group: GroupFigures, number: int, step: Step, stands: frozenset[str]
) -> frozenset[str]:
    """A transfer with room for the group's bikes may take them; whether it does is for the guests to say."""
    ride = step.item
    if not isinstance(ride, Ride) or step.from_place not in stands or step.to_place is None:
        return stands
    service = case.catalogue.get(Transfer, ride.transfer) if ride.transfer else None
    bikes = sum(
        hire.traveller in group.travellers and number in days_of(hire, case.variant)
        for hire in case.variant.hires
    )
    room = service.bikes if service is not None else None
    return stands if room is not None and room < bikes else stands | {step.to_place}


def _told(case: Case, day: DayFigures, missed: _Missed) -> Finding:
    riders = tuple(missed.riders)
    values = {
        "who": guests(case, riders),
        "place": case.place_name(missed.begins),
        "stands": tuple(case.place_name(place) for place in sorted(missed.stands)),
    }
    if len(riders) > 1 and len(riders) == len(case.trip.party.travellers):
        says = to_say(
            "Everybody rides from {place}, but the bikes stand at {stands:any}. Move them by van.", **values
        )
    else:
        says = to_count(
            "{who:begun} rides from {place}, but the bike stands at {stands:any}. Move it by van.",
            "{who:begun} ride from {place}, but the bikes stand at {stands:any}. Move them by van.",
            len(riders),
            **values,
        )
    move = Move(load=Load.BIKES, ready_by=READY_BY, delivered_by=DELIVERED_BY, count=len(riders))
    return day_finding(
        ID, "elsewhere", Level.STOP, day, says, {"place": missed.begins, "guest": riders}, travellers=riders,
        fixes=move_carriers(case, day, move),
    )  # fmt: skip
