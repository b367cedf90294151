"""A library small enough to reckon by hand, for tests of figures, checks and the assessment.

Three places in a row on a meridian, a climb of 300 m from Alder to Birch over 9 km, and a level lane of
30 km on to Cedar; two inns of which only Birch House charges batteries.
"""

from datetime import date, time
from pathlib import Path
from typing import Any, cast

import numpy as np

from lacet.store import open_project
from lacet.tracks.track import Track, track
from lacet.trip.catalogue import Catalogue, catalogue_of
from lacet.trip.edits.naming import named
from lacet.trip.library import (
    Assist,
    Bike,
    Depot,
    LibraryItem,
    Lodging,
    Place,
    Ref,
    Restaurant,
    Room,
    Stage,
    StageWay,
    Transfer,
)
from lacet.trip.party import Party, Traveller
from lacet.trip.region import EmergencyNumber, Region
from lacet.trip.trip import Crossing, Day, Hire, Item, Leg, Night, Rest, Ride, Trip, Variant
from lacet.trip.words import BikeKind, Carrier, Exposure, Footing, Means, PlaceKind, Way

METRES_PER_DEGREE = 111_120.0
REGION = Region(
    name="Test",
    zone="Atlantic/Azores",
    currency="EUR",
    holidays=("01-01 New Year",),
    emergency_numbers=(EmergencyNumber("112"),),
    monthly_temperature_c=(15.0,) * 12,
)
BASE = (44.2, -24.6)
BOTH = (
    StageWay(way=Way.WALKING, footing=Footing.EVEN, exposure=Exposure.NONE),
    StageWay(way=Way.CYCLING, footing=Footing.EVEN, exposure=Exposure.NONE),
)


class Tracks(dict[str, Track]):
    """Tracks by id, held in memory."""


