"""Bikes: of the right kind and size, strong enough, free, and where their riders are."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from lacet.assess import Assessment, assess
from lacet.inputs import Inputs
from lacet.settle import settle
from lacet.trip.commitments import NO_COMMITMENTS, Commitments
from lacet.trip.finding import Finding, Level
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import Bike, Depot, LibraryItem, Ref, Transfer
from lacet.trip.trip import Day, Hire, Move, Rest, Trip
from lacet.trip.words import BikeKind, Carrier, Load, Service
from tests.small_library import cycle, day, items, ride, small_catalogue, small_trip, walk

AS_OF = date(2026, 11, 25)
RULES = HouseRules()
MEDIUM: Bike = next(item for item in items() if isinstance(item, Bike))
STRONG = replace(MEDIUM, id="e-strong", name="E-bike, strong", maximum_total_kg=180.0)
TOURER = replace(MEDIUM, id="tourer", name="Tourer", kind=BikeKind.TOURING)
VAN = Transfer(id="van", name="Van", carrier=Carrier.VAN, seats=8, bags=16, bikes=8)


def assessed(trip: Trip, *library: LibraryItem, taken: Commitments = NO_COMMITMENTS) -> Assessment:
    return assess(Inputs(trip, "v1", small_catalogue(VAN, *library), RULES, taken, as_of=AS_OF))


def found(
    check: str, trip: Trip, *library: LibraryItem, taken: Commitments = NO_COMMITMENTS
) -> list[Finding]:
    return [each for each in assessed(trip, *library, taken=taken).findings if each.check == check]


def settled(check: str, trip: Trip, *library: LibraryItem) -> list[str]:
    before = assessed(trip, *library)
    told = next(each for each in before.findings if each.check == check and not each.unknown)
    inputs = Inputs(trip, "v1", small_catalogue(VAN, *library), RULES, as_of=AS_OF)
    proved = settle(inputs, before)[before.findings.index(told)]
    assert told.key not in [each.key for each in found(check, proved[0].edit(trip), *library)]
    return [str(each.says) for each in proved]


def measured(trip: Trip, **more: Any) -> Trip:
    """Everybody 170 cm tall and 70 kg heavy, unless said otherwise."""
    body: dict[str, Any] = {"height_cm": 170.0, "mass_kg": 70.0}
    guests = tuple(replace(guest, **body | more) for guest in trip.party.travellers)
    return replace(trip, party=replace(trip.party, travellers=guests))


def riding(bike: str = "e-medium", **body: Any) -> Trip:
    hire = Hire(traveller="t1", bike=Ref(bike))
    trip = small_trip(day("d1", cycle("i1", "climb"), briefing=True), hires=(hire,), guests=1)
    return measured(trip, **body)


@pytest.mark.parametrize(
    ("height_cm", "stops"), [(159.9, True), (160.0, False), (180.0, False), (180.1, True)]
)
def test_a_bike_fits_from_its_smallest_rider_to_its_tallest(height_cm: float, stops: bool) -> None:
    told = found("bike_fits", riding(height_cm=height_cm))
    assert [each.level for each in told] == [Level.STOP] * stops


@pytest.mark.parametrize(("mass_kg", "stops"), [(107.0, False), (107.1, True)])
def test_bike_rider_and_luggage_stay_within_the_makers_maximum(mass_kg: float, stops: bool) -> None:
    """25 kg of bike, 8 kg of luggage (`luggage_on_bike_kg`): 107 kg are left of the maker's 140."""
    told = found("bike_fits", riding(mass_kg=mass_kg))
    assert [(each.level, each.may_overrule, each.source) for each in told] == [
        (Level.STOP, False, "the maker's maximum total mass")
    ] * stops


def test_a_stronger_bike_settles_an_overloaded_one() -> None:
    assert settled("bike_fits", riding(mass_kg=120.0), STRONG) == ["E-bike, strong instead"]


@pytest.mark.parametrize(
    ("body", "bike", "says"),
    [
        ({"height_cm": None}, MEDIUM, "How tall Guest 1 is isn't known"),
        ({"mass_kg": None}, MEDIUM, "carries riders up to 107 kg"),
        (
            {},
            replace(MEDIUM, maximum_total_kg=None),
            "The maximum load of E-bike, medium isn't in the library",
        ),
        ({}, replace(MEDIUM, rider_height_from_cm=None, rider_height_to_cm=None), "For which heights"),
    ],
)
def test_what_is_not_known_of_rider_or_bike_is_asked(body: dict[str, Any], bike: Bike, says: str) -> None:
    (told,) = found("bike_fits", riding(**body), bike)
    assert (told.level, told.unknown) == (Level.NOTE, True)
    assert says in str(told.says)


