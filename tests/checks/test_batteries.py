"""Batteries: the reserve, what isn't known of them, where they are charged, and what helps."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from lacet.assess import Assessment, assess
from lacet.inputs import Inputs
from lacet.settle import settle
from lacet.trip.finding import Finding, Level
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import Assist, Bike, LibraryItem, Lodging, Ref, Stage, StagePoint, Transfer
from lacet.trip.trip import Day, Hire, Rest, Ride, Trip
from lacet.trip.words import Carrier, PointKind
from tests.small_library import cycle, day, items, small_catalogue, small_trip, walk

AS_OF = date(2026, 11, 25)
RULES = HouseRules()


def known(kind: type[Any], item_id: str) -> Any:
    return next(item for item in items() if isinstance(item, kind) and item.id == item_id)


E_BIKE: Bike = known(Bike, "e-medium")
BIRCH: Lodging = known(Lodging, "birch-house")
LANE: Stage = known(Stage, "lane")
SMALL = replace(E_BIKE, battery_wh=150.0)
"""Full it does for the hill (about 77 Wh) or for the lane (about 105 Wh), not for both."""


def assessed(trip: Trip, library: tuple[LibraryItem, ...] = (), rules: HouseRules = RULES) -> Assessment:
    return assess(Inputs(trip, "v1", small_catalogue(*library), rules, as_of=AS_OF))


def found(
    check: str, trip: Trip, library: tuple[LibraryItem, ...] = (), rules: HouseRules = RULES
) -> list[Finding]:
    return [each for each in assessed(trip, library, rules).findings if each.check == check]


def proved(trip: Trip, library: tuple[LibraryItem, ...], rules: HouseRules, told: Finding) -> dict[str, Trip]:
    """What each proved fix says, and the trip it makes."""
    before = assessed(trip, library, rules)
    inputs = Inputs(trip, "v1", small_catalogue(*library), rules, as_of=AS_OF)
    kept = settle(inputs, before)[before.findings.index(told)]
    return {str(each.says): each.edit(trip) for each in kept}


def riders(*days: Day, guests: int = 2, assist: str | None = "low") -> Trip:
    """The ride up the hill, or these days, on e-bikes."""
    hires = tuple(Hire(traveller=f"t{number}", bike=Ref("e-medium")) for number in range(1, guests + 1))
    chosen = days or (day("d1", cycle("i1", "climb", assist=assist), lodging="birch-house", briefing=True),)
    return small_trip(*chosen, hires=hires, guests=guests, arrivals=())


def left_share(trip: Trip, library: tuple[LibraryItem, ...] = ()) -> float:
    share = assessed(trip, library).figures.days[0].groups[0].battery_left_share
    assert share is not None
    return share


def test_a_battery_exactly_at_its_reserve_is_let_be_and_a_hair_under_it_told() -> None:
    left = left_share(riders())
    at, over = (replace(RULES, battery_reserve_share=left + more) for more in (0.0, 1e-9))
    assert found("battery", riders(), (), at) == []
    assert [told.level for told in found("battery", riders(), (), over)] == [Level.WARN, Level.WARN]


def test_exactly_at_the_least_share_it_is_a_warning_and_a_hair_under_it_a_stop() -> None:
    left = left_share(riders())
    at, over = (
        replace(RULES, battery_reserve_share=0.99, battery_stop_share=left + more) for more in (0.0, 1e-9)
    )
    assert {told.level for told in found("battery", riders(), (), at)} == {Level.WARN}
    assert {told.level for told in found("battery", riders(), (), over)} == {Level.STOP}


def test_on_foot_or_without_a_battery_nothing_is_said() -> None:
    none = replace(RULES, battery_reserve_share=1.0, battery_stop_share=1.0)
    assert found("battery", small_trip(day("d1", walk("i1"))), (), none) == []
    own = (Hire(traveller="t1"), Hire(traveller="t2"))
    assert found("battery", small_trip(day("d1", cycle("i1", "climb")), hires=own), (), none) == []


@pytest.mark.parametrize(
    ("library", "assist", "says"),
    [
        ((replace(E_BIKE, battery_wh=None),), None, "how large the battery"),
        ((E_BIKE,), "turbo", "no assist 'turbo'"),
        ((replace(E_BIKE, assists=()),), "low", "no assist 'low'"),
    ],
)
def test_what_isnt_known_of_a_bike_leaves_the_battery_unproved(
    library: tuple[LibraryItem, ...], assist: str | None, says: str
) -> None:
    (told,) = found("battery", riders(guests=1, assist=assist), library)
    assert told.unknown
    assert says in str(told.says)


def test_a_lower_assist_a_larger_battery_and_a_taxi_are_proved_to_help() -> None:
    taxi = replace(LANE, points=(StagePoint(9_000.0, PointKind.TAXI_PICKUP, "Half-way barn"),))
    large = replace(E_BIKE, id="e-large", name="E-bike, large battery", battery_wh=900.0)
    tall = replace(large, id="e-tall", rider_height_from_cm=185, rider_height_to_cm=200)
    small = replace(E_BIKE, assists=(Assist("low", 0.6), Assist("middle", 1.2), Assist("high", 2.0)))
    library = (taxi, small, large, tall)
    trip = riders(
        day("d1", walk("i1"), lodging="birch-house", briefing=True), day("d2", cycle("i2", assist="high"))
    )
    trip = replace(trip, departures=())
    left = assessed(trip, library).figures.days[1].groups[0].battery_left_share or 0.0
    rules = replace(RULES, battery_reserve_share=left + 0.05, battery_stop_share=left + 0.01)
    told, other = found("battery", trip, library, rules)
    assert told.level is Level.STOP
    assert told.subject != other.subject
    says = [
        "Assist middle",
        "Assist low",
        "E-bike, large battery for Guest 1",
        "Larger batteries for 2 riders",
        "Taxi from Half-way barn, after 9.0 km",
    ]
    assert [str(fix.says) for fix in told.fixes] == says
    kept = proved(trip, library, rules, told)
    assert {"Assist low", "E-bike, large battery for Guest 1", "Larger batteries for 2 riders"} <= set(kept)
    both = kept["Larger batteries for 2 riders"]
    assert found("battery", both, library, rules) == []
    assert {hire.bike for hire in both.variants[0].hires} == {Ref("e-large")}
    alone = kept["E-bike, large battery for Guest 1"]
    assert [each.travellers for each in found("battery", alone, library, rules)] == [("t1", "t2")]


def test_a_guest_of_known_height_gets_a_bike_that_fits() -> None:
    large = replace(E_BIKE, id="e-large", battery_wh=900.0)
    tall = replace(E_BIKE, id="e-tall", battery_wh=800.0, rider_height_from_cm=185, rider_height_to_cm=200)
    rules = replace(RULES, battery_reserve_share=1.0)
    trip = riders(guests=1)
    for height_cm, bike in ((190.0, "e-tall"), (170.0, "e-large"), (None, "e-large")):
        guests = tuple(replace(guest, height_cm=height_cm) for guest in trip.party.travellers)
        given = replace(trip, party=replace(trip.party, travellers=guests))
        (told,) = found("battery", given, (large, tall), rules)
        assert told.fixes[0].edit(given).variants[0].hires[0].bike == Ref(bike)


def ride_then(*between: Day, lodging: str | None = "birch-house") -> Trip:
    """Up the hill, perhaps a rest, then the long lane; the house is named for the library below."""
    return riders(
        day("d1", cycle("i1", "climb"), lodging=lodging, briefing=True),
        *between,
        day("d9", cycle("i9")),
        guests=1,
    )


def house(charging: bool | None) -> tuple[LibraryItem, ...]:
    return (SMALL, replace(BIRCH, charging=charging))


REST = day("d2", Rest(id="i2"), lodging="birch-house")


@pytest.mark.parametrize("trip", [lambda: ride_then(), lambda: ride_then(REST)])
def test_a_house_that_does_not_charge_is_told_where_the_next_ride_needs_more_than_is_left(
    trip: Callable[[], Trip],
) -> None:
    (told,) = found("charging", trip(), house(False))
    assert (told.level, told.day, told.unknown) == (Level.WARN, 1, False)
    assert told.figure is not None
    assert told.limit is not None
    assert told.figure > told.limit
    assert found("charging", trip(), house(True)) == []


def test_a_house_that_has_not_said_leaves_it_unknown() -> None:
    (told,) = found("charging", ride_then(), house(None))
    assert told.unknown
    assert "has not said" in str(told.says)
    (told,) = found("charging", ride_then(lodging=None), house(True))
    assert told.unknown


def test_no_charging_is_needed_where_enough_is_left_or_nobody_rides_on() -> None:
    full = (replace(E_BIKE, battery_wh=2_000.0), replace(BIRCH, charging=False))
    assert found("charging", ride_then(), full) == []
    assert found("charging", riders(), house(False)) == []


def test_another_house_in_the_same_place_that_charges_is_proved() -> None:
    other = replace(BIRCH, id="birch-barn", name="Birch Barn", charging=True)
    library = (*house(False), other)
    trip = ride_then()
    (told,) = found("charging", trip, library)
    kept = proved(trip, library, RULES, told)
    assert "Birch Barn, which charges" in kept
    assert found("charging", kept["Birch Barn, which charges"], library) == []


def test_a_shortage_that_comes_of_an_unsaid_charge_is_unknown_and_no_stop() -> None:
    """Full, the battery would do for the lane; half empty it doesn't. Only a house that said no is a stop."""
    library = house(None)
    (unsaid,) = [each for each in found("battery", ride_then(), library) if each.day == 2]
    assert (unsaid.level, unsaid.unknown) == (Level.WARN, True)
    assert "unless Birch House charges it" in str(unsaid.says)
    (sure,) = [each for each in found("battery", ride_then(), house(False)) if each.day == 2]
    assert (sure.level, sure.unknown) == (Level.STOP, False)
    assert [each for each in found("battery", ride_then(), house(True)) if each.day == 2] == []


