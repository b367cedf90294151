"""What nobody has said: unknown, never good and never a stop; and what decides without it."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, time
from typing import Any

import pytest

from lacet.assess import Assessment, assess
from lacet.inputs import Inputs
from lacet.trip.finding import Finding, Level
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import Closure, LibraryItem, Lodging, Place, Stage, StageWay
from lacet.trip.party import Wishes
from lacet.trip.trip import Crossing, Trip
from lacet.trip.words import Board, ClosureLevel, Exposure, Footing, Means, Signal, Way
from tests.small_library import (
    cycle,
    day,
    items,
    night,
    place,
    ride,
    small_catalogue,
    small_trip,
    walk,
)

AS_OF = date(2026, 11, 25)
RULES = HouseRules()


def known(kind: type[Any], item_id: str) -> Any:
    return next(item for item in items() if isinstance(item, kind) and item.id == item_id)


CLIMB: Stage = known(Stage, "climb")
BIRCH: Lodging = known(Lodging, "birch-house")
BIRCH_PLACE: Place = known(Place, "birch")
ON_FOOT = StageWay(way=Way.WALKING, footing=Footing.EVEN, exposure=Exposure.NONE)


def assessed(trip: Trip, library: tuple[LibraryItem, ...] = (), rules: HouseRules = RULES) -> Assessment:
    return assess(Inputs(trip, "v1", small_catalogue(*library), rules, as_of=AS_OF))


def found(
    check: str, trip: Trip, library: tuple[LibraryItem, ...] = (), rules: HouseRules = RULES
) -> list[Finding]:
    return [each for each in assessed(trip, library, rules).findings if each.check == check]


def one_walk(**more: Any) -> Trip:
    return small_trip(day("d1", walk("i1"), briefing=True), **more)


def someday(month: int | None = None) -> Trip:
    return one_walk(start=None, month=month)


def novices_by_bike() -> Trip:
    trip = small_trip(day("d1", cycle("i1", "climb")))
    return replace(trip, party=replace(trip.party, wishes=Wishes(novices=True)))


def climb(**more: Any) -> tuple[Stage, ...]:
    return (replace(CLIMB, **more),)


def closed(season: str, level: ClosureLevel = ClosureLevel.AUTHORITY) -> tuple[Stage, ...]:
    return climb(closures=(Closure(season, level),))


def slept(board: Board = Board.BREAKFAST) -> Trip:
    first = replace(day("d1", walk("i1"), briefing=True), nights=night("birch-house", board=board))
    return small_trip(
        first,
        day("d2", walk("i2", backward=True)),
    )


def crossing(at: time | None, **more: Any) -> Trip:
    there = Crossing(hub="alder", means=Means.FERRY, at=at)
    last = day("d2", ride("i2", "birch", "alder", minutes=30))
    first = day("d1", walk("i1"), lodging="birch-house", briefing=True)
    return small_trip(first, last, **{"arrivals": (there,), "departures": (there,), **more})


THIRSTY = replace(RULES, dry_s=3.5 * 3600, hungry_s=12 * 3600.0)
HUNGRY = replace(RULES, hungry_s=3.5 * 3600, dry_s=12 * 3600.0)
HALF_WAY = small_trip(day("d1", walk("i1"), walk("i2", backward=True), briefing=True))


@pytest.mark.parametrize(
    ("check", "trip", "library", "rules"),
    [
        ("done_by_sunset", someday, (), RULES),
        ("stage_closed", someday, closed("05-01..05-20"), RULES),
        ("stage_closed", lambda: someday(5), closed("05-01..05-20"), RULES),
        ("stage_closed", one_walk, closed("in spring"), RULES),
        ("snow_possible", someday, climb(snow_season="11-01..05-20"), RULES),
        ("snow_possible", lambda: someday(5), climb(snow_season="11-01..05-20"), RULES),
        ("snow_possible", one_walk, climb(snow_season="in winter"), RULES),
        ("alone", lambda: one_walk(guests=1), climb(signal=Signal.UNKNOWN), RULES),
        (
            "alone",
            lambda: one_walk(guests=1),
            climb(signal=Signal.GOOD, ways=(StageWay(way=Way.WALKING),)),
            RULES,
        ),
        ("busy_road", novices_by_bike, (), RULES),
        ("way_described", one_walk, climb(ways=()), RULES),
        ("after_breakfast", slept, (replace(BIRCH, breakfast=""),), RULES),
        ("after_breakfast", slept, (replace(BIRCH, breakfast="early"),), RULES),
        ("late_arrival", lambda: crossing(None), (), RULES),
        ("arrival_and_departure", lambda: crossing(None), (), RULES),
        ("water_and_food", lambda: HALF_WAY, (), THIRSTY),
        ("water_and_food", lambda: HALF_WAY, (), HUNGRY),
        ("heights_known", lambda: small_trip(day("d1", walk("i1", "nowhere"))), (), RULES),
    ],
)
def test_what_nobody_has_said_is_told_as_unknown(
    check: str, trip: Callable[[], Trip], library: tuple[LibraryItem, ...], rules: HouseRules
) -> None:
    told = found(check, trip(), library, rules)
    assert told
    for each in told:
        assert each.unknown
        assert each.level is not Level.STOP
        assert each.figure is None or each.limit is not None
    assert assessed(trip(), library, rules).works is not True


@pytest.mark.parametrize(
    ("check", "trip", "library", "rules"),
    [
        ("done_by_sunset", lambda: someday(5), (), RULES),
        ("stage_closed", lambda: someday(6), closed("05-01..05-20"), RULES),
        ("snow_possible", lambda: someday(6), climb(snow_season="11-01..05-20"), RULES),
        ("alone", lambda: one_walk(guests=1), climb(signal=Signal.PATCHY, ways=(ON_FOOT,)), RULES),
        ("way_described", one_walk, climb(ways=(ON_FOOT,)), RULES),
        ("after_breakfast", lambda: slept(Board.ROOM_ONLY), (replace(BIRCH, breakfast=""),), RULES),
        ("late_arrival", lambda: crossing(time(9, 0)), (), RULES),
        ("late_arrival", lambda: crossing(None, standard=True), (), RULES),
        ("arrival_and_departure", lambda: crossing(None, standard=True), (), RULES),
        (
            "water_and_food",
            lambda: HALF_WAY,
            (replace(BIRCH_PLACE, has_water=True),),
            THIRSTY,
        ),
    ],
)
def test_what_has_been_said_or_decides_without_it_is_not(
    check: str, trip: Callable[[], Trip], library: tuple[LibraryItem, ...], rules: HouseRules
) -> None:
    assert found(check, trip(), library, rules) == []


def test_a_month_that_lies_within_a_closure_is_closed_for_certain() -> None:
    (told,) = found("stage_closed", someday(5), closed("04-01..06-10"))
    assert (told.level, told.unknown, told.may_overrule) == (Level.STOP, False, False)


def test_a_closure_of_one_year_leaves_an_enquiry_for_the_month_unknown() -> None:
    """'For May' may be 2026, 2027 or later; a closure of May 2027 decides nothing."""
    (told,) = found("stage_closed", someday(5), closed("2027-05-01..2027-06-10"))
    assert told.unknown


def test_a_place_known_to_have_no_water_is_a_warning_and_one_not_asked_about_is_not() -> None:
    dry = place("birch", 9_000.0, has_water=False)
    (told,) = found("water_and_food", HALF_WAY, (dry,), THIRSTY)
    assert (told.level, told.unknown) == (Level.WARN, False)


def test_snow_names_the_day_until_which_and_no_height_nobody_knows() -> None:
    (told,) = found("snow_possible", one_walk(), climb(snow_season="11-01..05-20"))
    assert str(told.says).startswith("Snow possible to 20 May on Over the hill, which goes up to 320 m.")


def test_closures_say_their_season_as_people_do() -> None:
    (told,) = found("stage_closed", someday(), closed("12-01..03-15"))
    assert "closed from 1 December to 15 March; without a date nobody can tell" in str(told.says)


def test_the_sun_that_does_not_rise_is_a_stop_and_the_one_that_does_not_set_is_none() -> None:
    """Above the polar circle, at 78 N: night in December, day in June."""
    far = tuple(
        replace(known(Place, place_id), latitude_deg=78.0) for place_id in ("alder", "birch", "cedar")
    )
    winter, summer = (one_walk(start=date(2027, month, 21)) for month in (12, 6))
    (told,) = found("done_by_sunset", winter, far)
    assert told.level is Level.STOP
    assert found("done_by_sunset", summer, far) == []
