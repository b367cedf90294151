"""A dinner every evening, in a kitchen that is open then and has the seats."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta

from lacet.checks.beds import house_of
from lacet.checks.case import DayCase
from lacet.checks.kitchens import DINNER_AT, dinner_of, is_open, near, perhaps_near, ref_of
from lacet.checks.making import day_finding, fix
from lacet.checks.nights import without_bed
from lacet.checks.several import Several
from lacet.checks.start_later import start_later
from lacet.checks.words import season_words
from lacet.days.holidays import holidays_of
from lacet.days.seasons import season
from lacet.figures.values import DayFigures
from lacet.language import Text, marked, to_say
from lacet.trip import edits
from lacet.trip.finding import Finding, Fix, Level
from lacet.trip.library import Lodging, Restaurant
from lacet.trip.trip import Meal
from lacet.trip.words import MealKind, Payer, Service

ID = "dinner_found"
SAYS = "Every evening has a dinner: the kitchen is open that day and has seats for the party."
_DINNER_UNSAID = marked(
    "{lodging} hasn't said whether it serves dinner. Ask the house, or choose a kitchen near by."
)
_NO_DINNER = marked("{lodging} serves no dinner. Choose a kitchen near by.")
_MOST = 4
_ARRANGED = (Payer.INCLUDED, Payer.LOCALLY)


SEVERAL = {
    "own_choice_unknown": Several(
        says=marked(
            "Dinner is their own choice; nobody can tell what is open near {house:some}. Ask, or plan them."
        )
    ),
}


def check_day(case: DayCase) -> Iterator[Finding]:
    day = case.figures
    if not case.is_last:
        homeless = without_bed(case, day.number)
        there = [who for who, guest in case.guests.items() if guest.sleeps_after(day.number)]
        dinners = {who: dinner_of(case, day.number, who) for who in there}
        told: set[tuple[int, str]] = set()
        for who, dinner in dinners.items():
            house = house_of(case, day.number, who)
            key = (id(dinner), house.id if house else "")
            if who not in homeless and key not in told:
                told.add(key)
                yield from _judge(case, day, dinner, house)
        yield from _seats(case, day, dinners)


def _judge(case: DayCase, day: DayFigures, dinner: Meal | None, house: Lodging | None) -> Iterator[Finding]:
    if dinner is not None and dinner.restaurant is not None:
        yield from _restaurant(case, day, dinner, house)
    elif dinner is not None and dinner.at_lodging:
        yield from _at_house(case, day, dinner, house)
    elif dinner is not None:
        yield from _own_choice(case, day, dinner, house)
    else:
        yield from _none(case, day, house)


def _restaurant(case: DayCase, day: DayFigures, dinner: Meal, house: Lodging | None) -> Iterator[Finding]:
    kitchen = case.catalogue.get(Restaurant, dinner.restaurant) if dinner.restaurant else None
    if kitchen is None:
        return
    opens = is_open(case, kitchen, day.on, dinner.at)
    about = {"restaurant": kitchen.id, "lodging": _house_id(house)}
    if opens is False and day.on is not None:
        fixes = _elsewhere(case, day, dinner, house)
        later = start_later(case, day.on, lambda on: is_open(case, kitchen, on, dinner.at) is True)
        says = to_say(
            "{kitchen} is closed {when_closed}. Choose another kitchen.",
            kitchen=kitchen.name,
            when_closed=_when_closed(case, kitchen, dinner, day.on),
        )
        yield day_finding(
            ID, "closed", _closed_level(dinner, fixes), day, says, about,
            fixes=fixes + later, source="the restaurant's opening hours",
        )  # fmt: skip
    elif opens is None:
        says = _why_unknown(kitchen, day.on)
        yield day_finding(ID, "hours_unknown", Level.NOTE, day, says, about, unknown=True)


def _closed_level(dinner: Meal, fixes: tuple[Fix, ...]) -> Level:
    """What was promised can't be had: a stop. Guests who choose themselves go elsewhere, where they can."""
    if dinner.payer in _ARRANGED:
        return Level.STOP
    return Level.NOTE if fixes else Level.WARN


def _when_closed(case: DayCase, kitchen: Restaurant, dinner: Meal, on: date) -> Text:
    """Why it is closed, as far as that can be told: for the season, a holiday, or every week."""
    for text in kitchen.closed:
        if season(text).covers(on):
            return to_say("then ({season})", season=season_words(text))
    holiday = holidays_of(case.catalogue.region).name_on(on)
    if is_open(case, kitchen, on + timedelta(weeks=1), dinner.at) is False:
        return to_say("on {on:evening} evenings", on=on)
    if holiday:
        return to_say("on {holiday}", holiday=holiday)
    return to_say("on the evening of {on:weekday}", on=on)


