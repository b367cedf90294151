"""The sheets of the trade: houses, kitchens, carriers, bikes and what they charge."""

import re
from typing import Any

from lacet.intake.cells import (
    OPENING,
    SEASON,
    SEASONS,
    Amount,
    Clocks,
    Day,
    Id,
    Number,
    Text,
    Word,
    YesNo,
    shown,
)
from lacet.intake.columns import Column, Fields, SheetKind
from lacet.intake.ground import RETIRED, column, position_columns
from lacet.intake.pairs import Assists, Depots, Diets, Weekdays
from lacet.intake.problems import CellRefused
from lacet.trip.library import Bike, Lodging, Rate, Restaurant, Room, Tariff, Transfer
from lacet.trip.money import Money
from lacet.trip.words import BikeKind, Board, Carrier, MealKind, Service, Unit

_CURRENCY = re.compile(r"[A-Z]{3}")


class Currency:
    """A currency by its ISO 4217 code."""

    expects = "a currency's three letters, such as EUR"

    def read(self, text: str, comma: bool = False) -> str:
        if not _CURRENCY.fullmatch(text):
            raise CellRefused(f"{shown(text)} isn't {self.expects}.")
        return text

    def write(self, value: str) -> str:
        return value


def _named() -> tuple[Column, ...]:
    return (
        column("id", "never changes", Id(), required=True),
        column("name", "as guests read it", Text(), required=True),
    )


def _count(name: str, says: str, unit: str, low: float = 0, high: float = 10_000, **more: Any) -> Column:
    return column(name, says, Number(unit, low, high, whole=True), **more)


_PLACE = column("place", "the place it belongs to", Id(), required=True, refers="places")
_TELEPHONE = column("telephone", "", Text())
_TEXT, _NOTE = column("text", "for the proposal", Text()), column("note", "for the office", Text())
_CLOSED = column("closed", "seasons it is shut", SEASONS)
_DIETS = column("diets", "what the kitchen said", Diets())

