"""Transfers: who drives, whether they run then, and with how many seats."""

from dataclasses import replace
from datetime import date, time
from typing import Any

import pytest

from lacet.assess import Assessment, assess
from lacet.inputs import Inputs
from lacet.settle import settle
from lacet.trip.finding import Finding, Level
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import LibraryItem, Ref, Transfer
from lacet.trip.trip import Trip
from lacet.trip.words import Carrier
from tests.small_library import day, small_catalogue, small_trip
from tests.small_library import ride as ride_item

AS_OF = date(2026, 11, 25)
RULES = HouseRules()
BUS = Transfer(id="bus", name="Bus", carrier=Carrier.BUS, from_place="alder", to_place="birch", minutes=20,
               seats=2, runs="Mo-Sa 08:00-18:00")  # fmt: skip
VAN = Transfer(id="van", name="Van", carrier=Carrier.VAN, seats=8, bags=16, runs="Mo-Su 07:00-20:00")


def riding(service: str = "bus", **more: Any) -> Trip:
    """Saturday 8 May 2027, from Alder to Birch at half past nine."""
    guests = more.pop("guests", 2)
    start = more.pop("start", date(2027, 5, 8))
    month = more.pop("month", None)
    item = ride_item("i1", "alder", "birch", **{"transfer": Ref(service), **more})
    return small_trip(day("d1", item, briefing=True), guests=guests, start=start, month=month, arrivals=())


def assessed(trip: Trip, *library: LibraryItem) -> Assessment:
    return assess(Inputs(trip, "v1", small_catalogue(BUS, *library), RULES, as_of=AS_OF))


def found(trip: Trip, *library: LibraryItem) -> list[Finding]:
    return [each for each in assessed(trip, *library).findings if each.check == "transfers_run"]


@pytest.mark.parametrize(("guests", "count"), [(2, 0), (3, 1)])
def test_seats_are_enough_to_the_last_one(guests: int, count: int) -> None:
    told = found(riding(guests=guests))
    assert [(each.level, each.figure, each.limit) for each in told] == [(Level.STOP, 3.0, 2.0)] * count


def test_a_taxi_firm_sends_a_second_car() -> None:
    assert found(riding("taxi", guests=5, minutes=20)) == []


@pytest.mark.parametrize(
    ("runs", "stops"),
    [
        ("Sa 08:00-18:00", False),
        ("Su-Fr 08:00-18:00", True),
        ("Mo-Su 10:15-18:00", False),
        ("Mo-Su 10:30-18:00", True),
        ("Mo-Su 06:00-09:30", True),
    ],
)
def test_a_service_runs_that_day_within_an_hour(runs: str, stops: bool) -> None:
    """They are there at 9:30; who comes less than an hour early waits."""
    told = found(riding(), replace(BUS, runs=runs))
    assert [each.level for each in told] == [Level.STOP] * stops


def test_a_service_says_when_it_runs() -> None:
    (told,) = found(riding(start=date(2027, 5, 9)))
    assert str(told.says) == (
        "Bus doesn't run then: runs daily 08:00 to 18:00, closed on Sundays. Choose another hour or carrier."
    )


@pytest.mark.parametrize(
    ("runs", "month", "levels"),
    [
        ("Mo-Su 08:00-18:00", None, []),
        ("Mo-Sa 08:00-18:00", None, [Level.NOTE]),
        ("May-Sep: Mo-Su 08:00-18:00", None, [Level.NOTE]),
        ("May-Sep: Mo-Su 08:00-18:00", 5, []),
        ("May-Sep: Mo-Su 08:00-18:00", 4, [Level.STOP]),
    ],
)
def test_without_a_date_a_service_is_known_to_run_only_where_it_always_does(
    runs: str, month: int | None, levels: list[Level]
) -> None:
    told = found(riding(start=None, month=month), replace(BUS, runs=runs))
    assert [each.level for each in told] == levels
    assert all(each.unknown is (each.level is Level.NOTE) for each in told)


@pytest.mark.parametrize(("runs", "carrier", "unknown"), [
    ("", Carrier.BUS, True), ("", Carrier.VAN, False), ("when the tide is in", Carrier.VAN, True),
])  # fmt: skip
def test_hours_nobody_has_said_are_asked_of_whoever_has_a_timetable(
    runs: str, carrier: Carrier, unknown: bool
) -> None:
    told = found(riding(), replace(BUS, runs=runs, carrier=carrier))
    assert [each.unknown for each in told] == [True] * unknown


def test_how_long_a_ride_takes_may_be_unknown() -> None:
    (told,) = found(riding("taxi"))
    assert (told.level, told.unknown) == (Level.NOTE, True)


@pytest.mark.parametrize(
    "trip",
    [
        riding(transfer=None, minutes=20),
        riding(guests=3, minutes=20),
        riding(start=date(2027, 5, 9), minutes=20),
    ],
    ids=["nobody drives", "too few seats", "not on Sundays"],
)
def test_another_carrier_settles_it(trip: Trip) -> None:
    before = assessed(trip, VAN)
    (told,) = [each for each in before.findings if each.check == "transfers_run"]
    inputs = Inputs(trip, "v1", small_catalogue(BUS, VAN), RULES, as_of=AS_OF)
    proved = settle(inputs, before)[before.findings.index(told)]
    assert {str(each.says) for each in proved} == {"With Van", "With Island taxi"}
    assert found(proved[0].edit(trip), VAN) == []


def test_a_carrier_that_stands_still_then_is_not_offered() -> None:
    idle = replace(VAN, runs="Mo-Fr 07:00-20:00")
    (told,) = found(riding(departs=time(10, 0), transfer=None, minutes=20), idle)
    assert [str(each.says) for each in told.fixes] == ["With Island taxi"]


def test_a_carrier_with_just_the_seats_is_offered() -> None:
    (told,) = found(riding(guests=3), replace(VAN, seats=3), replace(VAN, id="cart", name="Cart", seats=2))
    says = [str(fix.says) for fix in told.fixes]
    assert "With Van" in says
    assert "With Cart" not in says
