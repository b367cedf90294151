"""A small invented library, with every kind of tariff, and a party and a trip to price with it."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

from lacet.trip.catalogue import Catalogue, catalogue_of
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import (
    Bike,
    LibraryItem,
    Lodging,
    Place,
    Rate,
    Ref,
    Restaurant,
    Room,
    Tariff,
    Transfer,
)
from lacet.trip.money import ExchangeRate, Money
from lacet.trip.party import Party, Traveller
from lacet.trip.region import Region
from lacet.trip.trip import Day, Hire, Meal, Move, Night, Ride, Trip, Variant, Visit
from lacet.trip.words import BikeKind, Board, Carrier, Load, MealKind, Payer, Service, Unit

AS_OF = date(2026, 11, 25)
MONDAY = date(2027, 5, 10)
REGION = Region(currency="EUR", holidays=("01-01 New Year",))
YEAR = (date(2027, 1, 1), date(2027, 12, 31))
RULES = HouseRules(
    exchange_rates=(ExchangeRate(currency="GBP", to="EUR", rate=Decimal("1.1623"), on=date(2026, 11, 20)),)
)


def euro(text: str) -> Money:
    return Money(Decimal(text), "EUR")


def rate(unit: Unit, amount: str, currency: str = "EUR", **what: Any) -> Rate:
    return Rate(unit=unit, amount=Money(Decimal(amount), currency), **what)


def tariff(service: Service, subject: str, *rates: Rate, **what: Any) -> Tariff:
    settled = {"id": f"{service}-{subject}", "name": f"{service} {subject}"} | what
    settled.setdefault("valid_from", YEAR[0])
    settled.setdefault("valid_to", YEAR[1])
    return Tariff(service=service, subject_id=subject, rates=rates, **settled)


def lodging(house: str, *rooms: Room) -> Lodging:
    return Lodging(
        id=house, name=house.title(), place="harbour", latitude_deg=44.2, longitude_deg=-24.6, rooms=rooms
    )


DOUBLES = Room(kind="double", sleeps=2, count=4)
FAMILY = Room(kind="family", sleeps=4, count=1)

ITEMS: tuple[LibraryItem, ...] = (
    Place(id="harbour", name="Harbour", latitude_deg=44.2, longitude_deg=-24.6),
    lodging("weir", DOUBLES, FAMILY),
    lodging("forge", DOUBLES),
    Restaurant(id="pans", name="The Pans", place="harbour", latitude_deg=44.2, longitude_deg=-24.6),
    Transfer(id="taxi", name="Taxi", carrier=Carrier.TAXI),
    Transfer(id="bus", name="Bus", carrier=Carrier.BUS),
    Bike(id="volt", name="Volt", kind=BikeKind.E_BIKE),
    Bike(id="plain", name="Plain", kind=BikeKind.TOURING),
    tariff(
        Service.LODGING,
        "weir",
        rate(Unit.ROOM_NIGHT, "118.00", room_kind="double", board=Board.BREAKFAST),
        rate(Unit.ROOM_NIGHT, "82.50", room_kind="double", board=Board.BREAKFAST, single_use=True),
        rate(Unit.ROOM_NIGHT, "130.00", room_kind="double", board=Board.BREAKFAST, weekdays=(4, 5)),
        rate(Unit.ROOM_NIGHT, "165.00", room_kind="family", board=Board.BREAKFAST),
        rate(Unit.PERSON_NIGHT, "27.50", board=Board.HALF_BOARD),
        rate(Unit.PERSON_NIGHT, "15.00", board=Board.HALF_BOARD, age_to=11),
        allotment=2,
    ),
    tariff(
        Service.LODGING,
        "forge",
        rate(Unit.PERSON_NIGHT, "54.20", "GBP", season="03-15..10-31"),
        rate(Unit.PERSON_NIGHT, "27.10", "GBP", season="03-15..10-31", age_to=11),
        rate(Unit.PERSON_NIGHT, "71.35", "GBP", season="03-15..10-31", single_use=True),
    ),
    tariff(
        Service.RESTAURANT,
        "pans",
        rate(Unit.PERSON, "34.00", meal=MealKind.DINNER),
        rate(Unit.PERSON, "18.00", meal=MealKind.DINNER, age_to=11),
    ),
    tariff(
        Service.TRANSFER,
        "taxi",
        rate(Unit.VEHICLE, "48.00", vehicle_seats=3),
        rate(Unit.VEHICLE, "75.00", vehicle_seats=8),
    ),
    tariff(Service.TRANSFER, "bus", rate(Unit.PERSON, "4.10"), rate(Unit.PERSON, "2.05", age_to=14)),
    tariff(
        Service.BIKE,
        "volt",
        rate(Unit.BIKE_DAY, "28.00"),
        rate(Unit.BIKE_HIRE, "95.00"),
        rate(Unit.DEPOSIT, "200.00"),
    ),
    tariff(Service.BIKE, "plain", rate(Unit.BIKE_DAY, "14.00")),
    tariff(Service.BIKE, "helmet", rate(Unit.BIKE_HIRE, "5.00")),
    tariff(Service.BAG_MOVE, "bags", rate(Unit.BAG, "12.50")),
    tariff(Service.BAG_MOVE, "bikes", rate(Unit.MOVE, "39.00")),
    tariff(Service.REP, "", rate(Unit.HOUR, "42.00")),
    tariff(
        Service.ENTRY, "crater", rate(Unit.PERSON, "6.50"), rate(Unit.PERSON, "3.25", age_to=15), id="crater"
    ),
    tariff(Service.VISITOR_TAX, "", rate(Unit.PERSON_NIGHT, "1.80", age_from=16), paid_locally=True),
    tariff(Service.FIXED_TRIP, "", rate(Unit.TRIP, "60.00"), name="route notes made", id="fixed-notes"),
    tariff(Service.FIXED_PERSON, "", rate(Unit.PERSON, "15.00"), name="maps", id="fixed-maps"),
)
CATALOGUE = catalogue_of(ITEMS, region=REGION)

THREE = Party(
    travellers=(Traveller(id="t1"), Traveller(id="t2"), Traveller(id="t3")), sharing=(("t1", "t2"),)
)

WEIR = Night(lodging=Ref("weir"))
FORGE = Night(lodging=Ref("forge"))
BAGS = Move(load=Load.BAGS)
DINNER_OUT = Meal(kind=MealKind.DINNER, restaurant=Ref("pans"))
DINNER_IN = Meal(kind=MealKind.DINNER, at_lodging=True)
TAXI = Ride(id="r1", transfer=Ref("taxi"), from_place="harbour", to_place="harbour")
CRATER = Visit(id="v1", name="Crater house", place="harbour", tariff="crater", payer=Payer.OPTIONAL)

DAYS = (
    Day(id="d1", items=(TAXI,), nights=(WEIR,), meals=(DINNER_OUT,), briefing=True),
    Day(
        id="d2",
        items=(CRATER,),
        nights=(replace(WEIR, board=Board.HALF_BOARD),),
        meals=(DINNER_IN,),
    ),
    Day(id="d3", nights=(FORGE,), moves=(BAGS,)),
    Day(id="d4", moves=(BAGS,)),
)
VARIANT = Variant(
    id="a",
    name="A",
    days=DAYS,
    hires=(Hire(traveller="t1", bike=Ref("volt"), from_day="d2", extras=("helmet",)),),
)
TRIP = Trip(id="trip", name="Three round the crater", party=THREE, start=MONDAY, variants=(VARIANT,))


def catalogue_with(*items: LibraryItem, fixed_costs: bool = True) -> Catalogue:
    """The small library with some items put in the place of those with the same id."""
    ids = {(type(item), item.id) for item in items}
    kept = (item for item in ITEMS if (type(item), item.id) not in ids)
    left = (*(item for item in kept if fixed_costs or "fixed" not in item.id), *items)
    return catalogue_of(left, region=REGION)


def trip_of(variant: Variant, party: Party = THREE, start: date | None = MONDAY) -> Trip:
    return replace(TRIP, party=party, start=start, variants=(variant,))
