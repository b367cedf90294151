"""What is good to know along a way is told in the direction and on the date it is travelled."""

import re
from dataclasses import replace
from typing import Any

from lacet.assess import assess
from lacet.documents.language import language
from lacet.documents.material.along import good_to_know
from lacet.documents.material.gather import telling_of
from lacet.documents.material.telling import Telling
from lacet.inputs import Inputs
from lacet.tracks.geodesy import length_m
from lacet.trip.catalogue import Catalogue
from lacet.trip.library import Closure, Stage, StagePoint, StageWay, TrafficStretch
from lacet.trip.trip import Day, Trip
from lacet.trip.words import ClosureLevel, PointKind, Signal, Traffic, Way
from lacet.wording import ENGLISH
from tests.documents.material.island import MADE_AT, RULES, TODAY, proposal
from tests.small_library import small_catalogue, small_trip, walk


def stage(**changes: Any) -> Stage:
    found = small_catalogue().latest(Stage, "climb")
    assert found is not None
    return replace(found, **changes)


def told(catalogue: Catalogue, trip: Trip) -> list[str]:
    inputs = Inputs(trip, trip.variants[0].id, catalogue, RULES, as_of=TODAY)
    found = assess(inputs)
    telling: Telling = telling_of(inputs, found, language(), revision=1, made_at=MADE_AT)
    day = found.figures.days[0]
    return list(good_to_know(telling, day, day.groups[0]))


def trip_of(**leg: Any) -> Trip:
    return small_trip(Day(id="d1", items=(walk("i1", **leg),)))


def test_distances_run_in_the_direction_of_the_leg() -> None:
    spring = StagePoint(2_000.0, PointKind.WATER, "Spring")
    catalogue = small_catalogue(stage(points=(spring,)))
    whole_m = length_m(catalogue.tracks["climb"])
    assert told(catalogue, trip_of()) == ["Water at Spring (2.0 km)."]
    back = f"Water at Spring ({ENGLISH.length(whole_m - 2_000.0)})."
    assert told(catalogue, trip_of(backward=True)) == [back]


def test_what_a_cut_leaves_out_is_not_told() -> None:
    points = (StagePoint(2_000.0, PointKind.WATER, "Spring"), StagePoint(6_000.0, PointKind.FOOD, "Hut"))
    catalogue = small_catalogue(stage(points=points))
    assert told(catalogue, trip_of(cut_from_m=4_000.0)) == ["Food at Hut (2.0 km)."]


def test_hazards_come_first_and_bring_their_note() -> None:
    ford = StagePoint(1_000.0, PointKind.HAZARD, "The ford", "Not after heavy rain.")
    spring = StagePoint(500.0, PointKind.WATER, "Spring")
    catalogue = small_catalogue(stage(points=(spring, ford)))
    assert told(catalogue, trip_of())[0] == "Take care at 1.0 km: The ford. Not after heavy rain."


def test_a_closure_is_told_on_its_days_and_without_a_date() -> None:
    shut = Closure("07-01..08-31", ClosureLevel.ADVICE, "Salt is raked in high summer.")
    catalogue = small_catalogue(stage(closures=(shut,)))
    assert told(catalogue, trip_of()) == []
    assert told(catalogue, replace(trip_of(), start=TODAY.replace(year=2027, month=7))) == [shut.says]
    assert told(catalogue, replace(trip_of(), start=None)) == [shut.says]


def test_busy_road_is_added_up_within_the_cut() -> None:
    busy = (TrafficStretch(0.0, 3_000.0, Traffic.BUSY),)
    ways = tuple(StageWay(way=way, traffic=busy) for way in Way)
    catalogue = small_catalogue(stage(ways=ways))
    assert told(catalogue, trip_of()) == ["3.0 km on a busy road."]
    assert told(catalogue, trip_of(cut_from_m=1_000.0)) == ["2.0 km on a busy road."]
    assert told(catalogue, trip_of(cut_from_m=3_000.0)) == []


def test_where_there_is_no_signal_is_told() -> None:
    assert told(small_catalogue(stage(signal=Signal.NONE)), trip_of()) == [
        "No mobile signal on parts of the route."
    ]


def test_a_lift_is_told_at_the_price_of_the_office_never_at_the_carriers() -> None:
    rescues = [day.rescue for day in proposal().days if day.rescue]
    assert len(rescues) == 7, "each day with a stage, and no other"
    prices = {price for rescue in rescues for price in re.findall(r"about €([\d.]+)", rescue)}
    assert prices == {"43.00"}, "the carrier asks 34.00, and a quarter is added and raised to whole euros"
