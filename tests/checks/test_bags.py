"""Bags and bikes that are moved: whose, when, how many, how heavy, by whom and to where."""

from dataclasses import replace
from datetime import date, time
from typing import Any

import pytest

from lacet.assess import Assessment, assess
from lacet.inputs import Inputs
from lacet.settle import settle
from lacet.trip.finding import COMMON_PRACTICE, Finding, Level
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import LibraryItem, Lodging, Ref, Transfer
from lacet.trip.trip import Crossing, Item, Move, Night, Rest, Trip
from lacet.trip.words import Carrier, Load, Means
from tests.small_library import day, items, night, ride, small_catalogue, small_trip, walk

AS_OF = date(2026, 11, 25)
RULES = HouseRules()


def known(kind: type[Any], item_id: str) -> Any:
    return next(item for item in items() if isinstance(item, kind) and item.id == item_id)


BIRCH: Lodging = known(Lodging, "birch-house")
QUAY: Lodging = known(Lodging, "quay-house")
OAK = replace(BIRCH, id="oak-house", name="Oak House")
TAXI: Transfer = known(Transfer, "taxi")
VAN = Transfer(id="van", name="Van", carrier=Carrier.VAN, seats=8, bags=16, bikes=8)


def bags(**more: Any) -> Move:
    usual: dict[str, Any] = {"load": Load.BAGS, "count": 2, "means": Ref("van"), "delivered_by": time(15, 0)}
    return Move(**usual | more)


def back_down(*moves: Move, item: Item | None = None, **more: Any) -> Trip:
    """A night at Birch House, then down to Quay House before it lets guests in at 15:00."""
    return small_trip(
        day("d1", walk("i1"), lodging="birch-house", briefing=True),
        day("d2", item or walk("i2", backward=True), lodging="quay-house", moves=moves),
        day("d3", Rest(id="i3")),
        **more,
    )


def assessed(trip: Trip, *library: LibraryItem) -> Assessment:
    return assess(Inputs(trip, "v1", small_catalogue(VAN, *library), RULES, as_of=AS_OF))


def found(check: str, trip: Trip, *library: LibraryItem) -> list[Finding]:
    return [each for each in assessed(trip, *library).findings if each.check == check]


def settled(check: str, trip: Trip, *library: LibraryItem) -> list[str]:
    """What the proved fixes of a check's first finding are called; the best one leaves nothing to tell."""
    before = assessed(trip, *library)
    told = next(each for each in before.findings if each.check == check)
    inputs = Inputs(trip, "v1", small_catalogue(VAN, *library), RULES, as_of=AS_OF)
    proved = settle(inputs, before)[before.findings.index(told)]
    left = found(check, proved[0].edit(trip), *library)
    assert told.key not in [each.key for each in left]
    return [str(each.says) for each in proved]


def test_bags_left_behind_are_moved_by_whoever_has_the_room() -> None:
    (told,) = found("bags_moved", back_down())
    assert (told.level, told.travellers) == (Level.STOP, ("t1", "t2"))
    assert str(told.says).startswith("Nobody moves the bags that day, and guests go on from Birch House.")
    assert settled("bags_moved", back_down()) == ["Bags with Van", "Bags with Island taxi"]


def test_whoever_is_driven_takes_their_bags_along() -> None:
    assert found("bags_moved", back_down(item=ride("i2", "birch", "alder", minutes=20))) == []


def test_bags_stay_where_guests_stay() -> None:
    trip = small_trip(
        day("d1", walk("i1"), lodging="birch-house"),
        day("d2", walk("i2", backward=True), walk("i3"), lodging="birch-house"),
        day("d3", Rest(id="i4")),
    )
    assert found("bags_moved", trip) == []


def test_who_walks_away_on_the_last_day_needs_the_bags_too() -> None:
    def leaving(*moves: Move) -> Trip:
        return small_trip(
            day("d1", walk("i1"), lodging="birch-house"), day("d2", walk("i2", backward=True), moves=moves)
        )

    (told,) = found("bags_moved", leaving())
    assert told.day == 2
    assert found("bags_moved", leaving(bags())) == []


def test_a_move_to_one_house_leaves_the_bags_of_those_in_the_other() -> None:
    apart = (
        Night(lodging=Ref("birch-house"), travellers=("t1",)),
        Night(lodging=Ref("oak-house"), travellers=("t2",)),
    )

    def parting(*moves: Move) -> Trip:
        second = replace(day("d2", walk("i2"), moves=moves), nights=apart)
        return small_trip(day("d1", Rest(id="i1"), lodging="quay-house"), second, day("d3", Rest(id="i3")))

    (told,) = found("bags_moved", parting(bags(to_id="birch-house")), OAK)
    assert told.travellers == ("t2",)
    assert "the bags of Guest 2" in str(told.says)
    assert found("bags_moved", parting(bags(to_id="birch-house"), bags(to_id="oak-house")), OAK) == []
    assert found("bags_moved", parting(bags()), OAK) == []


@pytest.mark.parametrize(("by", "count"), [(time(15, 30), 0), (time(15, 31), 1)])
def test_bags_may_come_half_an_hour_after_the_house_lets_guests_in(by: time, count: int) -> None:
    told = found("bags_moved", back_down(bags(delivered_by=by)))
    assert [each.level for each in told] == [Level.WARN] * count