def test_a_shortage_that_even_a_charge_would_not_help_is_certain() -> None:
    """The lane takes about 105 Wh: of a battery hardly larger no reserve is left, charged or not."""
    library = (replace(E_BIKE, battery_wh=112.0), replace(BIRCH, charging=None))
    (told,) = [each for each in found("battery", ride_then(), library) if each.day == 2]
    assert (told.level, told.unknown) == (Level.STOP, False)
    assert "unless" not in str(told.says)


def test_the_smallest_battery_that_will_do_is_offered_and_none_of_the_same_size() -> None:
    largest = replace(E_BIKE, id="e-a", name="E-bike, largest", battery_wh=900.0)
    larger = replace(E_BIKE, id="e-b", name="E-bike, larger", battery_wh=400.0)
    same = replace(SMALL, id="e-c", name="E-bike, twin")
    (told,) = [
        each
        for each in found("battery", ride_then(), (*house(False), largest, larger, same))
        if each.day == 2
    ]
    assert "E-bike, larger for Guest 1" in [str(fix.says) for fix in told.fixes]
    (told,) = [each for each in found("battery", ride_then(), (*house(False), same)) if each.day == 2]
    assert not any("E-bike, twin" in str(fix.says) for fix in told.fixes)


def test_only_other_houses_of_the_same_place_that_charge_are_offered() -> None:
    without = replace(BIRCH, id="birch-loft", name="Birch Loft", charging=False)
    unsaid = replace(BIRCH, id="birch-mill", name="Birch Mill", charging=None)
    far = replace(BIRCH, id="cedar-barn", name="Cedar Barn", place="cedar", charging=True)
    near = replace(BIRCH, id="birch-barn", name="Birch Barn", charging=True)
    (told,) = found("charging", ride_then(), (*house(False), without, unsaid, far, near))
    assert [str(fix.says) for fix in told.fixes if "which charges" in str(fix.says)] == [
        "Birch Barn, which charges"
    ]