def _why_unknown(kitchen: Restaurant, on: date | None) -> Text:
    if not kitchen.opening:
        return to_say("{kitchen}: nobody has said when it is open. Ask.", kitchen=kitchen.name)
    if on is None:
        return to_say(
            "{kitchen}: nobody can tell without a date whether it is open. Set the date.",
            kitchen=kitchen.name,
        )
    return to_say(
        "{kitchen}: its hours leave open whether it serves then ('{hours}'). Ask.",
        kitchen=kitchen.name,
        hours=kitchen.opening,
    )


def _seats(case: DayCase, day: DayFigures, dinners: dict[str, Meal | None]) -> Iterator[Finding]:
    """Everybody who eats in one restaurant that evening, with those of other trips."""
    heads: dict[Restaurant, list[str]] = {}
    for who, dinner in dinners.items():
        kitchen = case.catalogue.get(Restaurant, dinner.restaurant) if dinner and dinner.restaurant else None
        if kitchen is not None and kitchen.seats is not None:
            heads.setdefault(kitchen, []).append(who)
    for kitchen, who_all in heads.items():
        taken = case.commitments.count(Service.RESTAURANT, kitchen.id, "", day.on) if day.on else 0
        left = max((kitchen.seats or 0) - taken, 0)
        dinner = dinners[who_all[0]]
        if len(who_all) > left and dinner is not None:
            says = to_say(
                "{kitchen} has {left} seats left for {guests} guests. Choose another kitchen.",
                kitchen=kitchen.name,
                left=left,
                guests=len(who_all),
            )
            house = house_of(case, day.number, who_all[0])
            yield day_finding(
                ID, "seats", Level.STOP, day, says, {"restaurant": kitchen.id}, figure=float(len(who_all)),
                limit=float(left), unit="seats", fixes=_elsewhere(case, day, dinner, house),
            )  # fmt: skip


def _at_house(case: DayCase, day: DayFigures, dinner: Meal, house: Lodging | None) -> Iterator[Finding]:
    if house is None or house.serves_dinner:
        return
    unknown = house.serves_dinner is None
    fixes = _elsewhere(case, day, dinner, house)
    says = to_say(_DINNER_UNSAID if unknown else _NO_DINNER, lodging=house.name)
    level = Level.WARN if unknown else Level.STOP
    yield day_finding(ID, "not_served", level, day, says, {"lodging": house.id}, unknown=unknown, fixes=fixes)


def _own_choice(case: DayCase, day: DayFigures, dinner: Meal, house: Lodging | None) -> Iterator[Finding]:
    """Guests who choose themselves need something that is open near by."""
    if house is None or near(case, house, day.on) or house.serves_dinner:
        return
    fixes = _elsewhere(case, day, replace(dinner, payer=Payer.INCLUDED), house)
    if perhaps_near(case, house, day.on) or house.serves_dinner is None:
        says = to_say(
            "Dinner is their own choice; nobody can tell what is open near {house}. Ask, or plan one.",
            house=house.name,
        )
        yield day_finding(
            ID, "own_choice_unknown", Level.NOTE, day, says, {"lodging": house.id}, unknown=True, fixes=fixes
        )
    else:
        says = to_say(
            "Dinner is their own choice, but nothing is open near {house}. Plan one.", house=house.name
        )
        yield day_finding(ID, "own_choice_shut", Level.WARN, day, says, {"lodging": house.id}, fixes=fixes)


def _none(case: DayCase, day: DayFigures, house: Lodging | None) -> Iterator[Finding]:
    meal = Meal(kind=MealKind.DINNER, at=DINNER_AT)
    possible = (
        near(case, house, day.on) or perhaps_near(case, house, day.on) or (house and house.serves_dinner)
    )
    says = (
        to_say("No dinner is planned. Choose a kitchen, or let them find their own.")
        if possible
        else to_say(
            "No dinner is planned, and none is to be had near {lodging}. Arrange one, or sleep elsewhere.",
            lodging=house.name if house else to_say("the lodging"),
        )
    )
    level = Level.WARN if possible else Level.STOP
    fixes = _elsewhere(case, day, meal, house)
    yield day_finding(ID, "none", level, day, says, {"lodging": _house_id(house)}, fixes=fixes)


def _elsewhere(case: DayCase, day: DayFigures, dinner: Meal, house: Lodging | None) -> tuple[Fix, ...]:
    """The house itself where it cooks, then what is open near by."""
    fixes = []
    if house is not None and house.serves_dinner and not dinner.at_lodging:
        meal = replace(dinner, restaurant=None, at_lodging=True)
        fixes.append(fix(to_say("Dinner at {house}", house=house.name), edits.set_meal, case, day.id, meal))
    for kitchen in near(case, house, day.on):
        if dinner.restaurant is None or kitchen.id != dinner.restaurant.id:
            meal = replace(dinner, restaurant=ref_of(kitchen), at_lodging=False, at=dinner.at or DINNER_AT)
            fixes.append(
                fix(to_say("{kitchen}, open", kitchen=kitchen.name), edits.set_meal, case, day.id, meal)
            )
    return tuple(fixes[:_MOST])


def _house_id(house: Lodging | None) -> str:
    return house.id if house else ""