def test_an_assumed_weight_too_heavy_for_the_bike_is_still_a_stop() -> None:
    (told,) = found("bike_fits", riding(mass_kg=None), replace(MEDIUM, maximum_total_kg=100.0))
    assert (told.level, told.may_overrule) == (Level.STOP, False)


@pytest.mark.parametrize(("age", "stops"), [(None, True), (16, True), (15, False), (9, False)])
def test_a_childs_bike_is_for_a_child(age: int | None, stops: bool) -> None:
    told = found("bike_fits", riding(age=age), replace(MEDIUM, kind=BikeKind.CHILD))
    assert [each.level for each in told] == [Level.STOP] * stops


def test_a_grown_up_is_offered_a_grown_ups_bike() -> None:
    child = replace(MEDIUM, id="child", kind=BikeKind.CHILD)
    assert settled("bike_fits", riding("child", age=40), child, TOURER) == ["Tourer instead"]


def test_no_height_is_asked_of_who_sits_in_a_trailer() -> None:
    assert found("bike_fits", riding(height_cm=None, age=3), replace(MEDIUM, kind=BikeKind.TRAILER)) == []


def both(*spans: tuple[int, int | None]) -> Trip:
    hires = tuple(
        Hire(
            traveller=f"t{number}",
            bike=Ref("e-medium"),
            from_day=f"d{first}",
            to_day=f"d{last}" if last else None,
        )
        for number, (first, last) in enumerate(spans, start=1)
    )
    return measured(small_trip(day("d1", Rest(id="i1")), day("d2", Rest(id="i2")), hires=hires))


@pytest.mark.parametrize(
    ("spans", "taken", "count"),
    [
        (((1, 1), (2, 2)), {}, 0),
        (((1, 1), (1, 2)), {}, 2),
        (((1, 2),), {date(2027, 5, 9): 1}, 1),
        (((1, 1),), {date(2027, 5, 9): 1}, 0),
    ],
)
def test_bikes_are_counted_day_by_day_with_those_of_other_trips(
    spans: tuple[tuple[int, int | None], ...], taken: dict[date, int], count: int
) -> None:
    one = replace(MEDIUM, depots=(Depot("alder", 1),))
    held = Commitments(taken={(Service.BIKE, "e-medium", "", on): number for on, number in taken.items()})
    told = found("bike_fits", both(*spans), one, taken=held)
    assert [each.unit for each in told] == ["bikes"] * count


def test_a_rider_without_a_bike_is_offered_those_that_fit() -> None:
    trip = measured(small_trip(day("d1", cycle("i1", "climb"), briefing=True), guests=1))
    short = replace(MEDIUM, id="e-small", rider_height_from_cm=145.0, rider_height_to_cm=160.0)
    assert settled("bike_fits", trip, short) == ["E-bike, medium for Guest 1"]


def stands(*places: str) -> Bike:
    return replace(MEDIUM, depots=tuple(Depot(place, 4) for place in places))


def hired(*days: Day, bike: bool = True) -> Trip:
    hires = tuple(Hire(traveller=who, bike=Ref("e-medium") if bike else None) for who in ("t1", "t2"))
    return measured(small_trip(*days, hires=hires))


def move(**more: Any) -> Move:
    return Move(load=Load.BIKES, means=Ref("van"), count=2, **more)


def up() -> Day:
    return day("d1", cycle("i1", "climb"), lodging="birch-house", briefing=True)


def down_on_foot(*moves: Move) -> Day:
    return day("d2", walk("i2", "climb", backward=True), lodging="quay-house", moves=moves)


def up_again(*moves: Move) -> Day:
    return day("d3", cycle("i3", "climb"), moves=moves)


@pytest.mark.parametrize("bike", [True, False], ids=["hired", "own"])
def test_a_bike_stays_behind_on_foot(bike: bool) -> None:
    (told,) = found("bikes_there", hired(up(), down_on_foot(), up_again(), bike=bike))
    assert (told.day, told.level, told.travellers) == (3, Level.STOP, ("t1", "t2"))
    assert str(told.says) == "Everybody rides from Alder, but the bikes stand at Birch. Move them by van."


