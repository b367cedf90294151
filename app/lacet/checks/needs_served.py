"""Whoever cooks can serve what each guest must have.

Allergens go by the names of Regulation (EU) No 1169/2011, Annex II.
"""

from collections.abc import Iterator
from dataclasses import replace

from lacet.checks.case import Case
from lacet.checks.kitchens import DINNER_AT, dinner_of, house_of, kitchen_of, near, ref_of
from lacet.checks.making import day_finding, fix
from lacet.figures.values import DayFigures
from lacet.trip import edits
from lacet.trip.finding import COMMON_PRACTICE, Finding, Fix, Level
from lacet.trip.library import DietAnswer
from lacet.trip.party import ALLERGENS, DIETS, Need, Traveller
from lacet.trip.trip import Meal
from lacet.trip.words import Answer, MealKind, NeedLevel

ID = "needs_served"
SAYS = "A must is answered with yes by every kitchen (stop), a preference at best (warning)."
REGULATION = "Regulation (EU) No 1169/2011, Annex II"
_EATEN = frozenset((*ALLERGENS, *DIETS))


def check(case: Case) -> Iterator[Finding]:
    for day in case.figures.days:
        for guest in case.trip.party.travellers:
            needs = [need for need in guest.needs if need.kind in _EATEN]
            if needs and guest.there_on(day.number):
                for meal in _meals(case, day, guest):
                    yield from _judge(case, day, guest, meal, needs)


def _meals(case: Case, day: DayFigures, guest: Traveller) -> Iterator[Meal]:
    """Dinner, packed lunch, and breakfast in the house where the guest wakes the next morning."""
    planned = case.day(day.number)
    if guest.sleeps_after(day.number) and day.number < len(case.figures.days):
        dinner = dinner_of(planned, guest.id)
        if dinner is not None:
            yield dinner
        yield Meal(kind=MealKind.BREAKFAST, at_lodging=True)
    yield from (
        meal
        for meal in planned.meals
        if meal.kind is MealKind.PACKED_LUNCH and (not meal.travellers or guest.id in meal.travellers)
    )


def _judge(case: Case, day: DayFigures, guest: Traveller, meal: Meal, needs: list[Need]) -> Iterator[Finding]:
    cook = kitchen_of(case, meal, day.number, guest.id)
    if cook is None:
        return
    name, diets = cook
    for need in needs:
        answer = _answer(diets, need)
        if answer is Answer.YES:
            continue
        must = need.level is NeedLevel.MUST
        said = {
            None: "hasn't said whether it can",
            Answer.NO: "can't",
            Answer.ON_REQUEST: "can only on request",
        }
        who = case.trip.party.name_of(guest.id)
        what = meal.kind.value.replace("_", " ")
        without = f"serve {who} without {need.kind}" if need.kind in ALLERGENS else f"serve {who} {need.kind}"
        advice = "Ask and note the answer." if answer is not Answer.NO else "Choose another kitchen."
        level = Level.STOP if must and answer is not Answer.ON_REQUEST else Level.WARN
        yield day_finding(
            ID,
            level if must or answer is not Answer.ON_REQUEST else Level.NOTE,
            day,
            f"{name} {said[answer]} {without} ({what}). {advice}",
            f"{guest.id} {need.kind} {meal.kind.value}",
            travellers=(guest.id,),
            unknown=answer is None,
            source=REGULATION if need.kind in ALLERGENS else COMMON_PRACTICE,
            fixes=_elsewhere(case, day, guest, meal, needs) if meal.kind is MealKind.DINNER else (),
        )


def _answer(diets: tuple[DietAnswer, ...], need: Need) -> Answer | None:
    return next((each.answer for each in diets if each.need == need.kind), None)


def _elsewhere(
    case: Case, day: DayFigures, guest: Traveller, meal: Meal, needs: list[Need]
) -> tuple[Fix, ...]:
    """Kitchens open near by that answer all of the guest's needs with yes."""
    house = house_of(case, day.number, guest.id)
    fixes = []
    if house is not None and house.serves_dinner and not meal.at_lodging and _all(house.diets, needs):
        own = replace(meal, restaurant=None, at_lodging=True)
        fixes.append(fix(f"Dinner at {house.name}", edits.set_meal, case, day.id, own))
    for kitchen in near(case, house, day.on):
        if _all(kitchen.diets, needs):
            other = replace(meal, restaurant=ref_of(kitchen), at_lodging=False, at=meal.at or DINNER_AT)
            fixes.append(fix(f"{kitchen.name}, open", edits.set_meal, case, day.id, other))
    return tuple(fixes[:3])


def _all(diets: tuple[DietAnswer, ...], needs: list[Need]) -> bool:
    return all(_answer(diets, need) is Answer.YES for need in needs)
