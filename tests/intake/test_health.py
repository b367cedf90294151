"""A library's doubts are told with what to do; a sound one has none."""

import re
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import numpy as np
import pytest

from lacet.demo import demo_items, demo_tracks
from lacet.intake.health import health
from lacet.tracks.track import track
from lacet.trip.catalogue import Catalogue, catalogue_of
from lacet.trip.library import (
    Bike,
    Depot,
    LibraryItem,
    Lodging,
    Place,
    Rate,
    Restaurant,
    Room,
    Stage,
    StageWay,
    SurfaceStretch,
    Tariff,
    Transfer,
)
from lacet.trip.money import Money
from lacet.trip.words import BikeKind, Carrier, Exposure, Footing, Means, Service, Surface, Unit, Way
from tests.intake.files import BASE, METRES_PER_DEGREE, Tracks, line

AS_OF = date(2026, 11, 25)
RATE = Rate(unit=Unit.PERSON, amount=Money(Decimal(10), "EUR"))
UP_THERE: dict[str, Any] = {"latitude_deg": BASE[0] + 6_000 / METRES_PER_DEGREE, "longitude_deg": BASE[1]}
AT: dict[str, Any] = {"latitude_deg": BASE[0], "longitude_deg": BASE[1]}


def tariff(service: Service, subject: str, valid_to: date = date(2028, 3, 31)) -> Tariff:
    return Tariff(
        id=f"rates-{subject}",
        name=subject,
        service=service,
        subject_id=subject,
        valid_from=date(2026, 1, 1),
        valid_to=valid_to,
        rates=(RATE,),
    )


def sound_items() -> tuple[LibraryItem, ...]:
    facts: dict[str, Any] = {"footing": Footing.EVEN, "exposure": Exposure.NONE}
    asphalt = (SurfaceStretch(0.0, 6_000.0, Surface.ASPHALT),)
    return (
        Place(id="quay", name="Quay", hub=(Means.FERRY,), **AT),
        Place(id="hill", name="Hill", **UP_THERE),
        Stage(
            id="lane",
            name="The lane",
            from_place="quay",
            to_place="hill",
            track_id="lane",
            ways=(StageWay(way=Way.WALKING, **facts), StageWay(way=Way.CYCLING, surfaces=asphalt, **facts)),
        ),
        Lodging(
            id="inn",
            name="Inn",
            place="hill",
            **UP_THERE,
            rooms=(Room(kind="double", sleeps=2, count=2),),
            check_in="15:00",
            charging=True,
            vehicle_access=True,
        ),
        Restaurant(id="net", name="Net", place="quay", opening="Mo-Su 18:00-22:00", **AT),
        Transfer(id="taxi", name="Taxi", carrier=Carrier.TAXI, seats=4),
        Bike(
            id="e", name="E", kind=BikeKind.E_BIKE, rider_height_from_cm=150, rider_height_to_cm=170,
            depots=(Depot("quay", 3),),
        ),
        tariff(Service.LODGING, "inn"),
        tariff(Service.RESTAURANT, "net"),
        tariff(Service.TRANSFER, "taxi"),
        tariff(Service.BIKE, "e"),
    )  # fmt: skip


def library(*changed: LibraryItem, without: tuple[str, ...] = ()) -> Catalogue:
    by_key = {(type(item), item.id): item for item in (*sound_items(), *changed)}
    kept = tuple(item for item in by_key.values() if item.id not in without)
    return catalogue_of(kept, Tracks(lane=line(0, 6_000), far=line(2_000, 6_000), flat=unknown_heights()))


def unknown_heights() -> Any:
    known = line(0, 6_000)
    return track(known.latitude_deg, known.longitude_deg, np.full(len(known), np.nan))


def of(kind: type[Any], **changes: Any) -> LibraryItem:
    """The sound item of a kind, changed."""
    found: Any = next(item for item in sound_items() if isinstance(item, kind))
    made: LibraryItem = replace(found, **changes)
    return made


def test_a_sound_library_has_no_doubts() -> None:
    assert health(library(), AS_OF) == ()


@pytest.mark.parametrize(
    ("changed", "what", "says"),
    [
        (Place(id="moon", name="Moon", **AT), "unreached", "no stage begins or ends here"),
        (of(Stage, track_id="nowhere"), "line", "take in a GPX file"),
        (of(Stage, track_id="flat"), "elevation", "fill its elevation from a raster"),
        (of(Stage, track_id="far"), "ends", r"its line begins 2\.0 km from Quay"),
        (of(Stage, ways=(StageWay(way=Way.WALKING),)), "ground", "on foot isn't noted"),
        (of(Lodging, rooms=()), "rooms", "nobody can tell whether a party fits"),
        (of(Lodging, check_in=""), "check-in", "when guests are received"),
        (of(Lodging, charging=None), "charging", "e-bikes"),
        (of(Lodging, vehicle_access=None), "access", "van"),
        (of(Lodging, closed=("in winter",)), "unreadable", "'in winter' can't be read"),
        (of(Lodging, **AT), "position", r"6\.0 km from Hill"),
        (of(Restaurant, opening=""), "opening", "no opening times"),
        (of(Restaurant, opening="evenings"), "unreadable", "'evenings' can't be read"),
        (of(Transfer, seats=None), "capacity", "how many guests"),
        (of(Bike, rider_height_to_cm=None), "size", "whom it fits"),
        (of(Bike, depots=()), "depots", "where any stands"),
        (tariff(Service.LODGING, "inn", date(2027, 10, 31)), "rates", "its rates end on 2027-10-31"),
    ],
)
def test_each_doubt_is_told_alone(changed: LibraryItem, what: str, says: str) -> None:
    (doubt,) = health(library(changed), AS_OF)
    assert doubt.what == what
    assert re.search(says, doubt.says)


@pytest.mark.parametrize("subject", ["inn", "net", "taxi", "e"])
def test_what_has_no_rates_is_told(subject: str) -> None:
    (doubt,) = health(library(without=(f"rates-{subject}",)), AS_OF)
    assert (doubt.id, doubt.what) == (subject, "rates")


def test_an_end_without_bed_hub_or_carrier_is_a_dead_end() -> None:
    (doubt,) = health(library(without=("inn", "rates-inn")), AS_OF)
    assert (doubt.id, doubt.what) == ("lane", "dead end")
    assert "from Hill" in doubt.says


def test_retired_items_are_left_alone() -> None:
    found = health(library(of(Bike, depots=(), retired=True), of(Place, id="moon", retired=True)), AS_OF)
    assert found == ()


def test_the_demo_has_few_doubts_and_none_of_prices() -> None:
    found = health(catalogue_of(demo_items(), Tracks(demo_tracks())), AS_OF)
    assert len(found) < 10
    assert not [doubt for doubt in found if doubt.what in ("rates", "unreadable", "elevation", "position")]
