"""Meals, rides, entries, moves, briefings, bikes and fixed costs: each charged once, none for nothing."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from lacet.price.lines import QuoteLine, Unknown
from lacet.price.quote import Quote, quote
from lacet.trip.library import LibraryItem, Ref, Transfer
from lacet.trip.party import Party, Traveller
from lacet.trip.trip import Day, Hire, Item, Leg, Meal, Move, Ride, Variant, Visit
from lacet.trip.words import Board, Carrier, Load, MealKind, Payer, Service, Unit, Way
from tests.price.small_library import (
    AS_OF,
    CRATER,
    DINNER_IN,
    DINNER_OUT,
    RULES,
    TAXI,
    THREE,
    WEIR,
    catalogue_with,
    euro,
    rate,
    tariff,
    trip_of,
)

WITH_CHILD = Party(travellers=(Traveller(id="t1"), Traveller(id="t2", age=9)), sharing=(("t1", "t2"),))
NEXT_YEAR = (date(2028, 1, 1), date(2028, 12, 31))
HALF_BOARD = replace(WEIR, board=Board.HALF_BOARD)


def sold(
    *days: Day,
    party: Party = THREE,
    hires: tuple[Hire, ...] = (),
    items: tuple[LibraryItem, ...] = (),
    fixed_costs: bool = False,
) -> Quote:
    variant = Variant(id="a", name="A", days=days, hires=hires)
    catalogue = catalogue_with(*items, fixed_costs=fixed_costs)
    return quote(trip_of(variant, party), variant, catalogue, RULES, AS_OF)


def day(*items: Item, **what: object) -> Day:
    return replace(Day(id="d1", items=items), **what)  # type: ignore[arg-type]  # any field of a day


def of(result: Quote, service: Service) -> list[QuoteLine]:
    return [line for line in result.lines if line.service is service]


def nets(result: Quote, service: Service) -> list[str]:
    return [str(line.net.amount) if line.net else str(line.unknown) for line in of(result, service)]


def test_dinner_at_a_restaurant_is_charged_by_age() -> None:
    result = sold(day(meals=(DINNER_OUT,)), party=WITH_CHILD)
    assert nets(result, Service.RESTAURANT) == ["34.00", "18.00"]


def test_dinner_that_half_board_holds_is_not_charged_twice() -> None:
    assert nets(sold(day(nights=(HALF_BOARD,), meals=(DINNER_IN,))), Service.RESTAURANT) == []


def test_dinner_at_a_house_without_half_board_needs_a_price_of_its_own() -> None:
    dinner = day(nights=(WEIR,), meals=(DINNER_IN,))
    assert nets(sold(dinner), Service.RESTAURANT) == ["no_tariff"]
    menu = tariff(Service.RESTAURANT, "weir", rate(Unit.PERSON, "29.00", meal=MealKind.DINNER))
    assert nets(sold(dinner, items=(menu,)), Service.RESTAURANT) == ["87.00"]


def test_a_rate_for_dinner_does_not_buy_lunch() -> None:
    lunch = Meal(kind=MealKind.PACKED_LUNCH, restaurant=Ref("pans"))
    assert nets(sold(day(meals=(lunch,))), Service.RESTAURANT) == ["no_rate"]


def test_packed_lunch_is_held_by_the_full_board_of_the_night_before() -> None:
    board = tariff(
        Service.LODGING,
        "weir",
        rate(Unit.ROOM_NIGHT, "150", board=Board.FULL_BOARD),
    )
    first = Day(id="d1", nights=(replace(WEIR, board=Board.FULL_BOARD),))
    lunch = Meal(kind=MealKind.PACKED_LUNCH, at_lodging=True)
    second = Day(id="d2", nights=(WEIR,), meals=(lunch,))
    assert nets(sold(first, second, items=(board,)), Service.RESTAURANT) == []
    assert nets(sold(replace(first, nights=(WEIR,)), second), Service.RESTAURANT) == ["no_tariff"]


def test_dinner_left_to_the_guests_is_no_line_but_an_included_one_without_a_place_is_unknown() -> None:
    own = Meal(kind=MealKind.DINNER, payer=Payer.OWN)
    assert nets(sold(day(meals=(own,))), Service.RESTAURANT) == []
    result = sold(day(meals=(replace(own, payer=Payer.INCLUDED),)))
    assert nets(result, Service.RESTAURANT) == ["not_chosen"]
    assert result.is_from


def test_who_has_left_has_no_dinner() -> None:
    leaving = replace(THREE, travellers=(*THREE.travellers[:2], Traveller(id="t3", to_day=1)))
    result = sold(day(meals=(DINNER_OUT,)), party=leaving)
    assert of(result, Service.RESTAURANT)[0].travellers == ("t1", "t2")


def test_a_ride_is_charged_by_the_vehicle_or_by_the_head() -> None:
    five = Party(travellers=tuple(Traveller(id=f"t{n}") for n in range(5)))
    # Two taxis of three seats would be 96, the van of eight is 75.
    assert nets(sold(day(TAXI), party=five), Service.TRANSFER) == ["75.00"]
    bus = replace(TAXI, transfer=Ref("bus"))
    assert nets(sold(day(bus), party=WITH_CHILD), Service.TRANSFER) == ["4.10", "2.05"]


def test_a_ride_with_no_carrier_is_unknown_unless_the_guests_see_to_it() -> None:
    planned = Ride(id="r", from_place="harbour", to_place="harbour")
    assert nets(sold(day(planned)), Service.TRANSFER) == ["not_chosen"]
    assert nets(sold(day(replace(planned, payer=Payer.OWN))), Service.TRANSFER) == []
    assert nets(sold(day(replace(planned, transfer=Ref("gone")))), Service.TRANSFER) == ["not_in_library"]


def test_a_carrier_without_a_tariff_is_unknown() -> None:
    ferry = Transfer(id="ferry", name="Ferry", carrier=Carrier.FERRY)
    result = sold(day(replace(TAXI, transfer=Ref("ferry"))), items=(ferry,))
    assert nets(result, Service.TRANSFER) == ["no_tariff"]


def test_an_optional_entry_is_priced_apart_with_markup_and_is_in_no_total() -> None:
    result = sold(day(CRATER), party=WITH_CHILD)
    assert result.total == euro("0.00")
    # 6.50 and 3.25 with 25 % on top: 8.125 and 4.0625, each up to the next euro.
    assert [(extra.a_head, extra.price) for extra in result.extras] == [
        (euro("9.00"), euro("9.00")),
        (euro("5.00"), euro("5.00")),
    ]


def test_a_sight_on_the_guests_own_account_is_no_line() -> None:
    assert sold(day(Visit(id="v", name="Lighthouse"))).lines == ()


def test_an_entry_in_the_price_without_a_tariff_is_unknown() -> None:
    included = Visit(id="v", name="Lighthouse", payer=Payer.INCLUDED)
    assert nets(sold(day(included)), Service.ENTRY) == ["no_tariff"]


def test_bags_are_charged_by_the_bag_and_bikes_by_the_move() -> None:
    moves = (Move(load=Load.BAGS), Move(load=Load.BAGS, count=5), Move(load=Load.BIKES))
    assert nets(sold(day(moves=moves)), Service.BAG_MOVE) == ["37.50", "62.50", "39.00"]


def test_a_briefing_is_charged_by_the_hour() -> None:
    variant_rules = replace(RULES, briefing_minutes=90)
    variant = Variant(id="a", name="A", days=(day(briefing=True),))
    result = quote(trip_of(variant), variant, catalogue_with(), variant_rules, AS_OF)
    assert nets(result, Service.REP) == ["63.00"]


def test_a_hire_is_charged_by_the_day_until_the_flat_price_is_less() -> None:
    days = tuple(Day(id=f"d{n}") for n in range(5))
    two_days = Hire(traveller="t1", bike=Ref("volt"), to_day="d1")
    assert nets(sold(*days, hires=(two_days,)), Service.BIKE)[0] == "56.00"
    assert nets(sold(*days, hires=(replace(two_days, to_day=None),)), Service.BIKE)[0] == "95.00"


def test_a_deposit_comes_back_and_is_in_no_price() -> None:
    result = sold(day(), hires=(Hire(traveller="t1", bike=Ref("volt")),))
    deposit = next(line for line in result.lines if line.refundable)
    assert deposit.net == euro("200.00")
    assert deposit in result.apart
    assert result.net == euro("28.00")


def test_a_hire_lasts_no_longer_than_the_guest_stays() -> None:
    party = Party(travellers=(Traveller(id="t1", from_day=2, to_day=3),))
    days = tuple(Day(id=f"d{n}") for n in range(5))
    result = sold(*days, party=party, hires=(Hire(traveller="t1", bike=Ref("plain")),))
    assert nets(result, Service.BIKE) == ["28.00"]


def test_own_bikes_cost_nothing_and_a_rider_without_any_bike_is_unknown() -> None:
    leg = Leg(id="l", stage=Ref("lane"), way=Way.CYCLING, travellers=("t1", "t2"))
    result = sold(day(leg), hires=(Hire(traveller="t1"),))
    assert [(line.unknown, line.travellers) for line in of(result, Service.BIKE)] == [
        (Unknown.NOT_CHOSEN, ("t2",))
    ]


def test_a_bike_that_only_a_leg_names_is_had_for_that_day() -> None:
    leg = Leg(id="l", stage=Ref("lane"), way=Way.CYCLING, bike=Ref("plain"), travellers=("t1",))
    assert nets(sold(day(leg), Day(id="d2")), Service.BIKE) == ["14.00"]
    hired = (Hire(traveller="t1", bike=Ref("plain")),)
    assert nets(sold(day(leg), Day(id="d2"), hires=hired), Service.BIKE) == ["28.00"]


def test_fixed_costs_are_one_for_the_trip_and_one_for_each() -> None:
    result = sold(day(), fixed_costs=True)
    assert nets(result, Service.FIXED_TRIP) == ["60.00"]
    assert nets(result, Service.FIXED_PERSON) == ["45.00"]


def test_fixed_costs_of_one_name_follow_each_other_in_time() -> None:
    later = tariff(
        Service.FIXED_TRIP,
        "",
        rate(Unit.TRIP, "70.00"),
        name="route notes made",
        id="fixed-notes-2028",
        valid_from=NEXT_YEAR[0],
        valid_to=NEXT_YEAR[1],
    )
    assert nets(sold(day(), items=(later,), fixed_costs=True), Service.FIXED_TRIP) == ["60.00"]


def test_two_vans_are_charged_twice() -> None:
    sixteen = Party(travellers=tuple(Traveller(id=f"t{n}") for n in range(16)))
    (line,) = of(sold(day(TAXI), party=sixteen), Service.TRANSFER)
    assert (line.quantity, line.net) == (Decimal(2), euro("150.00"))


def test_without_a_date_the_cheaper_fleet_counts_all_its_vehicles() -> None:
    """The van is there for half of the year; in the other half two taxis cost more, though one costs less."""
    five = Party(travellers=tuple(Traveller(id=f"t{n}") for n in range(5)))
    taxi = tariff(
        Service.TRANSFER,
        "taxi",
        rate(Unit.VEHICLE, "75.00", vehicle_seats=8, season="01-01..06-30"),
        rate(Unit.VEHICLE, "48.00", vehicle_seats=3, season="07-01..12-31"),
    )
    variant = Variant(id="a", name="A", days=(day(TAXI),))
    undated = trip_of(variant, five, None)
    found = quote(undated, variant, catalogue_with(taxi, fixed_costs=False), RULES, AS_OF)
    (line,) = of(found, Service.TRANSFER)
    assert line.net == euro("75.00")
    assert line.assumed


def test_a_bike_is_called_by_its_name_and_by_its_id_where_the_library_lacks_it() -> None:
    def said(bike: str) -> list[str]:
        hires = (Hire(traveller="t1", bike=Ref(bike)),)
        return [line.says for line in of(sold(day(), hires=hires), Service.BIKE)]

    assert said("volt") == ["Volt", "Volt: deposit"]
    assert said("gone") == ["gone"]