def test_the_taxi_for_those_whose_batteries_run_short_takes_their_bikes() -> None:
    barn = replace(LANE, points=(StagePoint(9_000.0, PointKind.TAXI_PICKUP, "Half-way barn"),))
    without = replace(known(Transfer, "taxi"), bikes=0)
    with_rack = replace(without, id="van", name="Van with a rack", carrier=Carrier.VAN, bikes=2)
    library = (barn, without, with_rack)
    trip = riders(day("d1", walk("i1"), lodging="birch-house"), day("d2", cycle("i2", assist="high")))
    left = assessed(trip, library).figures.days[1].groups[0].battery_left_share or 0.0
    rules = replace(RULES, battery_reserve_share=left + 0.05, battery_stop_share=left + 0.01)
    (told, *_) = found("battery", trip, library, rules)
    taxi = next(fix for fix in told.fixes if str(fix.says).startswith("Taxi from"))
    rides = [each for each in taxi.edit(trip).variants[0].days[1].items if isinstance(each, Ride)]
    assert [each.transfer for each in rides] == [Ref("van")]


def test_one_rider_alone_is_offered_one_battery() -> None:
    large = replace(E_BIKE, id="e-large", name="E-bike, large battery", battery_wh=900.0)
    (told,) = found("battery", riders(guests=1), (large,), replace(RULES, battery_reserve_share=1.0))
    assert [str(fix.says) for fix in told.fixes if "atter" in str(fix.says)] == [
        "E-bike, large battery for Guest 1"
    ]
