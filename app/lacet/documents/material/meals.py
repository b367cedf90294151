"""Meals of a day: where, when, who pays, and how each guest's need is met there."""

from collections.abc import Iterator

from lacet.checks.beds import house_of
from lacet.checks.kitchens import cooks_in, dinner_of, kitchen_of, meal_of
from lacet.checks.nights import answered
from lacet.documents.language import begun, marked
from lacet.documents.material.telling import Telling
from lacet.documents.material.values import MealTold
from lacet.figures.values import DayFigures
from lacet.trip.library import Restaurant
from lacet.trip.party import ALLERGENS, DIETS, Need
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
    Payer.LOCALLY: marked("paid on the spot"),
    Payer.OWN: marked("on your own account"),
}
FREE_FROM = (
    marked("cereals containing gluten"), marked("crustaceans"), marked("eggs"), marked("fish"),
    marked("peanuts"), marked("soybeans"), marked("milk"), marked("nuts"), marked("celery"),
    marked("mustard"), marked("sesame seeds"), marked("sulphur dioxide and sulphites"),
    marked("lupin"), marked("molluscs"),
)  # fmt: skip
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
    named = where or say("a place of your own choice")
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
    for guest in telling.trip.party.travellers:
        for need in guest.needs if guest.id in eaters else ():
            cook = kitchen_of(telling.case, meal, number, guest.id)
            if need.kind in (*ALLERGENS, *DIETS) and cook is not None:
                yield _need(telling, guest.id, need, answered(cook[1], need.kind))


def _need(telling: Telling, who: str, need: Need, answer: Answer | None) -> str:
    say = telling.speech.say
    parts = {"name": telling.name(who), "need": need_said(telling, need)}
    if answer is Answer.YES:
        return say("{name}, {need}: the kitchen knows and cooks for it.", **parts)
    if answer is Answer.NO:
        return say("{name}, {need}: the kitchen can't; we talk about it with you.", **parts)
    return say("{name}, {need}: we ask the kitchen and tell you before you travel.", **parts)


def need_said(telling: Telling, need: Need) -> str:
    """'without milk' or 'vegetarian'."""
    kind = telling.speech.word(need.kind)
    return telling.speech.say("without {food}", food=kind) if need.kind in ALLERGENS else kind
