"""Bags travel when the guests change houses, are there before them, and are not too many or too heavy."""

from collections.abc import Iterator
from datetime import time

from lacet.checks.case import Case
from lacet.checks.kitchens import house_of
from lacet.checks.making import day_finding, fix
from lacet.checks.words import clock
from lacet.figures.day import clock_s
from lacet.figures.values import DayFigures
from lacet.trip import edits
from lacet.trip.finding import Finding, Fix, Level
from lacet.trip.library import Ref, Transfer
from lacet.trip.trip import Move, Ride
from lacet.trip.words import Load

ID = "bags_moved"
SAYS = "Bags are moved whenever the lodging changes, by a carrier with room, before the guests arrive."


def check(case: Case) -> Iterator[Finding]:
    for day in case.figures.days[1:]:
        bags = [move for move in case.day(day.number).moves if move.load is Load.BAGS]
        changed = _changed(case, day)
        if changed and not bags and not _carried_along(case, day):
            says = "The lodging changes, but nobody moves the bags. Add a bag move, or let them ride along."
            yield day_finding(ID, Level.STOP, day, says, "none", fixes=_carriers(case, day))
        for index, move in enumerate(bags):
            yield from _judge(case, day, move, index)


def _changed(case: Case, day: DayFigures) -> bool:
    """Whether somebody sleeps elsewhere than the night before; the way home is a transfer's matter."""
    for guest in case.trip.party.travellers:
        before, after = (house_of(case, number, guest.id) for number in (day.number - 1, day.number))
        if before is not None and after is not None and before.id != after.id:
            return True
    return False


def _carried_along(case: Case, day: DayFigures) -> bool:
    """A day without a leg: whoever drives the guests takes their bags."""
    planned = case.day(day.number)
    return not planned.legs() and any(isinstance(item, Ride) for item in planned.items)


def _judge(case: Case, day: DayFigures, move: Move, index: int) -> Iterator[Finding]:
    heads = sum(guest.there_on(day.number) for guest in case.trip.party.travellers)
    done = [max(group.done_s, _opens_s(case, day)) for group in day.groups if group.done_s is not None]
    if move.delivered_by is not None and done and clock_s(move.delivered_by) > max(min(done), 0.0):
        by, there = clock(clock_s(move.delivered_by)), clock(min(done))
        if clock_s(move.delivered_by) - min(done) > case.rules.bags_after_s:
            says = f"Bags are there by {by}, the guests may come from {there}. Ask the carrier to be earlier."
            yield day_finding(
                ID, Level.WARN, day, says, f"late {index}",
                figure=clock_s(move.delivered_by) - min(done), limit=case.rules.bags_after_s, unit="s",
            )  # fmt: skip
    allowed = case.rules.bags_a_head * heads
    if move.count is not None and move.count > allowed:
        says = f"{move.count} bags for {heads} guests; {case.rules.bags_a_head} a head is usual. Ask first."
        yield day_finding(
            ID,
            Level.WARN,
            day,
            says,
            f"count {index}",
            figure=float(move.count),
            limit=float(allowed),
            unit="bags",
        )
    if move.kg is not None and move.count and move.kg / move.count > case.rules.bag_kg:
        each = move.kg / move.count
        says = f"{each:.0f} kg a bag; {case.rules.bag_kg:.0f} kg is the limit. Ask them to pack in two."
        yield day_finding(
            ID, Level.WARN, day, says, f"kg {index}", figure=each, limit=case.rules.bag_kg, unit="kg"
        )
    service = case.catalogue.get(Transfer, move.means) if move.means else None
    if service is not None and service.bags is not None and (move.count or heads) > service.bags:
        says = f"{service.name} takes {service.bags} bags, {move.count or heads} are to be moved."
        yield day_finding(
            ID, Level.STOP, day, says, f"room {index}", figure=float(move.count or heads),
            limit=float(service.bags), unit="bags", fixes=_carriers(case, day),
        )  # fmt: skip
    yield from _reached(case, day, index)


def _opens_s(case: Case, day: DayFigures) -> float:
    """When the house of the night lets guests in; before that nobody misses a bag."""
    houses = [house_of(case, day.number, guest.id) for guest in case.trip.party.travellers]
    for house in houses:
        if house is not None and house.check_in:
            try:
                return clock_s(time.fromisoformat(house.check_in.partition("-")[0].strip()))
            except ValueError:
                return 0.0
    return 0.0


def _reached(case: Case, day: DayFigures, index: int) -> Iterator[Finding]:
    """No van reaches a house without vehicle access."""
    for guest in case.trip.party.travellers[:1]:
        for number in (day.number - 1, day.number):
            house = house_of(case, number, guest.id)
            if house is None or house.vehicle_access or not _changed(case, day):
                continue
            unknown = house.vehicle_access is None
            how = "Nobody has said whether a van reaches" if unknown else "No vehicle reaches"
            says = f"{how} {house.name}. Agree with the house how the bags get there."
            yield day_finding(ID, Level.STOP, day, says, f"access {house.id} {index}", unknown=unknown)


def _carriers(case: Case, day: DayFigures) -> tuple[Fix, ...]:
    heads = sum(guest.there_on(day.number) for guest in case.trip.party.travellers)
    services = [service for service in case.catalogue.current(Transfer) if (service.bags or 0) >= heads]
    return tuple(
        fix(
            f"Bags with {service.name}",
            edits.set_move, case, day.id,
            Move(load=Load.BAGS, ready_by=time(9, 0), delivered_by=time(16, 0), count=heads,
                 means=Ref(service.id, service.version)),
        )
        for service in services[:2]
    )  # fmt: skip
