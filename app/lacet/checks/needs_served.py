"""Whoever cooks can serve what each guest must have.

Allergens go by the names of Regulation (EU) No 1169/2011, Annex II. What a kitchen serves only on request is
a warning until it has said yes.
"""

from collections.abc import Iterator
from dataclasses import replace

from lacet.checks.beds import house_of, night_of
from lacet.checks.case import DayCase
from lacet.checks.kitchens import (
    DINNER_AT,
    cooks_in,
    dinner_of,
    kitchen_of,
    meal_of,
    near,
    perhaps_near,
    ref_of,
)
from lacet.checks.making import day_finding, fix
from lacet.checks.nights import Sleep, answered, other_houses
from lacet.checks.several import Several
from lacet.figures.values import DayFigures
from lacet.language import Text, marked, to_say
from lacet.trip import edits
from lacet.trip.finding import COMMON_PRACTICE, Finding, Fix, Level
from lacet.trip.library import DietAnswer
from lacet.trip.party import ALLERGENS, DIETS, FREE_FROM, Need, Traveller
from lacet.trip.trip import Meal
from lacet.trip.words import Answer, Board, MealKind, NeedLevel

ID = "needs_served"
SAYS = "A must is answered with yes by every kitchen (stop), a preference at best (warning)."
REGULATION = "Regulation (EU) No 1169/2011, Annex II"
BREAKFAST = Meal(kind=MealKind.BREAKFAST, at_lodging=True)
_EATEN = frozenset((*ALLERGENS, *DIETS))
_SAID = {
    None: marked("{need:begun} for {who}: {kitchen} hasn't said ({meal}). Ask, then note the answer."),
    Answer.NO: marked(
        "{need:begun} for {who}: {kitchen} can't cater for it ({meal}). Choose another kitchen."
    ),
    Answer.ON_REQUEST: marked(
        "{need:begun} for {who}: {kitchen} offers it on request ({meal}). Ask, then note the answer."
    ),
}
_MEALS = {
    MealKind.BREAKFAST: to_say("breakfast"),
    MealKind.PACKED_LUNCH: to_say("packed lunch"),
    MealKind.DINNER: to_say("dinner"),
}
_CODES = {None: "unasked", Answer.NO: "refused", Answer.ON_REQUEST: "on_request"}
_MOST = 3


SEVERAL = {
    "on_request": Several(
        says=marked("{need:begun} for {who}: on request only at {kitchen}. Ask, then note the answers."),
        by=("need", "who"),
    ),
    "unasked": Several(
        says=marked("{need:begun} for {who}: no answer yet from {kitchen}. Ask, then note the answers."),
        by=("need", "who"),
    ),
    "refused": Several(
        says=marked("{need:begun} for {who}: not to be had at {kitchen}. Choose other kitchens."),
        by=("need", "who"),
    ),
}


def check_day(case: DayCase) -> Iterator[Finding]:
    for guest in case.trip.party.travellers:
        needs = [need for need in guest.needs if need.kind in _EATEN]
        if needs and guest.there_on(case.number):
            yield from _of_day(case, case.figures, guest, needs)


def _of_day(case: DayCase, day: DayFigures, guest: Traveller, needs: list[Need]) -> Iterator[Finding]:
    for meal in _meals(case, day, guest):
        cook = kitchen_of(case, meal, day.number, guest.id)
        if cook is not None:
            for need in needs:
                yield from _judge(case, day, guest, meal, need, cook)
        elif meal.kind is MealKind.DINNER and meal.restaurant is None and not meal.at_lodging:
            yield from _own_choice(case, day, guest, needs)


def _meals(case: DayCase, day: DayFigures, guest: Traveller) -> Iterator[Meal]:
    """Breakfast where the guest woke, a packed lunch that is planned, and dinner."""
    planned = case.day(day.number)
    before = night_of(case, day.number - 1, guest.id) if day.number > guest.from_day else None
    breakfast = meal_of(planned, MealKind.BREAKFAST, guest.id)
    if breakfast is not None:
        yield breakfast
    elif before is not None and before.board is not Board.ROOM_ONLY:
        yield BREAKFAST
    lunch = meal_of(planned, MealKind.PACKED_LUNCH, guest.id)
    if lunch is not None:
        yield lunch
    if guest.sleeps_after(day.number) and not case.is_last:
        dinner = dinner_of(case, day.number, guest.id)
        if dinner is not None:
            yield dinner


