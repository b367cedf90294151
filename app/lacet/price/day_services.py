"""Lines of a day besides its nights: meals, rides, entries, moved bags and bikes, the rep's briefing.

What the board of a night already holds is not charged again as a meal. A ride is charged by the vehicle
where the carrier has such rates, else by the head.
"""

from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from lacet.price.costing import Costing
from lacet.price.lines import QuoteLine, Unknown
from lacet.price.tariffs import BOARDS, Ask
from lacet.trip.hires import days_of
from lacet.trip.itinerary import night_of
from lacet.trip.library import Lodging, Restaurant, Tariff, Transfer
from lacet.trip.trip import Day, Meal, Move, Night, Ride, Visit
from lacet.trip.words import Board, Load, MealKind, Payer, Service, Unit

MEAL_WORDS = {
    MealKind.BREAKFAST: "breakfast",
    MealKind.PACKED_LUNCH: "packed lunch",
    MealKind.DINNER: "dinner",
}
_HELD_FROM = {
    MealKind.BREAKFAST: Board.BREAKFAST,
    MealKind.DINNER: Board.HALF_BOARD,
    MealKind.PACKED_LUNCH: Board.FULL_BOARD,
}


def meal_lines(costing: Costing, number: int, day: Day, before: Day | None) -> Iterator[QuoteLine]:
    """Meals of a day. `before` is the day before it, whose night the day begins in."""
    for meal in day.meals:
        eaters = _eaters(costing, number, meal)
        if meal.at_lodging:
            yield from _at_lodging(costing, number, day, before, meal, eaters)
        elif eaters and (meal.restaurant is not None or meal.payer is not Payer.OWN):
            yield from _at_restaurant(costing, number, day, meal, eaters)


def _eaters(costing: Costing, number: int, meal: Meal) -> tuple[str, ...]:
    there = costing.there(number, meal.travellers)
    if meal.kind is not MealKind.DINNER:
        return there
    # Who leaves before the end has left by dinner.
    return tuple(
        guest.id for guest in costing.party.travellers if guest.id in there and guest.sleeps_after(number)
    )


def _at_restaurant(
    costing: Costing, number: int, day: Day, meal: Meal, eaters: tuple[str, ...]
) -> Iterator[QuoteLine]:
    place = None if meal.restaurant is None else costing.catalogue.get(Restaurant, meal.restaurant)
    what = _meal(number, day, meal)
    if place is None:
        says = MEAL_WORDS[meal.kind]
        chosen = meal.restaurant is not None
        why = Unknown.NOT_IN_LIBRARY if chosen else Unknown.NOT_CHOSEN
        reason = "the library doesn't hold this restaurant" if chosen else "no place is chosen"
        yield costing.unknown(why, reason, quantity=len(eaters), says=says, travellers=eaters, **what)
        return
    says = f"{place.name}: {MEAL_WORDS[meal.kind]}"
    yield from _by_age(costing, number, Service.RESTAURANT, place.id, says, eaters, what, meal.kind)


def _at_lodging(
    costing: Costing, number: int, day: Day, before: Day | None, meal: Meal, eaters: tuple[str, ...]
) -> Iterator[QuoteLine]:
    """By house: nothing where the board holds the meal, else the house's tariff for meals."""
    parted: dict[Night | None, list[str]] = {}
    for eater in eaters:
        night = _night_of_meal(day, before, meal, eater)
        if night is None or BOARDS.index(night.board) < BOARDS.index(_HELD_FROM[meal.kind]):
            parted.setdefault(night, []).append(eater)
    for night, group in parted.items():
        yield from _meal_of_house(costing, number, day, meal, night, tuple(group))


def _night_of_meal(day: Day, before: Day | None, meal: Meal, eater: str) -> Night | None:
    tonight = night_of(day, eater)
    if meal.kind is MealKind.DINNER or before is None:
        return tonight
    return night_of(before, eater) or tonight


def _meal_of_house(
    costing: Costing, number: int, day: Day, meal: Meal, night: Night | None, eaters: tuple[str, ...]
) -> Iterator[QuoteLine]:
    house = None if night is None else costing.catalogue.get(Lodging, night.lodging)
    what = _meal(number, day, meal)
    if house is None or night is None:
        says, reason = f"{MEAL_WORDS[meal.kind]} at the lodging", "there is no lodging for it"
        yield costing.unknown(
            Unknown.NOT_CHOSEN, reason, quantity=len(eaters), says=says, travellers=eaters, **what
        )
        return
    says = f"{house.name}: {MEAL_WORDS[meal.kind]}"
    yield from _by_age(costing, number, Service.RESTAURANT, house.id, says, eaters, what, meal.kind)


def ride_lines(costing: Costing, number: int, ride: Ride) -> Iterator[QuoteLine]:
    """A transfer of guests."""
    riders = costing.there(number, ride.travellers)
    transfer = None if ride.transfer is None else costing.catalogue.get(Transfer, ride.transfer)
    what: dict[str, Any] = {"service": Service.TRANSFER, "item": ride.id, "day": number, "payer": ride.payer}
    if not riders:
        return
    if transfer is None:
        if ride.transfer is not None or ride.payer is not Payer.OWN:
            yield _no_carrier(costing, ride, riders, what)
        return
    what["subject"] = transfer.id
    if not costing.book.sells(Service.TRANSFER, transfer.id, Unit.VEHICLE):
        yield from _by_age(costing, number, Service.TRANSFER, transfer.id, transfer.name, riders, what)
        return
    found = costing.book.vehicles(transfer.id, len(riders), transfer.seats, costing.when(number))
    yield from costing.lines(found, 1, says=transfer.name, unit=Unit.VEHICLE, travellers=riders, **what)


