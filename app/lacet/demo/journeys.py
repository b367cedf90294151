"""Reads Verrin's trips: a short text a day, made into cards, nights, meals and moves.

    do = ["walk harbour-shore-to-oster", "transfer oster port-verrin bell-taxi 15"]

A line is `walk|cycle STAGE`, `transfer FROM TO SERVICE MINUTES`, `rest TEXT`, `visit PLACE NAME` or
`note TEXT`, followed by any of `back`, `cut FROM_KM TO_KM`, `assist LEVEL`, `for GUEST...`.
"""

import tomllib
from collections.abc import Mapping
from datetime import date, time
from importlib.resources.abc import Traversable
from typing import Any

from lacet.trip.bookings import Booking, Bookings
from lacet.trip.edits import set_crossings
from lacet.trip.edits.naming import named
from lacet.trip.errors import LacetError
from lacet.trip.library import Ref
from lacet.trip.party import Party
from lacet.trip.plain import from_plain
from lacet.trip.trip import (
    Alternative,
    Crossing,
    Day,
    Hire,
    Item,
    Leg,
    Meal,
    Move,
    Night,
    Note,
    Overrule,
    Rest,
    Ride,
    Trip,
    Variant,
    Visit,
)
from lacet.trip.words import Board, Load, MealKind, Payer, Reason, Way


class SourceRefused(LacetError):
    """A source of Verrin that can't be read."""


WAYS = {"walk": Way.WALKING, "cycle": Way.CYCLING}
DINNER_AT = time(19, 30)


def read_trip(source: Traversable) -> tuple[Trip, Bookings]:
    """One trip and what was asked for it, from its TOML source.

    Raises
    ------
    SourceRefused
        With the file and the line of the day that can't be read.
    """
    told = tomllib.loads(source.read_text(encoding="utf-8"))
    try:
        return _trip(told), Bookings(tuple(_booking(each) for each in told.get("bookings", [])))
    except (KeyError, ValueError, IndexError) as error:
        raise SourceRefused("{source}: {error}", source=source.name, error=error) from error


def _trip(told: Mapping[str, Any]) -> Trip:
    trip = Trip(
        id=told["id"],
        name=told["name"],
        party=from_plain(Party, told.get("party", {})),
        start=told.get("start"),
        month=told.get("month"),
        variants=tuple(_variant(each, index) for index, each in enumerate(told["variants"], start=1)),
        standard=told.get("standard", False),
        note=told.get("note", ""),
    )
    return set_crossings(
        trip,
        arrivals=tuple(_crossing(each) for each in told.get("arrivals", [])),
        departures=tuple(_crossing(each) for each in told.get("departures", [])),
    )


def _crossing(told: Mapping[str, Any]) -> Crossing:
    return from_plain(Crossing, _plain(told))


def _booking(told: Mapping[str, Any]) -> Booking:
    return from_plain(Booking, _plain(told))


def _plain(told: Mapping[str, Any]) -> dict[str, Any]:
    """TOML's own dates and times as the text that plain values are."""
    return {
        key: value.isoformat() if isinstance(value, date | time) else value for key, value in told.items()
    }


def _variant(told: Mapping[str, Any], number: int) -> Variant:
    counter = _Ids()
    variant = Variant(
        id=f"v{number}",
        name=told["name"],
        days=tuple(_day(each, index, counter) for index, each in enumerate(told["days"], start=1)),
        hires=tuple(_hire(each) for each in told.get("hires", [])),
        overrules=tuple(from_plain(Overrule, _plain(each)) for each in told.get("overrules", [])),
        note=told.get("note", ""),
    )
    return named(variant)


class _Ids:
    """i1, i2, ... within a variant."""

    def __init__(self) -> None:
        self._last = 0

    def next(self) -> str:
        self._last += 1
        return f"i{self._last}"


def _hire(told: Mapping[str, Any]) -> Hire:
    bike = told.get("bike")
    return Hire(
        traveller=told["traveller"],
        bike=Ref(bike) if bike else None,
        from_day=_day_id(told.get("from_day")),
        to_day=_day_id(told.get("to_day")),
        extras=tuple(told.get("extras", ())),
    )