def _judge(
    case: DayCase, day: DayFigures, guest: Traveller, meal: Meal, need: Need,
    cook: tuple[str, tuple[DietAnswer, ...]],
) -> Iterator[Finding]:  # fmt: skip
    name, diets = cook
    answer = answered(diets, need.kind)
    if answer is Answer.YES:
        return
    yield day_finding(
        ID,
        _CODES[answer],
        _level(need, answer),
        day,
        to_say(
            _SAID[answer], kitchen=name, need=_called(need), meal=_MEALS[meal.kind], who=_name(case, guest)
        ),
        {"guest": guest.id, "need": need.kind, "meal": meal.kind.value},
        travellers=(guest.id,),
        unknown=answer is None,
        source=_source(need),
        fixes=_fixes(case, day, guest, meal, need),
    )


def _level(need: Need, answer: Answer | None) -> Level:
    must, on_request = need.level is NeedLevel.MUST, answer is Answer.ON_REQUEST
    if must:
        return Level.WARN if on_request else Level.STOP
    return Level.NOTE if on_request else Level.WARN


def _called(need: Need) -> Text | str:
    """What is asked of the kitchen in the usual words; the regulation's stand in the library."""
    usual = FREE_FROM.get(need.kind)
    return need.kind if usual is None else to_say(usual)


def _name(case: DayCase, guest: Traveller) -> str:
    return case.trip.party.name_of(guest.id)


def _source(need: Need) -> str:
    return REGULATION if need.kind in ALLERGENS else COMMON_PRACTICE


def _own_choice(case: DayCase, day: DayFigures, guest: Traveller, needs: list[Need]) -> Iterator[Finding]:
    """Who must have something and looks for dinner alone needs a kitchen near by that has said yes."""
    musts = [need for need in needs if need.level is NeedLevel.MUST]
    house = house_of(case, day.number, guest.id)
    possible = (*near(case, house, day.on), *perhaps_near(case, house, day.on))
    serves = any(_all(kitchen.diets, musts) for kitchen in possible)
    if not musts or house is None or serves or (house.serves_dinner and _all(house.diets, musts)):
        return
    need = musts[0]
    says = to_say(
        "{need:begun} for {who}: dinner is their own choice, and no kitchen near {lodging} is known to cater "
        "for it. Ask there, or plan a dinner.",
        need=_called(need),
        who=_name(case, guest),
        lodging=house.name,
    )
    yield day_finding(
        ID, "own_choice", Level.WARN, day, says, {"guest": guest.id}, travellers=(guest.id,), unknown=True,
        source=_source(need),
    )  # fmt: skip


def _fixes(case: DayCase, day: DayFigures, guest: Traveller, meal: Meal, need: Need) -> tuple[Fix, ...]:
    """Dinner elsewhere for all who eat together; for what else the house cooks, another house."""
    needs = [need, *_musts(case, day, meal)]
    if meal.kind is MealKind.DINNER:
        return _dinners(case, day, guest, meal, needs)
    number = cooks_in(meal, day.number)
    night = night_of(case, number, guest.id)
    if night is None or not meal.at_lodging:
        return ()
    house = house_of(case, number, guest.id)
    who = night.travellers or tuple(
        each.id for each in case.trip.party.travellers if each.sleeps_after(number)
    )
    return other_houses(case, Sleep(case.evening(number), night, house, who), 2, needs)


def _musts(case: DayCase, day: DayFigures, meal: Meal) -> list[Need]:
    """What all who share the meal must have: no use in mending it for one of them alone."""
    there = [guest for guest in case.trip.party.travellers if guest.there_on(day.number)]
    eating = [guest for guest in there if meal.travellers is None or guest.id in meal.travellers]
    return [
        need
        for guest in eating
        for need in guest.needs
        if need.kind in _EATEN and need.level is NeedLevel.MUST
    ]


def _dinners(
    case: DayCase, day: DayFigures, guest: Traveller, meal: Meal, needs: list[Need]
) -> tuple[Fix, ...]:
    house = house_of(case, day.number, guest.id)
    fixes = []
    if house is not None and house.serves_dinner and not meal.at_lodging and _all(house.diets, needs):
        own = replace(meal, restaurant=None, at_lodging=True)
        fixes.append(fix(to_say("Dinner at {house}", house=house.name), edits.set_meal, case, day.id, own))
    for kitchen in near(case, house, day.on):
        if _all(kitchen.diets, needs) and (meal.restaurant is None or meal.restaurant.id != kitchen.id):
            other = replace(meal, restaurant=ref_of(kitchen), at_lodging=False, at=meal.at or DINNER_AT)
            fixes.append(
                fix(to_say("{kitchen}, open", kitchen=kitchen.name), edits.set_meal, case, day.id, other)
            )
    return tuple(fixes[:_MOST])


def _all(diets: tuple[DietAnswer, ...], needs: list[Need]) -> bool:
    return all(answered(diets, need.kind) is Answer.YES for need in needs)
