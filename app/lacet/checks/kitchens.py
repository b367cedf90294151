"""What several checks ask of a meal: who cooks it, whether they are open, and what else is near.

A night on half or full board has its dinner in the house unless another one is planned.
"""

from datetime import date, datetime, time

from lacet.checks.beds import house_of, night_of
from lacet.checks.case import Ground
from lacet.checks.kept import per_catalogue
from lacet.days.holidays import holidays_of
from lacet.days.opening import opening, state
from lacet.days.seasons import season
from lacet.tracks.geodesy import distance_m
from lacet.trip.catalogue import Catalogue
from lacet.trip.errors import LacetError
from lacet.trip.itinerary import night_of as bed_of
from lacet.trip.library import DietAnswer, Lodging, Ref, Restaurant
from lacet.trip.trip import Day, Meal, Night
from lacet.trip.words import Board, MealKind

DINNER_AT = time(19, 30)
NEAR_M = 2_000.0
_ON_BOARD = Meal(kind=MealKind.DINNER, at_lodging=True, at=DINNER_AT)
_WITH_DINNER = (Board.HALF_BOARD, Board.FULL_BOARD)


def meal_of(day: Day, kind: MealKind, who: str) -> Meal | None:
    """A guest's meal of a kind: one that names them, else one that names nobody."""
    common = None
    for meal in day.meals:
        if meal.kind is kind:
            if meal.travellers is not None and who in meal.travellers:
                return meal
            if meal.travellers is None and common is None:
                common = meal
    return common


def dinner_of(case: Ground, number: int, who: str) -> Meal | None:
    """A guest's dinner on a day (1-based) as planned, else as the board of their night has it."""
    planned = meal_of(case.day(number), MealKind.DINNER, who)
    return planned or _on_board(night_of(case, number, who))


def dinner_planned(day: Day, who: str) -> Meal | None:
    """The same for a day by itself."""
    return meal_of(day, MealKind.DINNER, who) or _on_board(bed_of(day, who))


def _on_board(night: Night | None) -> Meal | None:
    if night is not None and night.board in _WITH_DINNER:
        return _ON_BOARD
    return None


def cooks_in(meal: Meal, number: int) -> int:
    """The day whose night's house cooks a meal at the lodging: a packed lunch is made where guests woke."""
    return number if meal.kind is MealKind.DINNER else number - 1


def is_open(case: Ground, kitchen: Restaurant, on: date | None, at: time | None = None) -> bool | None:
    """Whether a restaurant serves at an hour of a day; None where nobody can tell."""
    return _is_open(case.catalogue, ref_of(kitchen), on, at or DINNER_AT)


@per_catalogue
def _is_open(catalogue: Catalogue, ref: Ref, on: date | None, at: time) -> bool | None:
    kitchen = catalogue.need(Restaurant, ref)
    if on is None:
        return None
    try:
        if any(season(text).covers(on) for text in kitchen.closed):
            return False
        if not kitchen.opening:
            return None
        return state(opening(kitchen.opening), datetime.combine(on, at), holidays_of(catalogue.region))
    except LacetError:
        return None


def near(case: Ground, house: Lodging | None, on: date | None) -> tuple[Restaurant, ...]:
    """Restaurants known to be open that evening within two kilometres of a house, nearest first."""
    return () if house is None else _near(case.catalogue, Ref(house.id, house.version), on)[0]


def perhaps_near(case: Ground, house: Lodging | None, on: date | None) -> tuple[Restaurant, ...]:
    """Restaurants there of which nobody can tell whether they are open that evening."""
    return () if house is None else _near(case.catalogue, Ref(house.id, house.version), on)[1]


@per_catalogue
def _near(
    catalogue: Catalogue, ref: Ref, on: date | None
) -> tuple[tuple[Restaurant, ...], tuple[Restaurant, ...]]:
    house = catalogue.need(Lodging, ref)
    here = (house.latitude_deg, house.longitude_deg)
    found = []
    for kitchen in catalogue.current_under(Restaurant, house.place):
        opens = _is_open(catalogue, ref_of(kitchen), on, DINNER_AT)
        if opens is not False:
            away_m = distance_m(here, (kitchen.latitude_deg, kitchen.longitude_deg))
            found.append((away_m, kitchen.id, opens, kitchen))
    close = [
        (opens, kitchen) for away_m, _, opens, kitchen in sorted(found, key=_nearest) if away_m <= NEAR_M
    ]
    return (
        tuple(kitchen for opens, kitchen in close if opens),
        tuple(kitchen for opens, kitchen in close if opens is None),
    )


def _nearest(found: tuple[float, str, bool | None, Restaurant]) -> tuple[float, str]:
    return found[:2]


def kitchen_of(case: Ground, meal: Meal, number: int, who: str) -> tuple[str, tuple[DietAnswer, ...]] | None:
    """Name and answers of whoever cooks a meal of a day; None for a guest's own choice."""
    if meal.restaurant is not None:
        kitchen = case.catalogue.get(Restaurant, meal.restaurant)
        return (kitchen.name, kitchen.diets) if kitchen else None
    house = house_of(case, cooks_in(meal, number), who) if meal.at_lodging else None
    return (house.name, house.diets) if house else None


def ref_of(kitchen: Restaurant) -> Ref:
    return Ref(kitchen.id, kitchen.version)