def _day_id(number: int | None) -> str | None:
    """The id of a day by its number (1-based)."""
    return None if number is None else f"d{number}"


def _day(told: Mapping[str, Any], number: int, ids: _Ids) -> Day:
    alternatives = tuple(
        Alternative(
            id=f"a{number}.{index}",
            reason=Reason(each["reason"]),
            items=tuple(_item(line, ids) for line in each["do"]),
            says=each.get("says", ""),
        )
        for index, each in enumerate(told.get("alternatives", []), start=1)
    )
    return Day(
        id=f"d{number}",
        items=tuple(_item(line, ids) for line in told.get("do", [])),
        nights=_nights(told),
        meals=_meals(told),
        moves=_moves(told),
        alternatives=alternatives,
        departs=told.get("departs"),
        briefing=told.get("briefing", False),
        note=told.get("note", ""),
    )


def _nights(told: Mapping[str, Any]) -> tuple[Night, ...]:
    if "night" not in told:
        return ()
    board = Board(told.get("board", "breakfast"))
    return (Night(lodging=Ref(told["night"]), board=board, late_key=told.get("late_key", False)),)


def _meals(told: Mapping[str, Any]) -> tuple[Meal, ...]:
    meals = []
    dinner = told.get("dinner")
    if dinner == "house":
        meals.append(Meal(kind=MealKind.DINNER, at_lodging=True, at=DINNER_AT))
    elif dinner == "own":
        meals.append(Meal(kind=MealKind.DINNER, payer=Payer.OWN))
    elif dinner:
        meals.append(Meal(kind=MealKind.DINNER, restaurant=Ref(dinner), at=DINNER_AT))
    if told.get("lunch"):
        meals.append(Meal(kind=MealKind.PACKED_LUNCH, at_lodging=True))
    return tuple(meals)


def _moves(told: Mapping[str, Any]) -> tuple[Move, ...]:
    moves = []
    for load, words in ((Load.BAGS, told.get("bags")), (Load.BIKES, told.get("bikes"))):
        if words:
            means, count = words
            moves.append(
                Move(load=load, ready_by=time(9, 0), delivered_by=time(15, 0), count=count, means=Ref(means))
            )
    return tuple(moves)


def _item(line: str, ids: _Ids) -> Item:
    words = line.split()
    verb, rest = words[0], words[1:]
    travellers: tuple[str, ...] | None = None
    if "for" in rest and verb not in ("note", "rest"):
        at = rest.index("for")
        travellers, rest = tuple(rest[at + 1 :]), rest[:at]
    if verb in WAYS:
        return _leg(WAYS[verb], rest, travellers, ids)
    if verb == "transfer":
        start, end, service, minutes = rest
        return Ride(
            id=ids.next(),
            transfer=Ref(service),
            from_place=start,
            to_place=end,
            minutes=int(minutes),
            travellers=travellers,
        )
    if verb == "rest":
        return Rest(id=ids.next(), says=" ".join(rest), travellers=travellers)
    if verb == "visit":
        return Visit(id=ids.next(), place=rest[0], name=" ".join(rest[1:]), minutes=90, travellers=travellers)
    if verb == "note":
        return Note(id=ids.next(), says=" ".join(rest))
    raise ValueError(f"'{line}' begins with no known word")


def _leg(way: Way, words: list[str], travellers: tuple[str, ...] | None, ids: _Ids) -> Leg:
    cut = words.index("cut") if "cut" in words else None
    assist = words[words.index("assist") + 1] if "assist" in words else None
    return Leg(
        id=ids.next(),
        stage=Ref(words[0]),
        way=way,
        backward="back" in words,
        cut_from_m=None if cut is None else float(words[cut + 1]) * 1000 or None,
        cut_to_m=None if cut is None else float(words[cut + 2]) * 1000,
        assist=assist,
        travellers=travellers,
    )
