"""Everything to doubt about a price, told as findings: each with its figures, its level and what to do."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from lacet.assess import assess
from lacet.checks.price_known import ID
from lacet.inputs import Inputs
from lacet.trip.commitments import NO_COMMITMENTS, Commitments
from lacet.trip.finding import Finding, Level
from lacet.trip.library import LibraryItem, Ref
from lacet.trip.trip import Day, Trip, Variant
from lacet.trip.words import Board, Service, Unit
from tests.price.small_library import (
    AS_OF,
    DINNER_OUT,
    MONDAY,
    RULES,
    WEIR,
    catalogue_with,
    rate,
    tariff,
    trip_of,
)

NIGHT = Variant(id="a", name="A", days=(Day(id="d1", nights=(WEIR,)), Day(id="d2")))


def weir(*rates_: object, **what: object) -> LibraryItem:
    return tariff(Service.LODGING, "weir", *rates_, **what)  # type: ignore[arg-type] # rates, as the helper takes


def found(
    *items: LibraryItem,
    trip: Trip | None = None,
    commitments: Commitments = NO_COMMITMENTS,
    as_of: date = AS_OF,
) -> list[Finding]:
    asked = trip_of(NIGHT) if trip is None else trip
    told = assess(Inputs(asked, "a", catalogue_with(*items), RULES, commitments, as_of=as_of)).findings
    return [each for each in told if each.check == ID]


def test_a_night_with_a_valid_tariff_is_not_spoken_of() -> None:
    assert found() == []


# What the library holds instead of the usual tariff of the house, and what is said of it.
GAP = weir(rate(Unit.ROOM_NIGHT, "90", season="06-01..09-30"))
ENDED = weir(rate(Unit.ROOM_NIGHT, "90"), valid_to=MONDAY - timedelta(days=1))
LONG_ONLY = weir(rate(Unit.ROOM_NIGHT, "90", minimum_nights=3))
ONE_ROOM = weir(rate(Unit.ROOM_NIGHT, "90"), allotment=1)
LET_GO = weir(rate(Unit.ROOM_NIGHT, "90"), release_days=200)
CHILDREN_ONLY = weir(rate(Unit.PERSON_NIGHT, "90", age_to=11))


@pytest.mark.parametrize(
    ("item", "level", "says", "advice"),
    [
        (GAP, Level.WARN, "no rate on 2027-05-10", "the quote then says 'from'"),
        (ENDED, Level.WARN, "its tariff ended on 2027-05-09", "Enter the tariff."),
        (LONG_ONLY, Level.WARN, "1 night, the rate is meant for 3 or more", "Stay longer"),
        (ONE_ROOM, Level.WARN, "2 rooms wanted, 1 allotted", "Ask the house for more rooms"),
        (LET_GO, Level.WARN, "held until 22 October 2026 only", "ask whether it is still to be had"),
        (CHILDREN_ONLY, Level.NOTE, "no rate for this case", "the quote then says 'from'"),
    ],
    ids=["season gap", "expired tariff", "minimum nights", "allotment", "release day", "no rate"],
)
def test_each_doubt_is_a_finding_of_its_night(
    item: LibraryItem, level: Level, says: str, advice: str
) -> None:
    told = found(item)
    assert told
    assert {each.day for each in told} == {1}
    assert {each.level for each in told} == {level}
    assert all(says in str(each.says) and advice in str(each.says) for each in told)


def test_rooms_of_other_trips_count_against_the_allotment() -> None:
    taken = Commitments(taken={(Service.LODGING, "weir", "double", MONDAY): 1})
    (told,) = found(commitments=taken)
    assert (told.figure, told.limit, told.unit) == (3.0, 2.0, "rooms")


def test_dinner_paid_twice_and_prices_of_an_open_month_are_told() -> None:
    board = replace(WEIR, board=Board.HALF_BOARD)
    twice = replace(NIGHT, days=(Day(id="d1", nights=(board,), meals=(DINNER_OUT,)), Day(id="d2")))
    assert all("Take one of them out." in str(each.says) for each in found(trip=trip_of(twice)))
    seasons = weir(rate(Unit.ROOM_NIGHT, "90"), rate(Unit.ROOM_NIGHT, "110", season="07-01..08-31"))
    undated = found(seasons, trip=trip_of(NIGHT, start=None))
    assert {each.level for each in undated} == {Level.NOTE}
    assert all("lowest price of the time in question" in str(each.says) for each in undated)


def test_a_house_the_library_does_not_hold_is_unknown_and_never_silent() -> None:
    night = replace(WEIR, lodging=Ref("nobody"))
    stranger = replace(NIGHT, days=(Day(id="d1", nights=(night,)), Day(id="d2")))
    (told,) = found(trip=trip_of(stranger))
    assert "the library doesn't hold this house" in str(told.says)
    assert told.figure is None


def test_an_overrule_binds_to_a_subject_that_stays_the_same() -> None:
    gap = weir(rate(Unit.ROOM_NIGHT, "90", season="06-01..09-30"))
    first, again = found(gap), found(gap, as_of=AS_OF + timedelta(days=1))
    assert [each.key for each in first] == [each.key for each in again]
    assert len({each.key for each in first}) == len(first)
