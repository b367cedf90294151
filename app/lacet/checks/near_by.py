"""From the end of the stage to the house, and from the house to dinner, on foot without a second thought."""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from lacet.checks.beds import house_of
from lacet.checks.case import DayCase
from lacet.checks.kitchens import dinner_of, near, ref_of
from lacet.checks.making import fix, group_finding, place_of
from lacet.checks.nights import houses_at, other_houses, sleeps
from lacet.figures.values import DayFigures, GroupFigures
from lacet.language import Text, to_say
from lacet.tracks.geodesy import distance_m
from lacet.trip import edits
from lacet.trip.finding import Finding, Fix, Level
from lacet.trip.library import Lodging, Place, Restaurant
from lacet.trip.trip import Meal

ID = "near_by"
SAYS = "The lodging is near the stage's end, the dinner near the lodging; else a transfer is needed."


def check_day(case: DayCase) -> Iterator[Finding]:
    for day, group in case.groups():
        if not case.is_last:
            told: set[tuple[str, Meal | None]] = set()
            for who in group.travellers:
                house = house_of(case, day.number, who)
                dinner = dinner_of(case, day.number, who)
                if house is not None and (house.id, dinner) not in told:
                    told.add((house.id, dinner))
                    yield from _stage_end(case, day, group, house)
                    yield from _dinner(case, day, group, house, dinner)


def _stage_end(case: DayCase, day: DayFigures, group: GroupFigures, house: Lodging) -> Iterator[Finding]:
    end = place_of(case, group.end_place)
    if group.legs and end is not None and end.id == house.place:
        away_m = _between(end, house)
        if away_m > case.rules.near_m:
            says = to_say(
                "{away_m:length} from the end of the stage to {house}, as the crow flies. Arrange a "
                "lift, or tell them.",
                away_m=away_m,
                house=house.name,
            )
            yield _told(
                case,
                day,
                group,
                away_m,
                says,
                "lodging_far",
                {"lodging": house.id},
                _nearer_houses(case, day, end, house),
            )


def _dinner(
    case: DayCase, day: DayFigures, group: GroupFigures, house: Lodging, dinner: Meal | None
) -> Iterator[Finding]:
    kitchen = case.catalogue.get(Restaurant, dinner.restaurant) if dinner and dinner.restaurant else None
    if kitchen is None or dinner is None:
        return
    away_m = _between(house, kitchen)
    if away_m > case.rules.near_m:
        says = to_say(
            "{away_m:length} from {house} to {kitchen}, as the crow flies. Arrange a lift, or tell them.",
            away_m=away_m,
            house=house.name,
            kitchen=kitchen.name,
        )
        about = {"lodging": house.id, "restaurant": kitchen.id}
        yield _told(
            case, day, group, away_m, says, "dinner_far", about, _nearer_kitchens(case, day, house, dinner)
        )


def _told(
    case: DayCase, day: DayFigures, group: GroupFigures, away_m: float, says: Text, code: str,
    about: Mapping[str, str],
    fixes: tuple[Fix, ...],
) -> Finding:  # fmt: skip
    return group_finding(
        ID,
        code,
        Level.WARN,
        day,
        group,
        says,
        about,
        figure=away_m,
        limit=case.rules.near_m,
        unit="m",
        fixes=fixes,
    )


def _nearer_houses(case: DayCase, day: DayFigures, end: Place, house: Lodging) -> tuple[Fix, ...]:
    night = next((each for each in case.day(day.number).nights if each.lodging.id == house.id), None)
    if night is None:
        return ()
    sleep = next((each for each in sleeps(case) if each.night is night), None)
    far = tuple(
        other.id
        for other in houses_at(case.catalogue, house.place)
        if _between(end, other) > case.rules.near_m
    )
    return other_houses(case, sleep, 2, but=far) if sleep is not None else ()


def _nearer_kitchens(case: DayCase, day: DayFigures, house: Lodging, dinner: Meal) -> tuple[Fix, ...]:
    found = []
    if house.serves_dinner:
        meal = replace(dinner, restaurant=None, at_lodging=True)
        found.append(fix(to_say("Dinner at {house}", house=house.name), edits.set_meal, case, day.id, meal))
    for kitchen in near(case, house, day.on):
        if _between(house, kitchen) <= case.rules.near_m:
            meal = replace(dinner, restaurant=ref_of(kitchen))
            found.append(
                fix(to_say("{kitchen}, open", kitchen=kitchen.name), edits.set_meal, case, day.id, meal)
            )
    return tuple(found[:3])


def _between(here: Place | Lodging, there: Lodging | Restaurant) -> float:
    return distance_m((here.latitude_deg, here.longitude_deg), (there.latitude_deg, there.longitude_deg))