def test_late_bags_are_asked_for_earlier() -> None:
    assert settled("bags_moved", back_down(bags(delivered_by=time(17, 0)))) == ["Bags there by 15:30"]


def test_no_earlier_hour_is_offered_than_the_bags_are_ready() -> None:
    (told,) = found("bags_moved", back_down(bags(delivered_by=time(17, 0), ready_by=time(15, 45))))
    assert told.fixes == ()


@pytest.mark.parametrize(
    ("means", "by", "level"),
    [
        (Means.FERRY, time(16, 0), None),
        (Means.FERRY, time(16, 1), Level.STOP),
        (Means.FLIGHT, time(15, 0), None),
        (Means.FLIGHT, time(15, 1), Level.STOP),
    ],
)
def test_bags_catch_the_boat_and_the_flight(means: Means, by: time, level: Level | None) -> None:
    """At 16:30 a boat leaves half an hour, a flight an hour and a half after the bags must be there."""
    leave = (Crossing(hub="alder", means=means, at=time(16, 30)),)
    trip = small_trip(
        day("d1", walk("i1"), lodging="birch-house"),
        day("d2", walk("i2", backward=True), moves=(bags(delivered_by=by),)),
        departures=leave,
    )
    told = found("bags_moved", trip)
    assert [each.level for each in told] == ([level] if level else [])
    if level:
        assert settled("bags_moved", trip) == [f"Bags there by {by.hour}:00"]


@pytest.mark.parametrize(
    ("access", "level", "unknown"),
    [(True, None, False), (False, Level.STOP, False), (None, Level.WARN, True)],
)
@pytest.mark.parametrize("house", [BIRCH, QUAY], ids=["fetched", "brought"])
def test_a_van_reaches_the_house_it_fetches_from_and_the_one_it_brings_to(
    house: Lodging, access: bool | None, level: Level | None, unknown: bool
) -> None:
    told = found("bags_moved", back_down(bags()), replace(house, vehicle_access=access))
    assert [(each.level, each.unknown) for each in told] == ([(level, unknown)] if level else [])


def test_every_house_is_looked_at_not_only_the_first_guests() -> None:
    apart = (*night("birch-house", travellers=("t1",)), *night("oak-house", travellers=("t2",)))
    trip = small_trip(
        day("d1", Rest(id="i1"), lodging="quay-house"),
        replace(day("d2", walk("i2"), moves=(bags(),)), nights=apart),
        day("d3", Rest(id="i3")),
    )
    (told,) = found("bags_moved", trip, replace(OAK, vehicle_access=False))
    assert str(told.says) == "No vehicle reaches Oak House. Agree with the house how the bags get there."


@pytest.mark.parametrize(
    ("count", "kg", "units"),
    [
        (2, 40.0, []),
        (2, 40.1, ["kg"]),
        (3, 40.0, ["bags"]),
        (4, 60.0, ["bags", "kg"]),
        (1, 20.0, []),
        (1, 20.1, ["kg"]),
        (None, 40.0, []),
        (None, 40.1, ["kg"]),
    ],
)
def test_a_bag_a_head_and_twenty_kilograms(count: int | None, kg: float, units: list[str]) -> None:
    """One bag of 20 kg a head for two guests: common practice, no source."""
    told = found("moves_carried", back_down(bags(count=count, kg=kg)))
    assert sorted(each.unit for each in told) == units
    assert all(each.level is Level.WARN and each.source == COMMON_PRACTICE for each in told)


@pytest.mark.parametrize("load", list(Load))
@pytest.mark.parametrize(
    ("count", "room", "level", "unknown"),
    [
        (2, 2, None, False),
        (2, 1, Level.STOP, False),
        (2, None, Level.NOTE, True),
        (None, 1, Level.STOP, False),
    ],
)
def test_a_carrier_has_room_for_what_it_moves(
    load: Load, count: int | None, room: int | None, level: Level | None, unknown: bool
) -> None:
    small = replace(TAXI, bags=room, bikes=room)
    told = found("moves_carried", back_down(bags(load=load, means=Ref("taxi"), count=count)), small)
    assert [(each.level, each.unknown) for each in told] == ([(level, unknown)] if level else [])


def test_a_larger_van_or_one_that_runs_settles_it() -> None:
    assert settled("moves_carried", back_down(bags(means=Ref("taxi"))), replace(TAXI, bags=1)) == [
        "Bags with Van"
    ]
    weekdays = replace(TAXI, runs="Mo-Fr 08:00-18:00")
    trip = back_down(bags(means=Ref("taxi")))
    (told,) = found("moves_carried", trip, weekdays)
    assert str(told.says).startswith("Island taxi doesn't run then: runs Monday to Friday 08:00 to 18:00")
    assert settled("moves_carried", trip, weekdays) == ["Bags with Van"]


def test_a_move_needs_somebody_who_does_it() -> None:
    trip = back_down(bags(means=None))
    (told,) = found("moves_carried", trip)
    assert str(told.says) == "The bags are to be moved, but nobody is named who does. Choose a carrier."
    assert settled("moves_carried", trip) == ["Bags with Van", "Bags with Island taxi"]


def test_a_bus_on_its_line_is_not_offered_for_bags() -> None:
    bus = Transfer(id="bus", name="Bus", carrier=Carrier.BUS, from_place="alder", to_place="birch", bags=20)
    (told,) = found("bags_moved", back_down(), bus)
    assert "Bags with Bus" not in [str(each.says) for each in told.fixes]
