"""A dinner every evening, in a kitchen that is open then and has the seats."""

from collections.abc import Iterator
from dataclasses import replace

from lacet.checks.case import Case
from lacet.checks.kitchens import DINNER_AT, dinner_of, house_of, is_open, near, ref_of
from lacet.checks.making import day_finding, fix
from lacet.checks.nights import without_bed
from lacet.figures.values import DayFigures
from lacet.trip import edits
from lacet.trip.finding import Finding, Fix, Level
from lacet.trip.library import Lodging, Restaurant
from lacet.trip.trip import Meal
from lacet.trip.words import MealKind, Payer, Service

ID = "dinner_found"
SAYS = "Every evening has a dinner: the kitchen is open that day and has seats for the party."


def check(case: Case) -> Iterator[Finding]:
    for day in case.figures.days[:-1]:
        there = [guest.id for guest in case.trip.party.travellers if guest.sleeps_after(day.number)]
        told: set[object] = set()
        for who in there:
            if who in without_bed(case, day.number):
                continue
            dinner = dinner_of(case.day(day.number), who)
            house = house_of(case, day.number, who)
            if (dinner, house) in told:
                continue
            told.add((dinner, house))
            heads = sum(dinner_of(case.day(day.number), each) == dinner for each in there)
            yield from _judge(case, day, dinner, house, heads)


def _judge(
    case: Case, day: DayFigures, dinner: Meal | None, house: Lodging | None, heads: int
) -> Iterator[Finding]:
    if dinner is not None and dinner.restaurant is not None:
        yield from _restaurant(case, day, dinner, house, heads)
    elif dinner is not None and dinner.at_lodging:
        yield from _at_house(case, day, house)
    else:
        yield from _own_choice(case, day, dinner, house)


def _restaurant(
    case: Case, day: DayFigures, dinner: Meal, house: Lodging | None, heads: int
) -> Iterator[Finding]:
    kitchen = case.catalogue.get(Restaurant, dinner.restaurant) if dinner.restaurant else None
    if kitchen is None:
        return
    when = f"on {day.on:%A}s" if day.on else "then"
    opens = is_open(case, kitchen, day.on, dinner.at)
    if opens is False:
        level = Level.STOP if dinner.payer is Payer.INCLUDED else Level.WARN
        says = f"{kitchen.name} is closed {when}. Choose another kitchen."
        yield day_finding(
            ID, level, day, says, f"closed {kitchen.id}", fixes=_elsewhere(case, day, dinner, house),
            source="the restaurant's opening hours",
        )  # fmt: skip
    elif opens is None:
        what = "nobody has said when it is open" if not kitchen.opening else "nobody can tell without a date"
        says = f"{kitchen.name}: {what}. Ask, or set the date."
        yield day_finding(ID, Level.NOTE, day, says, f"hours {kitchen.id}", unknown=True)
    taken = case.commitments.count(Service.RESTAURANT, kitchen.id, "", day.on) if day.on else 0
    if kitchen.seats is not None and heads > kitchen.seats - taken:
        says = (
            f"{kitchen.name} has {kitchen.seats - taken} seats left, the party needs {heads}. Choose another."
        )
        yield day_finding(
            ID, Level.STOP, day, says, f"seats {kitchen.id}", figure=float(heads),
            limit=float(kitchen.seats - taken), unit="seats", fixes=_elsewhere(case, day, dinner, house),
        )  # fmt: skip


def _at_house(case: Case, day: DayFigures, house: Lodging | None) -> Iterator[Finding]:
    if house is None or house.serves_dinner:
        return
    unknown = house.serves_dinner is None
    how = "hasn't said whether it serves" if unknown else "serves no"
    says = f"{house.name} {how} dinner. Choose a kitchen near by, or ask the house."
    meal = Meal(kind=MealKind.DINNER, at=DINNER_AT)
    yield day_finding(
        ID,
        Level.STOP,
        day,
        says,
        f"house {house.id}",
        unknown=unknown,
        fixes=_elsewhere(case, day, meal, house),
    )


def _own_choice(case: Case, day: DayFigures, dinner: Meal | None, house: Lodging | None) -> Iterator[Finding]:
    """Nothing planned, or their own choice: then something must be open near by."""
    found = near(case, house, day.on)
    meal = dinner or Meal(kind=MealKind.DINNER, at=DINNER_AT)
    fixes = _elsewhere(case, day, replace(meal, payer=Payer.INCLUDED), house)
    if dinner is None:
        says = "No dinner is planned. Choose a kitchen, or let them find their own."
        level = Level.WARN if found or (house and house.serves_dinner) else Level.STOP
        yield day_finding(ID, level, day, says, "none", fixes=fixes)
    elif not found and day.on is not None and not (house and house.serves_dinner):
        says = "Dinner is their own choice, but nothing near by is known to be open. Plan one."
        yield day_finding(ID, Level.WARN, day, says, "own", fixes=fixes)


def _elsewhere(case: Case, day: DayFigures, dinner: Meal, house: Lodging | None) -> tuple[Fix, ...]:
    """The house itself where it cooks, then what is open near by."""
    fixes = []
    if house is not None and house.serves_dinner and not dinner.at_lodging:
        meal = replace(dinner, restaurant=None, at_lodging=True)
        fixes.append(fix(f"Dinner at {house.name}", edits.set_meal, case, day.id, meal))
    for kitchen in near(case, house, day.on):
        if dinner.restaurant is None or kitchen.id != dinner.restaurant.id:
            meal = replace(dinner, restaurant=ref_of(kitchen), at_lodging=False, at=dinner.at or DINNER_AT)
            fixes.append(fix(f"{kitchen.name}, open", edits.set_meal, case, day.id, meal))
    return tuple(fixes[:4])
