"""The checks of nights, meals, bags and bikes: what triggers each, and a neighbour that doesn't."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date, time
from typing import Any

import pytest

from lacet.assess import assess
from lacet.inputs import Inputs
from lacet.settle import settle
from lacet.trip.commitments import NO_COMMITMENTS, Commitments
from lacet.trip.finding import Finding, Level
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import Bike, Depot, DietAnswer, LibraryItem, Lodging, Ref, Restaurant, Transfer
from lacet.trip.party import ALLERGENS, Need
from lacet.trip.trip import About, Hire, Meal, Move, Night, Rest, Trip
from lacet.trip.words import Answer, Load, MealKind, NeedLevel, Payer, Service
from tests.small_library import cycle, day, items, ride, small_catalogue, small_trip, walk

AS_OF = date(2026, 11, 25)
RULES = HouseRules()


def known(kind: type[Any], item_id: str) -> Any:
    return next(item for item in items() if isinstance(item, kind) and item.id == item_id)


BIRCH: Lodging = known(Lodging, "birch-house")
NET_LOFT: Restaurant = known(Restaurant, "net-loft")
TAXI: Transfer = known(Transfer, "taxi")
E_BIKE: Bike = known(Bike, "e-medium")
SMALL = replace(
    E_BIKE, id="e-small", name="E-bike, small", rider_height_from_cm=145.0, rider_height_to_cm=160.0
)
GLUTEN = "cereals containing gluten"


def found(
    check: str, trip: Trip, library: tuple[LibraryItem, ...] = (), taken: Commitments = NO_COMMITMENTS
) -> list[Finding]:
    told = assess(Inputs(trip, "v1", small_catalogue(*library), RULES, taken, as_of=AS_OF))
    return [each for each in told.findings if each.check == check]


def two_days(lodging: str | None = "birch-house", **more: Any) -> Trip:
    """Up on Saturday 8 May, a rest on the Sunday."""
    return small_trip(day("d1", walk("i1"), lodging=lodging, briefing=True, **more), day("d2", Rest(id="i2")))


def dinner(**more: Any) -> tuple[Meal, ...]:
    return (Meal(kind=MealKind.DINNER, **more),)


def with_needs(trip: Trip, level: NeedLevel) -> Trip:
    first, *others = trip.party.travellers
    hungry = replace(first, needs=(Need(kind=GLUTEN, level=level),))
    return replace(trip, party=replace(trip.party, travellers=(hungry, *others)))


def eating(level: NeedLevel) -> Callable[[], Trip]:
    return lambda: with_needs(two_days(meals=dinner(restaurant=Ref("net-loft"))), level)


def kitchen(**more: Any) -> tuple[Restaurant]:
    return (replace(NET_LOFT, **more),)


def house(**more: Any) -> tuple[Lodging]:
    return (replace(BIRCH, **more),)


def answers(answer: Answer) -> tuple[LibraryItem, ...]:
    said = (DietAnswer(GLUTEN, answer),)
    return (replace(NET_LOFT, diets=said), replace(BIRCH, diets=said))


def moving_on(*moves: Move) -> Trip:
    """A night at Birch House, then by bike to Cedar Inn."""
    return small_trip(
        day("d1", walk("i1"), lodging="birch-house", briefing=True),
        day("d2", cycle("i2"), lodging="cedar-inn", moves=moves),
        day("d3", Rest(id="i3")),
        hires=(Hire(traveller="t1"), Hire(traveller="t2")),
    )


def bags(**more: Any) -> Move:
    usual: dict[str, Any] = {"load": Load.BAGS, "count": 2, "means": Ref("taxi"), "delivered_by": time(15, 0)}
    return Move(**usual | more)


def hired(height_cm: float = 170.0, mass_kg: float = 70.0) -> Trip:
    trip = small_trip(
        day("d1", cycle("i1", "climb"), briefing=True),
        hires=(Hire(traveller="t1", bike=Ref("e-medium")),),
        guests=1,
    )
    guest = replace(trip.party.travellers[0], height_cm=height_cm, mass_kg=mass_kg)
    return replace(trip, party=replace(trip.party, travellers=(guest,)))


@dataclass(frozen=True)
class Case:
    """What triggers a check at which level, and its neighbour just on the right side."""

    check: str
    level: Level
    bad: Callable[[], Trip]
    good: Callable[[], Trip]
    bad_library: tuple[LibraryItem, ...] = ()
    good_library: tuple[LibraryItem, ...] = ()


def singles(count: int) -> Trip:
    names = ("birch-house", "quay-house")
    nights = [
        day(f"d{number}", walk(f"i{number}"), lodging=names[number % 2]) for number in range(1, count + 1)
    ]
    return small_trip(*nights, day("d99", Rest(id="i99")))


CASES = (
    Case("lodging_found", Level.STOP, lambda: two_days(None), two_days),
    Case("lodging_open", Level.STOP, two_days, two_days,
         house(closed=("05-01..05-08",)), house(closed=("05-01..05-07",))),
    Case("rooms_suit", Level.STOP, two_days, two_days,
         house(rooms=(replace(BIRCH.rooms[0], sleeps=1),)),
         house(rooms=(replace(BIRCH.rooms[0], sleeps=2),))),
    Case("reception_open", Level.STOP,
         lambda: two_days(departs=time(17, 40)), lambda: two_days(departs=time(17, 30))),
    Case("single_nights", Level.NOTE, lambda: singles(4), lambda: singles(3)),
    Case("dinner_found", Level.STOP, lambda: two_days(meals=dinner(restaurant=Ref("net-loft"))),
         lambda: two_days(meals=dinner(restaurant=Ref("net-loft"))),
         kitchen(opening="Su-Fr 18:00-22:00"), kitchen(opening="Sa 18:00-22:00")),
    Case("dinner_found", Level.WARN,
         lambda: two_days(meals=dinner(restaurant=Ref("net-loft"), payer=Payer.OWN)),
         lambda: two_days(meals=dinner(restaurant=Ref("net-loft"), payer=Payer.OWN)),
         kitchen(closed=("05-08..05-08",)), kitchen(closed=("05-09..05-09",))),
    Case("dinner_found", Level.STOP, lambda: two_days(meals=dinner(restaurant=Ref("net-loft"))),
         lambda: two_days(meals=dinner(restaurant=Ref("net-loft"))), kitchen(seats=1), kitchen(seats=2)),
    Case("dinner_found", Level.STOP, lambda: two_days(meals=dinner(at_lodging=True)),
         lambda: two_days(meals=dinner(at_lodging=True)),
         house(serves_dinner=False), house(serves_dinner=True)),
    Case("dinner_found", Level.WARN, lambda: two_days(meals=dinner(payer=Payer.OWN)),
         lambda: two_days(meals=dinner(payer=Payer.OWN)),
         (*kitchen(closed=("05-01..05-31",)), *house(serves_dinner=False))),
    Case("dinner_found", Level.STOP, two_days, lambda: two_days(meals=dinner(payer=Payer.OWN)),
         kitchen(closed=("05-01..05-31",))),
    Case("needs_served", Level.STOP, eating(NeedLevel.MUST), eating(NeedLevel.MUST),
         answers(Answer.NO), answers(Answer.YES)),
    Case("needs_served", Level.STOP, eating(NeedLevel.MUST), eating(NeedLevel.MUST), (), answers(Answer.YES)),
    Case("needs_served", Level.WARN, eating(NeedLevel.PREFERS), eating(NeedLevel.PREFERS),
         answers(Answer.NO), answers(Answer.YES)),
    Case("bags_moved", Level.STOP, moving_on, lambda: moving_on(bags())),
    Case("moves_carried", Level.WARN, lambda: moving_on(bags(count=3)), lambda: moving_on(bags(count=2))),
    # A bag limit of 20 kg: common practice, no source.
    Case("moves_carried", Level.WARN, lambda: moving_on(bags(kg=40.2)), lambda: moving_on(bags(kg=40.0))),
    Case("bags_moved", Level.WARN, lambda: moving_on(bags(delivered_by=time(15, 31))),
         lambda: moving_on(bags(delivered_by=time(15, 30)))),
    Case("moves_carried", Level.STOP, lambda: moving_on(bags()), lambda: moving_on(bags()),
         (replace(TAXI, bags=1),), (replace(TAXI, bags=2),)),
    Case("bags_moved", Level.STOP, lambda: moving_on(bags()), lambda: moving_on(bags()),
         house(vehicle_access=False), house(vehicle_access=True)),
    Case("bike_fits", Level.STOP, lambda: hired(height_cm=159.0), lambda: hired(height_cm=160.0)),
    Case("bike_fits", Level.STOP, lambda: hired(mass_kg=107.5), lambda: hired(mass_kg=107.0)),
    Case("bike_fits", Level.STOP, lambda: small_trip(day("d1", cycle("i1", "climb"), briefing=True)), hired),
    Case("near_by", Level.WARN, two_days, two_days,
         house(latitude_deg=BIRCH.latitude_deg + 0.0091), house(latitude_deg=BIRCH.latitude_deg + 0.0089)),
    Case("transfers_run", Level.WARN, lambda: small_trip(day("d1", ride("i1", "alder", "birch"))),
         lambda: small_trip(day("d1", ride("i1", "alder", "birch", transfer=Ref("taxi"), minutes=20)))),
    Case("transfers_run", Level.STOP,
         lambda: small_trip(day("d1", ride("i1", "alder", "birch", transfer=Ref("taxi"), minutes=20))),
         lambda: small_trip(day("d1", ride("i1", "alder", "birch", transfer=Ref("taxi"), minutes=20))),
         (replace(TAXI, runs="Mo-Fr 08:00-18:00"),), (replace(TAXI, runs="Sa 08:00-18:00"),)),
)  # fmt: skip


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case.check} {case.level.value}")
def test_what_triggers_a_check_and_what_does_not(case: Case) -> None:
    told = found(case.check, case.bad(), case.bad_library)
    assert [each for each in told if each.level is case.level], told
    assert all(str(each.says).rstrip().endswith(".") and each.source for each in told)
    left = found(case.check, case.good(), case.good_library)
    assert not [each for each in left if each.level is case.level], left


def test_rooms_held_by_other_trips_are_not_free() -> None:
    def taken(count: int) -> Commitments:
        key = (Service.LODGING, "birch-house", "double", date(2027, 5, 8))
        return Commitments(taken={key: count})

    assert found("rooms_suit", two_days(), taken=taken(3)) == []
    (told,) = found("rooms_suit", two_days(), taken=taken(4))
    assert "4 of them held by other trips" in str(told.says)


def test_what_nobody_has_said_is_unknown() -> None:
    assert all(each.unknown for each in found("needs_served", eating(NeedLevel.MUST)()))
    trip = two_days(meals=dinner(restaurant=Ref("net-loft")))
    (told,) = found("dinner_found", trip, kitchen(opening=""))
    assert told.unknown
    (told,) = found("rooms_suit", two_days(), house(rooms=()))
    assert told.unknown


def test_an_overloaded_bike_cannot_be_overruled() -> None:
    (told,) = found("bike_fits", hired(mass_kg=130.0))
    assert not told.may_overrule


@pytest.mark.parametrize(
    ("low", "high", "says"), [(171.0, None, "from 171 cm;"), (None, 169.0, "up to 169 cm;")]
)
def test_a_bike_with_one_limit_of_height_is_told_in_a_sentence(
    low: float | None, high: float | None, says: str
) -> None:
    bike = replace(known(Bike, "e-medium"), rider_height_from_cm=low, rider_height_to_cm=high)
    (told,) = found("bike_fits", hired(height_cm=170.0), (bike,))
    assert says in str(told.says)


def test_a_bike_may_be_hired_one_after_the_other() -> None:
    """One bike serves two riders on different days, and not on the same."""
    bike = replace(known(Bike, "e-medium"), depots=(Depot("birch", 1),))
    for second, free in ((Hire(traveller="t2", bike=Ref("e-medium"), from_day="d2"), True),
                         (Hire(traveller="t2", bike=Ref("e-medium")), False)):  # fmt: skip
        first = Hire(traveller="t1", bike=Ref("e-medium"), to_day="d1")
        trip = small_trip(day("d1", walk("i1")), day("d2", Rest(id="i2")), hires=(first, second))
        told = [each for each in found("bike_fits", trip, (bike,)) if each.unit == "bikes"]
        assert (not told) is free


def test_allergens_are_the_fourteen_of_the_regulation() -> None:
    """Regulation (EU) No 1169/2011, Annex II lists 14."""
    assert len(ALLERGENS) == 14
    (told,) = [
        each
        for each in found("needs_served", eating(NeedLevel.MUST)())
        if About("meal", "dinner") in each.subject
    ]
    assert told.source == "Regulation (EU) No 1169/2011, Annex II"


@pytest.mark.parametrize(
    ("check", "trip", "library", "says"),
    [
        ("dinner_found", lambda: two_days(meals=dinner(at_lodging=True)), house(serves_dinner=False),
         "Net Loft, open"),
        ("lodging_found", lambda: two_days(None), (), "Birch House"),
        ("bags_moved", moving_on, (), "Bags with Island taxi"),
        ("reception_open", lambda: two_days(departs=time(17, 40)), house(late_key=True),
         "Note the late key that the house offers"),
        ("transfers_run", lambda: small_trip(day("d1", ride("i1", "alder", "birch", minutes=9))), (),
         "With Island taxi"),
        ("bike_fits", lambda: hired(height_cm=150.0),
         (SMALL,),
         "E-bike, small instead"),
    ],
)  # fmt: skip
def test_fixes_are_proved_to_settle_their_finding(
    check: str, trip: Callable[[], Trip], library: tuple[LibraryItem, ...], says: str
) -> None:
    given, catalogue = trip(), small_catalogue(*library)
    before = assess(Inputs(given, "v1", catalogue, RULES, as_of=AS_OF))
    index = next(index for index, each in enumerate(before.findings) if each.check == check)
    proved = settle(Inputs(given, "v1", catalogue, RULES, as_of=AS_OF), before)[index]
    assert says in [str(each.says) for each in proved]


def test_a_late_key_that_is_noted_lets_them_come_late() -> None:
    trip = small_trip(
        replace(
            day("d1", walk("i1"), departs=time(18, 0), briefing=True),
            nights=(Night(lodging=Ref("birch-house"), late_key=True),),
        ),
        day("d2", Rest(id="i2")),
    )
    assert found("reception_open", trip) == []


@pytest.mark.parametrize(
    ("riders", "owned", "says"),
    [
        (1, 0, "1 of E-bike, medium is needed, 0 free."),
        (2, 1, "2 of E-bike, medium are needed, 1 free."),
    ],
)
def test_bikes_that_are_short_are_counted_in_a_sentence(riders: int, owned: int, says: str) -> None:
    bike = replace(known(Bike, "e-medium"), depots=(Depot("alder", owned),))
    hires = tuple(Hire(traveller=f"t{number}", bike=Ref("e-medium")) for number in range(1, riders + 1))
    trip = small_trip(day("d1", cycle("i1", "climb"), briefing=True), hires=hires, guests=riders)
    told = [each for each in found("bike_fits", trip, (bike,)) if each.unit == "bikes"]
    assert told
    assert all(str(each.says).startswith(says) for each in told)


def test_a_bike_that_just_carries_the_rider_is_offered_in_place_of_an_overloaded_one() -> None:
    weak = replace(known(Bike, "e-medium"), maximum_total_kg=90.0)
    (told,) = found("bike_fits", hired(mass_kg=80.0), (weak,))
    assert told.figure is not None
    just = replace(weak, id="e-strong", name="E-bike, strong", maximum_total_kg=told.figure)
    short = replace(just, id="e-short", name="E-bike, short of it", maximum_total_kg=told.figure - 0.1)
    (told,) = found("bike_fits", hired(mass_kg=80.0), (weak, just, short))
    assert [str(fix.says) for fix in told.fixes] == ["E-bike, strong instead"]


def test_a_rider_of_unknown_weight_may_be_as_heavy_as_the_house_reckons_and_no_heavier() -> None:
    """At the very limit it is a question, above it a stop."""
    trip = hired()
    unknown = replace(trip.party.travellers[0], mass_kg=None)
    trip = replace(trip, party=replace(trip.party, travellers=(unknown,)))
    weak = replace(known(Bike, "e-medium"), maximum_total_kg=10.0)
    (stop,) = found("bike_fits", trip, (weak,))
    assert (stop.level, stop.unknown) == (Level.STOP, False)
    assert stop.figure is not None
    (asked,) = found("bike_fits", trip, (replace(weak, maximum_total_kg=stop.figure),))
    assert (asked.level, asked.unknown) == (Level.NOTE, True)