@pytest.mark.parametrize("on_day", [2, 3])
def test_bikes_moved_by_somebody_are_where_they_are_needed(on_day: int) -> None:
    down, again = down_on_foot(*[move()][: on_day == 2]), up_again(*[move()][: on_day == 3])
    assert found("bikes_there", hired(up(), down, again)) == []


def test_a_move_by_van_settles_it() -> None:
    assert settled("bikes_there", hired(up(), down_on_foot(), up_again())) == ["Bikes with Van"]


@pytest.mark.parametrize(
    ("depots", "count"), [(("alder",), 0), (("birch", "alder"), 0), (("birch",), 1), ((), 0)]
)
def test_a_hire_begins_at_a_depot(depots: tuple[str, ...], count: int) -> None:
    assert len(found("bikes_there", hired(up()), stands(*depots))) == count


def down_by(service: Transfer | None) -> Callable[[], Trip]:
    lift = ride("i2", "birch", "alder", minutes=20, transfer=Ref(service.id) if service else None)
    return lambda: hired(up(), day("d2", lift, lodging="quay-house"), up_again())


@pytest.mark.parametrize(
    ("bikes", "count"),
    [(2, 0), (1, 1), (0, 1), (None, 0)],
    ids=["room", "room for one", "no room", "unknown"],
)
def test_bikes_go_along_on_a_transfer_with_room_for_all(bikes: int | None, count: int) -> None:
    service = replace(VAN, id="boat", bikes=bikes)
    assert len(found("bikes_there", down_by(service)(), service)) == count


def test_a_side_trip_by_taxi_does_not_lose_the_bikes() -> None:
    """Down on foot to Alder, back up by a taxi that could have taken bikes: they still stand at Birch."""
    lift = ride("i5", "alder", "birch", minutes=20, transfer=Ref("van"))
    side = day("d2", walk("i2", "climb", backward=True), lift, lodging="birch-house")
    assert found("bikes_there", hired(up(), side, day("d3", cycle("i3", "lane")))) == []


def test_only_the_riders_who_miss_their_bikes_are_named() -> None:
    first = day("d1", cycle("i1", "climb", travellers=("t1",)), walk("i9", travellers=("t2",)), briefing=True)
    second = day("d2", cycle("i2", "lane"))
    (told,) = found("bikes_there", hired(first, second), stands("alder"))
    assert str(told.says) == "Guest 2 rides from Birch, but the bike stands at Alder. Move it by van."


def test_a_bike_a_leg_names_must_fit_and_carry_like_a_hired_one() -> None:
    named = replace(cycle("i1", "climb"), bike=Ref("e-medium"))
    trip = small_trip(day("d1", named, briefing=True), guests=1)
    low = MEDIUM.rider_height_from_cm or 0.0
    assert MEDIUM.maximum_total_kg is not None
    too_small = found("bike_fits", measured(trip, height_cm=low - 1.0))
    assert [each.level for each in too_small if each.code.startswith("height")] == [Level.STOP]
    assert not any(each.fixes for each in too_small)
    too_heavy = found("bike_fits", measured(trip, mass_kg=MEDIUM.maximum_total_kg))
    assert [each.level for each in too_heavy if each.code.startswith("load")] == [Level.STOP]


def test_a_bike_both_hired_and_named_is_told_once() -> None:
    hire = Hire(traveller="t1", bike=Ref("e-medium"))
    named = replace(cycle("i1", "climb"), bike=Ref("e-medium"))
    trip = small_trip(day("d1", named, briefing=True), hires=(hire,), guests=1)
    low = MEDIUM.rider_height_from_cm or 0.0
    told = found("bike_fits", measured(trip, height_cm=low - 1.0))
    assert len([each for each in told if each.code.startswith("height")]) == 1


def test_a_bike_no_depot_counts_is_not_proved_to_be_free() -> None:
    nowhere = replace(MEDIUM, id="nowhere", name="E-bike, nowhere", depots=())
    told = [
        each
        for each in found("bike_fits", riding("nowhere"), nowhere)
        if each.code in ("free", "count_unknown")
    ]
    assert [(each.level, each.unknown) for each in told] == [(Level.NOTE, True)]