LODGINGS = SheetKind(
    name="lodgings",
    one="lodging",
    makes=Lodging,
    says="houses to sleep in; their rooms are in the sheet rooms, their prices in tariffs and rates",
    columns=(
        *_named(),
        _PLACE,
        column("kind", "inn, farm, hotel, hut ...", Text()),
        *position_columns(),
        _CLOSED,
        column("check_in", "when somebody is there to receive guests", Clocks()),
        column("late_key", "can leave a key for those who come later", YesNo()),
        column("breakfast", "", Clocks()),
        column("serves_dinner", "", YesNo()),
        column("dinner_hours", "", Clocks()),
        _DIETS,
        column("charging", "sockets for e-bikes", YesNo()),
        column("bike_store", "bikes stand locked and dry", YesNo()),
        column("vehicle_access", "a van can reach the door", YesNo()),
        _count("release_days", "rooms not named by then go back to the house", "days before arrival"),
        column("address", "", Text()),
        _TELEPHONE,
        _TEXT,
        _NOTE,
        RETIRED,
    ),
)
ROOMS = SheetKind(
    name="rooms",
    one="room",
    makes=Room,
    says="rooms of one kind in a house",
    parent="lodgings",
    parent_field="rooms",
    columns=(
        column("lodging", "whose", Id(), "parent", required=True, refers="lodgings"),
        column("kind", "the word rates use too", Text(), required=True),
        _count("sleeps", "in each", "guests", 1, 100, required=True),
        _count("count", "how many the house has", "rooms", 0, 1000, required=True),
        column("beds", "such as twin or 1 double, 1 single", Text()),
        column("private_bath", "", YesNo()),
    ),
)
RESTAURANTS = SheetKind(
    name="restaurants",
    one="restaurant",
    makes=Restaurant,
    says="where guests eat when not at their lodging",
    columns=(
        *_named(),
        _PLACE,
        *position_columns(),
        column("opening", "", OPENING),
        _CLOSED,
        _DIETS,
        _count("seats", "", "seats"),
        _TELEPHONE,
        _TEXT,
        _NOTE,
        RETIRED,
    ),
)
TRANSFERS = SheetKind(
    name="transfers",
    one="transfer",
    makes=Transfer,
    says="carriers' services; without places one goes anywhere in the region",
    columns=(
        *_named(),
        column("carrier", "", Word(Carrier), required=True),
        column("from_place", "", Id(), refers="places"),
        column("to_place", "", Id(), refers="places"),
        _count("minutes", "how long it takes", "minutes"),
        column("both_ways", "also runs back; yes where empty", YesNo()),
        _count("seats", "", "guests"),
        _count("bags", "", "bags"),
        _count("bikes", "", "bikes"),
        column("runs", "when it runs", OPENING),
        _TELEPHONE,
        _NOTE,
        RETIRED,
    ),
)
BIKES = SheetKind(
    name="bikes",
    one="bike",
    makes=Bike,
    says="bikes for hire, a row for each model and size",
    columns=(
        *_named(),
        column("kind", "", Word(BikeKind), required=True),
        column("rider_height_from_cm", "shortest rider", Number("cm", 60, 230)),
        column("rider_height_to_cm", "tallest rider", Number("cm", 60, 230)),
        column("mass_kg", "of the bike", Number("kg", 1, 100)),
        column("maximum_total_kg", "the maker's limit for bike, rider and luggage", Number("kg", 20, 500)),
        column("battery_wh", "as on the battery; empty = no motor", Number("Wh", 50, 3000)),
        column("battery_health", "what is left of it by age, 0.9 = 90 %", Number("", 0.2, 1),
               "battery_health_share"),
        column("assists", "motor's power as percent of the rider's", Assists()),
        column("depots", "how many stand where", Depots()),
        _NOTE,
        RETIRED,
    ),
)  # fmt: skip
TARIFFS = SheetKind(
    name="tariffs",
    one="tariff",
    makes=Tariff,
    says="what a supplier charges between two dates; the prices are in the sheet rates",
    columns=(
        *_named(),
        column("service", "", Word(Service), required=True),
        column("subject", "id of the lodging, restaurant, transfer or bike; else empty or a name", Text(),
               "subject_id"),
        column("valid_from", "first day", Day(), required=True),
        column("valid_to", "last day", Day(), required=True),
        column("paid_locally", "guests pay on the spot", YesNo()),
        _count("release_days", "where it differs from the house's", "days before arrival"),
        _count("allotment", "rooms held for the office each night", "rooms"),
        column("vat_note", "", Text()),
        _NOTE,
        RETIRED,
    ),
)  # fmt: skip


def _take_rate(known: Fields) -> Fields:
    return known | {"amount": Money(known["amount"], known.pop("currency"))}


def _give_rate(rate: Rate) -> Fields:
    plain = {each.field: getattr(rate, each.field) for each in RATES.kept if each.field != "currency"}
    return plain | {"amount": rate.amount.amount, "currency": rate.amount.currency}


RATES = SheetKind(
    name="rates",
    one="rate",
    makes=Rate,
    says="the lines of tariffs; the line that says most about a case holds",
    parent="tariffs",
    parent_field="rates",
    take=_take_rate,
    give=_give_rate,
    columns=(
        column("tariff", "whose", Id(), "parent", required=True, refers="tariffs"),
        column("unit", "what one costs", Word(Unit), required=True),
        column("amount", "", Amount(), required=True),
        column("currency", "", Currency(), required=True),
        column("room_kind", "as in rooms; empty = any", Text()),
        column("board", "what the price holds", Word(Board)),
        column("single_use", "the room let to one guest", YesNo()),
        column("season", "empty = all year", SEASON),
        column("weekdays", "empty = every day", Weekdays()),
        _count("age_from", "youngest", "years", 0, 120),
        _count("age_to", "oldest", "years", 0, 120),
        _count("vehicle_seats", "guests one vehicle holds at this price", "guests", 1, 100),
        _count("minimum_nights", "", "nights", 1, 365),
        column("meal", "which meal; empty = any", Word(MealKind)),
    ),
)
