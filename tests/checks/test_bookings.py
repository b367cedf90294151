"""Options, release days, and bookings held against the chosen variant."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from lacet.assess import assess
from lacet.inputs import Inputs
from lacet.settle import settle
from lacet.trip import edits
from lacet.trip.bookings import Booking, Bookings
from lacet.trip.finding import Finding, Level
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import Lodging, Ref
from lacet.trip.trip import Accepted, Meal, Rest, Trip
from lacet.trip.words import BookingState, MealKind, Service
from tests.small_library import day, items, small_catalogue, small_trip, walk

AS_OF = date(2026, 11, 25)
RULES = HouseRules()
BIRCH = next(item for item in items() if isinstance(item, Lodging) and item.id == "birch-house")
DINNER = Meal(kind=MealKind.DINNER, restaurant=Ref("net-loft"))


def trip_with(*bookings: Booking, **more: Any) -> Inputs:
    """Two nights at Birch House from Saturday 8 May, a dinner on the first evening, and what was booked."""
    trip = small_trip(
        day("d1", walk("i1"), lodging="birch-house", meals=(DINNER,), briefing=True),
        day("d2", Rest(id="i2"), lodging="birch-house"),
        day("d3", Rest(id="i3")),
    )
    return inputs_of(replace(trip, **{"proposed": "v1", **more}), *bookings)


def inputs_of(trip: Trip, *bookings: Booking) -> Inputs:
    return Inputs(trip, "v1", small_catalogue(BIRCH), RULES, bookings=Bookings(bookings), as_of=AS_OF)


def rooms(**more: Any) -> Booking:
    usual: dict[str, Any] = {
        "id": "b1",
        "service": Service.LODGING,
        "supplier": "birch-house",
        "from_day": date(2027, 5, 8),
        "to_day": date(2027, 5, 10),
        "state": BookingState.CONFIRMED,
    }
    return Booking(**usual | more)


def table(**more: Any) -> Booking:
    evening = date(2027, 5, 8)
    return rooms(**{"id": "b2", "service": Service.RESTAURANT, "supplier": "net-loft", "from_day": evening,
                    "to_day": evening, **more})  # fmt: skip


def found(inputs: Inputs, house: Lodging = BIRCH, as_of: date = AS_OF) -> list[Finding]:
    told = assess(replace(inputs, catalogue=small_catalogue(house), as_of=as_of)).findings
    return [each for each in told if each.check == "bookings_kept"]


def test_a_trip_booked_as_it_is_planned_has_nothing_to_settle() -> None:
    assert found(trip_with(rooms(), table())) == []


def test_only_the_chosen_variant_is_held_against_bookings() -> None:
    assert found(trip_with(proposed=None)) == []
    assert len(found(trip_with(proposed=None, accepted=Accepted(variant="v1", revision=1)))) == 2


@pytest.mark.parametrize(
    ("accepted", "level"),
    [(None, Level.NOTE), (Accepted(variant="v1", revision=1), Level.WARN)],
    ids=["proposed", "accepted"],
)
def test_tables_are_pressing_once_the_client_has_said_yes(accepted: Accepted | None, level: Level) -> None:
    (told,) = found(trip_with(rooms(), accepted=accepted))
    assert told.level is level
    assert str(told.says) == "Nobody has asked Net Loft for a table on day 1. Ask now."


def test_each_supplier_is_told_once_for_all_its_days() -> None:
    (told,) = found(trip_with(table()))
    assert str(told.says) == "Nobody has asked Birch House for 1 double room after days 1 and 2. Ask now."
    assert (told.level, told.figure, told.unit) == (Level.WARN, 2.0, "room nights")


def test_a_refusal_is_told_as_one() -> None:
    (told,) = found(trip_with(rooms(state=BookingState.REFUSED), table()))
    assert str(told.says).startswith("Birch House has refused 1 double room after days 1 and 2.")


def test_asking_for_fewer_rooms_is_not_asking_for_all() -> None:
    inputs = trip_with(rooms(detail="single"), table())
    apart = replace(inputs.trip, party=replace(inputs.trip.party, sharing=()))
    (told,) = found(replace(inputs, trip=apart))
    assert str(told.says) == (
        "Birch House was asked for too little: 1 single room after days 1 and 2 missing. Ask for more."
    )


def test_a_room_of_another_kind_is_both_missing_and_not_needed() -> None:
    says = [str(each.says) for each in found(trip_with(rooms(detail="single"), table()))]
    assert "Nobody has asked Birch House for 1 double room after days 1 and 2. Ask now." in says
    assert any("isn't needed" in each for each in says)


def test_too_many_rooms_and_nights_are_told_by_their_dates() -> None:
    (more,) = found(trip_with(rooms(quantity=2), table()))
    assert "more than is needed on 8 May and 9 May" in str(more.says)
    (longer,) = found(trip_with(rooms(to_day=date(2027, 5, 12)), table()))
    assert "more than is needed on 10 May and 11 May" in str(longer.says)


@pytest.mark.parametrize(
    ("until", "level"), [(29, None), (28, Level.WARN), (25, Level.WARN), (24, Level.STOP)]
)
def test_an_option_is_told_before_it_ends_and_after(until: int, level: Level | None) -> None:
    """Today is 25 November; the house wants to hear of it three days before."""
    held = rooms(state=BookingState.OPTION, option_until=date(2026, 11, until))
    assert [each.level for each in found(trip_with(held, table()))] == ([] if level is None else [level])


@pytest.mark.parametrize(("until", "says"), [(30, True), (24, False)])
def test_a_booking_no_longer_needed_says_until_when_it_costs_nothing(until: int, says: bool) -> None:
    other = rooms(id="b3", supplier="cedar-inn", free_cancel_until=date(2026, 11, until))
    (told,) = found(trip_with(rooms(), table(), other))
    assert str(told.says).startswith("Cedar Inn was asked for 8 May, but isn't needed. Cancel it.")
    assert ("free until 30 November" in str(told.says)) is says


@pytest.mark.parametrize(
    ("as_of", "count"),
    [(date(2027, 4, 2), 0), (date(2027, 4, 3), 1), (date(2027, 4, 17), 1), (date(2027, 4, 18), 0)],
)
def test_a_release_day_is_told_a_fortnight_before_and_not_after(as_of: date, count: int) -> None:
    """21 days before 8 May is 17 April; a fortnight before that is 3 April."""
    asked = trip_with(rooms(state=BookingState.REQUESTED), table())
    told = found(asked, replace(BIRCH, release_days=21), as_of)
    assert len(told) == count


def test_confirmed_rooms_are_not_released() -> None:
    assert found(trip_with(rooms(), table()), replace(BIRCH, release_days=21), date(2027, 4, 10)) == []


@pytest.mark.parametrize(
    ("inputs", "says"),
    [
        (trip_with(table()), "Write it down as requested"),
        (trip_with(rooms(from_day=date(2027, 5, 9)), table()), "Write it down as requested"),
        (trip_with(rooms(), table(), rooms(id="b3", supplier="cedar-inn")), "Write it down as cancelled"),
        (
            trip_with(rooms(state=BookingState.OPTION, option_until=date(2026, 11, 26)), table()),
            "Write it down as confirmed",
        ),
    ],
)
def test_what_is_written_down_settles_the_finding(inputs: Inputs, says: str) -> None:
    before = assess(inputs)
    (told,) = [each for each in before.findings if each.check == "bookings_kept"]
    (proved,) = settle(inputs, before)[before.findings.index(told)]
    assert str(proved.says) == says
    assert found(replace(inputs, bookings=proved.act(inputs.bookings))) == []
    assert proved.edit(inputs.trip) is inputs.trip, "the trip itself stays as it is"


def nights_asked(count: int, *bookings: Booking) -> str:
    """What is told of so many nights at Birch House from Saturday 8 May."""
    stays = (
        day(f"d{number}", Rest(id=f"i{number}"), lodging="birch-house") for number in range(1, count + 1)
    )
    trip = small_trip(*stays, day("last", Rest(id="last")), proposed="v1")
    return " ".join(str(each.says) for each in found(inputs_of(trip, *bookings)))


def test_days_in_a_row_are_told_as_a_stretch_and_others_one_by_one() -> None:
    assert "after days 1 and 2." in nights_asked(2)
    assert "after days 1 to 3." in nights_asked(3)
    third = rooms(from_day=date(2027, 5, 10), to_day=date(2027, 5, 11))
    assert "after days 1, 2 and 4." in nights_asked(4, third)


def test_nights_on_end_are_written_down_as_one_booking() -> None:
    inputs = trip_with(table())
    (told,) = found(inputs)
    asked = [each for each in told.fixes[0].act(inputs.bookings) if each.service is Service.LODGING]
    assert [(each.from_day, each.to_day) for each in asked] == [(date(2027, 5, 8), date(2027, 5, 10))]
    assert asked[0].made_for == tuple(night.id for each in inputs.variant.days for night in each.nights)


def test_a_booking_tells_where_the_trip_has_by_now_what_it_was_made_for() -> None:
    inputs = trip_with(table())
    booked = replace(inputs, bookings=found(inputs)[0].fixes[0].act(inputs.bookings))
    later = replace(booked, trip=edits.insert_day(inputs.trip, "v1", 0))
    says = [str(each.says) for each in found(later)]
    assert (
        "Birch House was asked for more than is needed on 8 May: the trip has it on 10 May now. "
        "Change the booking."
    ) in says
    assert "Net Loft was asked for 8 May, but isn't needed. Cancel it." in says, "made for nobody knows what"
    shifted = replace(booked, trip=replace(inputs.trip, start=date(2027, 5, 12)))
    assert (
        "Birch House was asked for 8 May, but isn't needed then: the trip has it on 12 May and 13 May now. "
        "Cancel it."
    ) in [str(each.says) for each in found(shifted)]


@pytest.mark.parametrize(
    ("travellers", "says"),
    [
        (("t1", "t2"), None),
        (("t2", "t7"), "Birch House was asked on 8 May for a guest who no longer travels. Change it."),
        (("t8", "t9"), "Birch House was asked on 8 May for 2 guests who no longer travel. Cancel it."),
    ],
)
def test_what_was_asked_for_guests_who_left_the_party_is_told(
    travellers: tuple[str, ...], says: str | None
) -> None:
    told = found(trip_with(rooms(travellers=travellers), table()))
    assert [str(each.says) for each in told] == ([] if says is None else [says])
    settled = rooms(travellers=travellers, state=BookingState.CANCELLED)
    assert not any("guest" in str(each.says) for each in found(trip_with(settled, rooms(id="b3"), table())))


@pytest.mark.parametrize(("on", "number"), [(7, None), (8, 1), (10, 3), (11, None)])
def test_what_is_not_needed_is_told_on_its_day_of_the_trip(on: int, number: int | None) -> None:
    day_of = date(2027, 5, on)
    other = rooms(id="b3", supplier="cedar-inn", from_day=day_of, to_day=date(2027, 5, on + 1))
    (told,) = found(trip_with(rooms(), table(), other))
    assert told.day == number