def line(start_m: float, length_m: float, from_height_m: float, to_height_m: float) -> Track:
    """A straight track due north with an even slope, a point every 50 m."""
    along = np.linspace(0.0, length_m, int(length_m // 50) + 1)
    return track(
        BASE[0] + (start_m + along) / METRES_PER_DEGREE,
        np.full(along.shape, BASE[1]),
        np.linspace(from_height_m, to_height_m, len(along)),
    )


def place(place_id: str, along_m: float, **more: Any) -> Place:
    return Place(
        id=place_id,
        name=place_id.capitalize(),
        latitude_deg=BASE[0] + along_m / METRES_PER_DEGREE,
        longitude_deg=BASE[1],
        **{"kind": PlaceKind.VILLAGE, **more},
    )


def items() -> tuple[LibraryItem, ...]:
    """Everything in the small library."""
    rooms = (
        Room(kind="double", sleeps=2, count=4, private_bath=True),
        Room(kind="single", sleeps=1, count=2),
    )
    return (
        place("alder", 0.0, kind=PlaceKind.HARBOUR, hub=(Means.FERRY,)),
        place("birch", 9_000.0),
        place("cedar", 39_000.0),
        Stage(
            id="climb",
            name="Over the hill",
            from_place="alder",
            to_place="birch",
            track_id="climb",
            ways=BOTH,
        ),
        Stage(
            id="lane", name="The long lane", from_place="birch", to_place="cedar", track_id="lane", ways=BOTH
        ),
        _lodging("quay-house", "Quay House", "alder", rooms, charging=False),
        _lodging("birch-house", "Birch House", "birch", rooms, charging=True),
        _lodging("cedar-inn", "Cedar Inn", "cedar", rooms, charging=False),
        Restaurant(
            id="net-loft",
            name="Net Loft",
            place="birch",
            latitude_deg=BASE[0] + 9_000.0 / METRES_PER_DEGREE,
            longitude_deg=BASE[1],
            opening="Mo-Su 18:00-22:00",
            seats=40,
        ),
        Transfer(id="taxi", name="Island taxi", carrier=Carrier.TAXI, seats=4, bags=4),
        Bike(
            id="e-medium",
            name="E-bike, medium",
            kind=BikeKind.E_BIKE,
            rider_height_from_cm=160,
            rider_height_to_cm=180,
            mass_kg=25.0,
            maximum_total_kg=140.0,
            battery_wh=500.0,
            assists=(Assist("low", 0.6), Assist("high", 2.0)),
            depots=tuple(Depot(at, 8) for at in ("alder", "birch", "cedar")),
        ),
    )


def _lodging(item_id: str, name: str, at: str, rooms: tuple[Room, ...], charging: bool) -> Lodging:
    along_m = {"alder": 0.0, "birch": 9_000.0, "cedar": 39_000.0}[at]
    return Lodging(
        id=item_id,
        name=name,
        place=at,
        latitude_deg=BASE[0] + along_m / METRES_PER_DEGREE,
        longitude_deg=BASE[1],
        rooms=rooms,
        check_in="15:00-21:00",
        breakfast="07:30-10:00",
        charging=charging,
        vehicle_access=True,
    )


def small_catalogue(*more: LibraryItem) -> Catalogue:
    """The library as a catalogue; `more` items are added or, by id and version, replace its own."""
    by_ref: dict[tuple[type, str, int], LibraryItem] = {}
    for item in (*items(), *more):
        by_ref[type(item), item.id, item.version] = item
    tracks = Tracks(climb=line(0.0, 9_000.0, 20.0, 320.0), lane=line(9_000.0, 30_000.0, 320.0, 320.0))
    return catalogue_of(tuple(by_ref.values()), tracks, REGION)


def walk(item_id: str = "i1", stage: str = "climb", **more: Any) -> Leg:
    return Leg(id=item_id, stage=Ref(stage), way=Way.WALKING, **more)


def cycle(item_id: str = "i1", stage: str = "lane", **more: Any) -> Leg:
    return Leg(id=item_id, stage=Ref(stage), way=Way.CYCLING, **more)


def night(lodging: str, **more: Any) -> tuple[Night, ...]:
    return (Night(lodging=Ref(lodging), **more),)


def day(day_id: str, *content: Item, lodging: str | None = None, **more: Any) -> Day:
    return Day(id=day_id, items=content, nights=night(lodging) if lodging else (), **more)


def small_trip(*days: Day, hires: tuple[Hire, ...] = (), guests: int = 2, **more: Any) -> Trip:
    """A trip of one variant 'v1'. Without days: walk up, rest, ride on, in May."""
    chosen = days or (
        day("d1", walk("i1"), lodging="birch-house"),
        day("d2", Rest(id="i2"), lodging="birch-house"),
        day("d3", cycle("i3"), lodging="cedar-inn"),
    )
    party = Party(
        name="Test party",
        travellers=tuple(
            Traveller(id=f"t{number}", name=f"Guest {number}") for number in range(1, guests + 1)
        ),
        sharing=(tuple(f"t{number}" for number in range(1, guests + 1)),) if guests > 1 else (),
    )
    variant = Variant(id="v1", name="As asked", days=tuple(chosen), hires=hires)
    return Trip(
        **{
            "id": "trip",
            "name": "Test trip",
            "party": party,
            "start": date(2027, 5, 8),
            "arrivals": (Crossing(hub="alder", means=Means.FERRY, at=time(9, 0)),),
            "variants": (named(variant),),
            **more,
        }
    )


def ride(item_id: str, from_place: str, to_place: str, **more: Any) -> Ride:
    return Ride(id=item_id, from_place=from_place, to_place=to_place, **more)


def write_small_project(path: Path) -> None:
    """The small library and its trip as a project file."""
    catalogue = small_catalogue()
    with open_project(path, create=True) as opened, opened.unit_of_work() as unit:
        for item in items():
            if isinstance(item, Stage):
                unit.library.add_stage(item, catalogue.tracks[item.track_id])
            else:
                unit.library.add_version(cast(Any, item))
        unit.settings.save(catalogue.region)
        unit.trips.save(small_trip(), 0, "new trip")
        unit.commit()
