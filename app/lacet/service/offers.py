"""What the shelf offers for a night, a dinner or a move, when such a cell is picked.

Nearest first; what is shut that day is told, not hidden: a person may know better than the library.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date, datetime, time
from typing import TypeVar

from lacet.days.holidays import holidays_of
from lacet.days.opening import opening, state
from lacet.days.seasons import covers
from lacet.service.shown import Shown
from lacet.tracks.geodesy import distance_m
from lacet.trip import edits
from lacet.trip.catalogue import Catalogue
from lacet.trip.errors import LacetError
from lacet.trip.library import Lodging, Place, Ref, Restaurant, Transfer
from lacet.trip.trip import Day, Meal, Move, Night, Trip
from lacet.trip.words import Load, MealKind, Payer
from lacet.wording import Wording

House = TypeVar("House", Lodging, Restaurant)

NEAR_M = 6_000.0
DINNER_AT = time(19, 30)


@dataclass(frozen=True, slots=True)
class Offer:
    """One thing that can be taken for the cell: what it is, and the edit that takes it."""

    text: str
    sub: str
    says: str
    edit: Callable[[Trip], Trip]


def lodging_offers(
    shown: Shown, catalogue: Catalogue, day: int, place: str | None, wording: Wording
) -> list[Offer]:
    """Houses near where the day ends."""
    here = catalogue.place(place) if place else None
    planned, on = shown.variant.days[day], shown.trip.date_of(day + 1)
    offers = []
    for away_m, house in _near(here, catalogue.current(Lodging)):
        rooms = sum(room.count for room in house.rooms)
        shut = on is not None and any(_covers(text, on) for text in house.closed)
        facts = [
            f"{rooms} rooms" if rooms else "",
            "charging" if house.charging else "",
            _away(away_m, wording),
        ]
        sub = " · ".join(["closed then"] * shut + [fact for fact in facts if fact])
        edit = _take_night(shown.variant_id, planned, Ref(house.id, house.version))
        offers.append(Offer(house.name, sub, f"sleep at {house.name}", edit))
    return offers


def dinner_offers(
    shown: Shown, catalogue: Catalogue, day: int, place: str | None, wording: Wording
) -> list[Offer]:
    """The house itself, restaurants near by with whether they are open then, own choice."""
    here = catalogue.place(place) if place else None
    planned, on = shown.variant.days[day], shown.trip.date_of(day + 1)
    houses = [catalogue.get(Lodging, night.lodging) for night in planned.nights]
    offers = [
        Offer(f"At {house.name}", "dinner in the house", f"dinner at {house.name}",
              _take_meal(shown.variant_id, planned, Meal(kind=MealKind.DINNER, at_lodging=True)))
        for house in houses if house is not None and house.serves_dinner
    ]  # fmt: skip
    for away_m, kitchen in _near(here, catalogue.current(Restaurant)):
        meal = Meal(kind=MealKind.DINNER, restaurant=Ref(kitchen.id, kitchen.version), at=DINNER_AT)
        sub = " · ".join((_open_words(kitchen, on, catalogue), _away(away_m, wording)))
        edit = _take_meal(shown.variant_id, planned, meal)
        offers.append(Offer(kitchen.name, sub, f"dinner at {kitchen.name}", edit))
    own = Meal(kind=MealKind.DINNER, payer=Payer.OWN)
    offers.append(
        Offer("Own choice", "they find their own", "own dinner", _take_meal(shown.variant_id, planned, own))
    )
    return offers


def move_offers(shown: Shown, catalogue: Catalogue, day: int) -> list[Offer]:
    """Carriers that take bags, for the bags of everybody."""
    planned = shown.variant.days[day]
    heads = len(shown.trip.party.travellers)
    offers = []
    for service in catalogue.current(Transfer):
        if service.bags is None or service.bags == 0:
            continue
        move = Move(
            load=Load.BAGS,
            ready_by=time(9, 0),
            delivered_by=time(17, 0),
            count=heads,
            means=Ref(service.id, service.version),
        )
        edit = _take_move(shown.variant_id, planned, move)
        sub = f"{heads} bags, ready 9:00, there by 17:00"
        offers.append(Offer(service.name, sub, f"bags with {service.name}", edit))
    return offers


def _take_night(variant_id: str, day: Day, lodging: Ref) -> Callable[[Trip], Trip]:
    return lambda trip: edits.set_night(trip, variant_id, day.id, Night(lodging=lodging))


def _take_meal(variant_id: str, day: Day, meal: Meal) -> Callable[[Trip], Trip]:
    return lambda trip: edits.set_meal(trip, variant_id, day.id, meal)


def _take_move(variant_id: str, day: Day, move: Move) -> Callable[[Trip], Trip]:
    """In the place of the bags that are moved already, if any."""
    bags = next((each.id for each in day.moves if each.load is Load.BAGS), "")
    return lambda trip: edits.set_move(trip, variant_id, day.id, replace(move, id=bags))


def _near(here: Place | None, houses: tuple[House, ...]) -> list[tuple[float, House]]:
    """Houses within reach, nearest first; all of them, by name, while nobody knows where the party is."""
    if here is None:
        return [(0.0, house) for house in sorted(houses, key=lambda house: house.name)]
    centre = (here.latitude_deg, here.longitude_deg)
    found = [(distance_m(centre, (house.latitude_deg, house.longitude_deg)), house) for house in houses]
    return sorted(((away, house) for away, house in found if away <= NEAR_M), key=lambda each: each[0])


def _away(away_m: float, wording: Wording) -> str:
    return "" if away_m < 50 else wording.away(away_m)


def _open_words(kitchen: Restaurant, on: date | None, catalogue: Catalogue) -> str:
    if not kitchen.opening or on is None:
        return "opening not known"
    if any(_covers(text, on) for text in kitchen.closed):
        return "closed then"
    try:
        hours = opening(kitchen.opening)
        found = state(hours, datetime.combine(on, DINNER_AT), holidays_of(catalogue.region))
    except LacetError:
        return "opening not readable"
    return {True: "open then", False: "closed then", None: "opening not known"}[found]


def _covers(text: str, on: date) -> bool:
    try:
        return covers(text, on)
    except LacetError:
        return False
