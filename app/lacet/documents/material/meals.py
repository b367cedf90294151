"""Meals of a day: where, when, who pays, and how each guest's need is met there."""

from collections.abc import Iterator

from lacet.checks.beds import house_of
from lacet.checks.kitchens import cooks_in, dinner_of, kitchen_of, meal_of
from lacet.checks.nights import answered
from lacet.documents.material.telling import Telling
from lacet.documents.material.values import MealTold
from lacet.figures.values import DayFigures
from lacet.language import begun, marked
from lacet.trip.library import Restaurant
from lacet.trip.party import ALLERGENS, DIETS, FREE_FROM, Need
from lacet.trip.trip import Meal
from lacet.trip.words import Answer, MealKind, Payer

MEALS = {
    MealKind.BREAKFAST: marked("breakfast"),
    MealKind.PACKED_LUNCH: marked("packed lunch"),
    MealKind.DINNER: marked("dinner"),
}
PAYERS = {
    Payer.INCLUDED: marked("included"),
    Payer.OPTIONAL: marked("optional"),
    Payer.LOCALLY: marked("payable locally"),
    Payer.OWN: marked("not included"),
}
FOODS = (
    marked("vegetarian"), marked("vegan"), marked("halal"), marked("kosher"), marked("low salt"),
)  # fmt: skip


def meals_told(telling: Telling, day: DayFigures) -> Iterator[MealTold]:
    """Breakfasts that are planned, packed lunches and dinners, each once for all who share it."""
    there = [guest for guest in telling.trip.party.travellers if guest.there_on(day.number)]
    for kind in (MealKind.BREAKFAST, MealKind.PACKED_LUNCH, MealKind.DINNER):
        shared: dict[tuple[Meal, str], list[str]] = {}
        for guest in there:
            if kind is MealKind.DINNER and not guest.sleeps_after(day.number):
                continue
            meal = _planned(telling, day.number, kind, guest.id)
            if meal is not None:
                shared.setdefault((meal, _where(telling, meal, day.number, guest.id)), []).append(guest.id)
        for (meal, where), eaters in shared.items():
            yield _told(telling, day, meal, where, tuple(eaters))


def _planned(telling: Telling, number: int, kind: MealKind, who: str) -> Meal | None:
    if kind is MealKind.DINNER:
        return dinner_of(telling.case, number, who)
    return meal_of(telling.case.day(number), kind, who)


def _where(telling: Telling, meal: Meal, number: int, who: str) -> str:
    if meal.restaurant is not None:
        place = telling.catalogue.get(Restaurant, meal.restaurant)
        return "" if place is None else place.name
    house = house_of(telling.case, cooks_in(meal, number), who) if meal.at_lodging else None
    return "" if house is None else house.name


def _told(telling: Telling, day: DayFigures, meal: Meal, where: str, eaters: tuple[str, ...]) -> MealTold:
    say = telling.speech.say
    place = None if meal.restaurant is None else telling.catalogue.get(Restaurant, meal.restaurant)
    payer = telling.speech.word(PAYERS[meal.payer])
    named = where or say("a place of your choice")
    known = meal.at is not None and meal.kind is MealKind.DINNER
    at = say("{place}, at {clock}; {payer}", place=named, clock=telling.at(meal.at), payer=payer)
    who = telling.some(eaters, day.number)
    heading = begun(telling.speech.word(MEALS[meal.kind]))
    return MealTold(
        heading=f"{heading}: {who}" if who else heading,
        where=at if known else say("{place}; {payer}", place=named, payer=payer),
        text="" if place is None else place.text,
        needs=tuple(_needs(telling, day.number, meal, eaters)),
    )


def _needs(telling: Telling, number: int, meal: Meal, eaters: tuple[str, ...]) -> Iterator[str]:
    """A sentence for each answer of the kitchen, with all it is about: nobody reads the same line twice."""
    alike: dict[Answer | None, list[str]] = {}
    for guest in telling.trip.party.travellers:
        for need in guest.needs if guest.id in eaters else ():
            cook = kitchen_of(telling.case, meal, number, guest.id)
            if need.kind in (*ALLERGENS, *DIETS) and cook is not None:
                who = telling.speech.say(
                    "{name} ({need})", name=telling.name(guest.id), need=need_said(telling, need)
                )
                alike.setdefault(answered(cook[1], need.kind), []).append(who)
    for answer, guests in alike.items():
        yield _need(telling, telling.speech.listed(guests), answer)


def _need(telling: Telling, guests: str, answer: Answer | None) -> str:
    say = telling.speech.say
    if answer is Answer.YES:
        return say("{guests}: the kitchen says it caters for this; we confirm when we book.", guests=guests)
    if answer is Answer.NO:
        return say(
            "{guests}: the kitchen can't cater for this; we will discuss alternatives with you.",
            guests=guests,
        )
    return say("{guests}: we will ask the kitchen and let you know before you travel.", guests=guests)


def need_said(telling: Telling, need: Need) -> str:
    """'gluten-free' or 'vegetarian'."""
    return telling.speech.word(FREE_FROM.get(need.kind, need.kind))
