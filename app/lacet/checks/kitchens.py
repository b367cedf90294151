"""What several checks ask of a dinner: where it is, whether it is open, and what else is near."""

from datetime import date, datetime, time
from functools import lru_cache

from lacet.checks.case import Case
from lacet.days.holidays import holidays_of
from lacet.days.opening import opening, state
from lacet.days.seasons import season
from lacet.tracks.geodesy import distance_m
from lacet.trip.catalogue import Catalogue, Region
from lacet.trip.errors import LacetError
from lacet.trip.itinerary import night_of
from lacet.trip.library import DietAnswer, Lodging, Ref, Restaurant
from lacet.trip.trip import Day, Meal
from lacet.trip.words import MealKind

DINNER_AT = time(19, 30)
NEAR_M = 2_000.0


def dinner_of(day: Day, who: str) -> Meal | None:
    """A guest's dinner: one that names them, else one that names nobody."""
    dinners = [meal for meal in day.meals if meal.kind is MealKind.DINNER]
    named = next((meal for meal in dinners if meal.travellers and who in meal.travellers), None)
    return named or next((meal for meal in dinners if meal.travellers is None), None)


def house_of(case: Case, number: int, who: str) -> Lodging | None:
    night = night_of(case.day(number), who)
    return case.catalogue.get(Lodging, night.lodging) if night else None


def is_open(case: Case, kitchen: Restaurant, on: date | None, at: time | None = None) -> bool | None:
    """Whether a restaurant serves at an hour of a day; None where nobody can tell."""
    return _is_open(case.catalogue.region, kitchen, on, at or DINNER_AT)


@lru_cache(maxsize=4096)
def _is_open(region: Region, kitchen: Restaurant, on: date | None, at: time) -> bool | None:
    if on is None or not kitchen.opening:
        return None
    try:
        if any(season(text).covers(on) for text in kitchen.closed):
            return False
        return state(opening(kitchen.opening), datetime.combine(on, at), holidays_of(region))
    except LacetError:
        return None


def near(case: Case, house: Lodging | None, on: date | None) -> tuple[Restaurant, ...]:
    """Restaurants open that evening within two kilometres of a house, nearest first."""
    return () if house is None else _near(case.catalogue, house, on)


@lru_cache(maxsize=1024)
def _near(catalogue: Catalogue, house: Lodging, on: date | None) -> tuple[Restaurant, ...]:
    """Kept by catalogue: the same snapshot is asked again at every move of the mouse."""
    here = (house.latitude_deg, house.longitude_deg)
    found = [
        (distance_m(here, (kitchen.latitude_deg, kitchen.longitude_deg)), kitchen)
        for kitchen in catalogue.current(Restaurant)
        if kitchen.place == house.place and _is_open(catalogue.region, kitchen, on, DINNER_AT)
    ]
    return tuple(kitchen for away, kitchen in sorted(found, key=lambda each: each[0]) if away <= NEAR_M)


def kitchen_of(case: Case, meal: Meal, number: int, who: str) -> tuple[str, tuple[DietAnswer, ...]] | None:
    """Name and answers of whoever cooks a meal; None for a guest's own choice."""
    if meal.restaurant is not None:
        kitchen = case.catalogue.get(Restaurant, meal.restaurant)
        return (kitchen.name, kitchen.diets) if kitchen else None
    house = house_of(case, number, who) if meal.at_lodging else None
    return (house.name, house.diets) if house else None


def ref_of(kitchen: Restaurant) -> Ref:
    return Ref(kitchen.id, kitchen.version)