def _no_carrier(costing: Costing, ride: Ride, riders: tuple[str, ...], what: dict[str, Any]) -> QuoteLine:
    chosen = ride.transfer is not None
    why = Unknown.NOT_IN_LIBRARY if chosen else Unknown.NOT_CHOSEN
    reason = "the library doesn't hold this carrier" if chosen else "no carrier is chosen"
    says = f"transfer from {_place(costing, ride.from_place)} to {_place(costing, ride.to_place)}"
    return costing.unknown(why, reason, quantity=1, says=says, unit=Unit.VEHICLE, travellers=riders, **what)


def _place(costing: Costing, place_id: str) -> str:
    place = costing.catalogue.place(place_id)
    return place_id if place is None else place.name


def visit_lines(costing: Costing, number: int, visit: Visit) -> Iterator[QuoteLine]:
    """An entry fee. A visit on the guests' own account without a tariff is taken as something to look at."""
    visitors = costing.there(number, visit.travellers)
    if not visitors or (not visit.tariff and visit.payer in (Payer.OWN, Payer.LOCALLY)):
        return
    what: dict[str, Any] = {"service": Service.ENTRY, "item": visit.id, "day": number, "payer": visit.payer}
    tariff = costing.catalogue.latest(Tariff, visit.tariff) if visit.tariff else None
    says = f"{visit.name}: entry"
    if tariff is None:
        reason = "its tariff isn't in the library" if visit.tariff else "no tariff is named"
        why = Unknown.NO_TARIFF
        yield costing.unknown(
            why, reason, quantity=len(visitors), says=says, unit=Unit.PERSON, travellers=visitors, **what
        )
        return
    ask = Ask(service=tariff.service, subject=tariff.subject_id, unit=Unit.PERSON)
    for found, some in costing.by_rate(ask, visitors, costing.when(number), (tariff,)):
        yield from costing.lines(found, len(some), says=says, unit=Unit.PERSON, travellers=some, **what)


def move_lines(costing: Costing, number: int, day: Day, move: Move) -> Iterator[QuoteLine]:
    """Bags or bikes moved: the carrier's own tariff, else the load's ("bags", "bikes"), else the common."""
    there = costing.there(number, None)
    if not there:
        return
    carrier = "" if move.means is None else move.means.id
    subjects = (carrier, move.load.value, "") if carrier else (move.load.value, "")
    sold = [each for each in subjects if costing.book.tariffs(Service.BAG_MOVE, each)]
    subject = sold[0] if sold else subjects[0]
    unit = Unit.BAG if costing.book.sells(Service.BAG_MOVE, subject, Unit.BAG) else Unit.MOVE
    found = costing.book.find(Ask(service=Service.BAG_MOVE, subject=subject, unit=unit), costing.when(number))
    yield from costing.lines(
        found,
        _load(costing, number, move, there) if unit is Unit.BAG else 1,
        service=Service.BAG_MOVE,
        subject=subject,
        item=day.id,
        day=number,
        says="bags moved" if move.load is Load.BAGS else "bikes moved",
        unit=unit,
        payer=move.payer,
        travellers=there,
    )


def _load(costing: Costing, number: int, move: Move, there: tuple[str, ...]) -> int:
    if move.count is not None:
        return move.count
    if move.load is Load.BAGS:
        return len(there) * costing.rules.bags_a_head
    return sum(
        hire.traveller in there and number in days_of(hire, costing.variant) for hire in costing.variant.hires
    )


def briefing_lines(costing: Costing, number: int, day: Day) -> Iterator[QuoteLine]:
    """The rep's time: by the hour where the tariff has such a rate, else by the day."""
    there = costing.there(number, None)
    if not day.briefing or not there:
        return
    by_hour = costing.book.sells(Service.REP, "", Unit.HOUR)
    unit = Unit.HOUR if by_hour else Unit.DAY
    hours = Decimal(costing.rules.briefing_minutes) / 60
    found = costing.book.find(Ask(service=Service.REP, unit=unit), costing.when(number))
    yield from costing.lines(
        found,
        hours if by_hour else 1,
        service=Service.REP,
        item=day.id,
        day=number,
        says="briefing by the rep",
        unit=unit,
        travellers=there,
    )


def _meal(number: int, day: Day, meal: Meal) -> dict[str, Any]:
    return {
        "service": Service.RESTAURANT,
        "item": day.id,
        "day": number,
        "payer": meal.payer,
        "unit": Unit.PERSON,
        "meal": meal.kind,
    }


def _by_age(
    costing: Costing,
    number: int,
    service: Service,
    subject: str,
    says: str,
    travellers: tuple[str, ...],
    what: dict[str, Any],
    meal: MealKind | None = None,
) -> Iterator[QuoteLine]:
    """A price a head, by age."""
    ask = Ask(service=service, subject=subject, unit=Unit.PERSON, meal=meal)
    known = what | {"subject": subject, "unit": Unit.PERSON, "says": says}
    for found, some in costing.by_rate(ask, travellers, costing.when(number)):
        yield from costing.lines(found, len(some), travellers=some, **known)
