"""What a variant needs from suppliers, and bookings held against it."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, time
from typing import Any

import pytest

from lacet.figures.needed import Matching, Needed, match, needed
from lacet.trip.bookings import Booking, Bookings
from lacet.trip.library import Ref, Transfer
from lacet.trip.trip import Day, Hire, Meal, Move, Rest, Trip
from lacet.trip.words import BookingState, Carrier, Load, MealKind, Payer, Service
from tests.small_library import day, night, ride, small_catalogue, small_trip, walk

CATALOGUE = small_catalogue()
BUS = Transfer(id="bus", name="Bus", carrier=Carrier.BUS)


def wanted(*days: Day, hires: tuple[Hire, ...] = (), **more: Any) -> tuple[Needed, ...]:
    trip = small_trip(*days, hires=hires, **more)
    return needed(trip, trip.variants[0], small_catalogue(BUS))


def two_nights(**more: Any) -> Trip:
    """Saturday 8 and Sunday 9 May at Birch House, one double room."""
    return small_trip(
        day("d1", walk("i1"), lodging="birch-house"),
        day("d2", Rest(id="i2"), lodging="birch-house"),
        day("d3", Rest(id="i3")),
        **more,
    )


def booked(**more: Any) -> Booking:
    usual: dict[str, Any] = {
        "id": "b1",
        "service": Service.LODGING,
        "supplier": "birch-house",
        "from_day": date(2027, 5, 8),
        "to_day": date(2027, 5, 10),
        "detail": "double",
    }
    return Booking(**usual | more)


def held(*bookings: Booking, trip: Callable[..., Trip] = two_nights) -> Matching:
    given = trip()
    return match(given, Bookings(bookings), needed(given, given.variants[0], CATALOGUE), CATALOGUE)


def test_equal_nights_in_one_house_run_together_until_the_day_of_departure() -> None:
    trip = two_nights()
    (need,) = needed(trip, trip.variants[0], CATALOGUE)
    assert (need.supplier, need.detail, need.from_day, need.to_day, need.quantity) == (
        "birch-house",
        "double",
        1,
        3,
        1,
    )
    assert list(need.days) == [1, 2]


def test_guests_who_leave_earlier_need_no_room() -> None:
    trip = two_nights(guests=1)
    leaver = replace(trip.party.travellers[0], to_day=2)
    trip = replace(trip, party=replace(trip.party, travellers=(leaver,)))
    (need,) = needed(trip, trip.variants[0], CATALOGUE)
    assert (need.detail, need.to_day) == ("single", 2)


def test_dinners_transfers_bag_moves_and_hires_are_needed_for_those_who_take_them() -> None:
    first = replace(
        day("d1", ride("i1", "alder", "birch", transfer=Ref("taxi"), travellers=("t1",))),
        meals=(Meal(kind=MealKind.DINNER, restaurant=Ref("net-loft")),),
        moves=(Move(load=Load.BAGS, means=Ref("taxi"), ready_by=time(9, 0)),),
    )
    hires = tuple(Hire(traveller=who, bike=Ref("e-medium"), to_day="d2") for who in ("t1", "t2"))
    needs = {
        (each.service, each.supplier, each.detail, each.quantity)
        for each in wanted(first, day("d2", walk("i2")), hires=hires)
    }
    assert needs == {
        (Service.RESTAURANT, "net-loft", "dinner", 2),
        (Service.TRANSFER, "taxi", "alder birch", 1),
        (Service.BAG_MOVE, "taxi", "bags", 2),
        (Service.BIKE, "e-medium", "", 2),
    }


@pytest.mark.parametrize("payer", [Payer.OWN, Payer.OPTIONAL])
def test_what_guests_arrange_themselves_is_not_needed(payer: Payer) -> None:
    own = replace(
        day("d1", ride("i1", "alder", "birch", transfer=Ref("taxi"), payer=payer)),
        nights=night("birch-house", payer=payer),
        meals=(Meal(kind=MealKind.DINNER, restaurant=Ref("net-loft"), payer=payer),),
    )
    assert wanted(own, day("d2", Rest(id="i2"))) == ()


def test_a_scheduled_bus_takes_no_booking() -> None:
    assert wanted(day("d1", ride("i1", "alder", "birch", transfer=Ref("bus")))) == ()


def test_a_booking_that_covers_all_leaves_nothing_to_tell() -> None:
    assert held(booked()) == Matching((), ())
    assert held(booked(detail="sea view, please")) == Matching((), ())
    assert held(booked(to_day=date(2027, 5, 9)), booked(id="b2", from_day=date(2027, 5, 9))) == Matching(
        (), ()
    )


@pytest.mark.parametrize("state", [BookingState.REFUSED, BookingState.CANCELLED])
def test_what_was_refused_or_cancelled_is_not_asked(state: BookingState) -> None:
    told = held(booked(state=state))
    assert [each.days for each in told.unasked] == [(1, 2)]
    assert told.unneeded == ()


def test_a_night_short_and_a_night_too_many_are_told_by_their_dates() -> None:
    short = held(booked(to_day=date(2027, 5, 9)))
    assert [(each.days, each.missing) for each in short.unasked] == [((2,), 1)]
    longer = held(booked(to_day=date(2027, 5, 11)))
    assert [(each.dates, each.surplus) for each in longer.unneeded] == [((date(2027, 5, 10),), 1)]


def test_rooms_are_counted_by_kind() -> None:
    told = held(booked(detail="single"))
    assert [each.needed.detail for each in told.unasked] == ["double"]
    assert [each.surplus for each in told.unneeded] == [1]
    (more,) = held(booked(quantity=3)).unneeded
    assert (more.surplus, more.dates) == (2, (date(2027, 5, 8), date(2027, 5, 9)))


def test_a_booking_without_a_kind_gives_way_to_one_that_names_it() -> None:
    told = held(booked(id="any", detail=""), booked(id="named"))
    assert [each.booking.id for each in told.unneeded] == ["any"]


def test_a_table_booked_for_the_evening_is_enough_whatever_its_quantity() -> None:
    def dining(**more: Any) -> Trip:
        meal = Meal(kind=MealKind.DINNER, restaurant=Ref("net-loft"))
        return small_trip(day("d1", walk("i1"), meals=(meal,)), **more)

    table = booked(service=Service.RESTAURANT, supplier="net-loft", detail="", to_day=date(2027, 5, 8))
    assert held(table, trip=dining) == Matching((), ())
    (late,) = held(replace(table, from_day=date(2027, 5, 9), to_day=date(2027, 5, 9)), trip=dining).unneeded
    assert late.dates == (date(2027, 5, 9),)


def test_services_that_no_variant_names_are_let_be() -> None:
    assert held(booked(), booked(id="b2", service=Service.REP, supplier="rep")).unneeded == ()


def test_without_a_start_there_is_nothing_to_match() -> None:
    given = two_nights(start=None)
    assert match(
        given, Bookings((booked(),)), needed(given, given.variants[0], CATALOGUE), CATALOGUE
    ) == Matching((), ())


def test_what_is_hired_is_needed_on_its_last_day_too_and_a_room_not_after_its_last_night() -> None:
    (bike,) = wanted(
        day("d1", walk("i1")),
        day("d2", Rest(id="i2")),
        hires=(Hire(traveller="t1", bike=Ref("e-medium"), to_day="d2"),),
    )
    assert list(bike.days) == [1, 2]
    (room,) = wanted(day("d1", walk("i1"), lodging="birch-house"), day("d2", Rest(id="i2")))
    assert list(room.days) == [1]


def test_seats_are_needed_for_those_who_ride_alone() -> None:
    (seats,) = wanted(
        day("d1", ride("i1", "alder", "birch", transfer=Ref("taxi"), travellers=("t3",))), guests=3
    )
    assert seats.quantity == 1


def test_bags_are_asked_of_the_carrier_that_was_chosen_and_paid_by_the_office() -> None:
    def moved(**more: Any) -> tuple[Needed, ...]:
        return wanted(day("d1", walk("i1"), moves=(Move(load=Load.BAGS, **more),)))

    assert [each.supplier for each in moved(means=Ref("taxi"))] == ["taxi"]
    assert moved() == ()
    assert moved(means=Ref("taxi"), payer=Payer.OWN) == ()
