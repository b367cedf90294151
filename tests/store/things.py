"""A small library and a trip with guests, for tests of the store."""

import sqlite3
from collections.abc import Iterable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing, contextmanager
from datetime import date
from pathlib import Path
from typing import Any

import numpy as np
from sqlalchemy import Engine

from lacet.store import Project, open_project
from lacet.store.engine import WRITES
from lacet.store.migrations.texts import rewrite
from lacet.tracks.track import Track, track
from lacet.trip.bookings import NO_BOOKINGS, Booking, Bookings
from lacet.trip.library import Lodging, Place, Ref, Room, Stage, StageWay
from lacet.trip.party import Need, Party, Traveller
from lacet.trip.trip import About, Day, Leg, Night, Note, Overrule, RoomUse, Trip, Variant
from lacet.trip.words import BookingState, Footing, NeedLevel, Service, Way

# Names that occur nowhere else in the code or in SQLite itself, so that finding one means something.
GUESTS = ("Quillon Vantreese", "Ysolde Märkwardt", "Ibbotson Crake", "Perpetua Olumide")
CONTACTS = ("quillon@guests.example", "+44 20 7946 0999", "14 Wherrymans Row, Thornwick")


def line(south_deg: float = 44.0, length_deg: float = 0.1, points: int = 200) -> Track:
    """A track due north with a hill on it."""
    along = np.linspace(0.0, 1.0, points)
    return track(south_deg + along * length_deg, np.full(points, -24.6), 100 + 80 * np.sin(along * np.pi))


def place(place_id: str, **more: Any) -> Place:
    plain: dict[str, Any] = {
        "name": place_id.capitalize(),
        "latitude_deg": 44.0,
        "longitude_deg": -24.6,
    }
    return Place(id=place_id, **plain | more)


def stage(stage_id: str, **more: Any) -> Stage:
    walking = (StageWay(way=Way.WALKING, footing=Footing.UNEVEN),)
    plain: dict[str, Any] = {
        "name": stage_id.capitalize(),
        "from_place": "alder",
        "to_place": "birch",
        "track_id": "",
    }
    return Stage(**{"id": stage_id, "ways": walking} | plain | more)


def house(house_id: str, **more: Any) -> Lodging:
    plain: dict[str, Any] = {
        "name": house_id.capitalize(),
        "place": "birch",
        "latitude_deg": 44.1,
        "longitude_deg": -24.6,
    }
    return Lodging(**{"id": house_id, "rooms": (Room(kind="double", sleeps=2, count=3),)} | plain | more)


def guests() -> tuple[Traveller, ...]:
    first = Traveller(
        id="quillon",
        name=GUESTS[0],
        age=61,
        height_cm=171.5,
        mass_kg=68.0,
        email=CONTACTS[0],
        telephone=CONTACTS[1],
        emergency_contact=f"sister of {GUESTS[0]}",
        needs=(Need(kind="milk", level=NeedLevel.MUST, text="Vantreese: no butter either"),),
        pace=1.2,
    )
    return (first, *(Traveller(id=f"t{n}", name=name) for n, name in enumerate(GUESTS[1:], start=2)))


def guests_trip(trip_id: str = "may", **more: Any) -> Trip:
    """A trip whose texts name its guests wherever a person may type."""
    day = Day(
        id="d1",
        items=(
            Leg(id="i1", stage=Ref("moor"), way=Way.WALKING, travellers=("quillon", "t2")),
            Note(id="i2", says=f"{GUESTS[1]} starts late"),
        ),
        nights=(
            Night(
                id="n1", lodging=Ref("weir"), rooms=(RoomUse(kind="double", travellers=("quillon", "t2")),)
            ),
        ),
        note=f"cake for {GUESTS[2]}",
    )
    overrule = Overrule(
        check="bike_fits",
        code="load",
        subject=(About("guest", "quillon"), About("from", "1")),
        figure=1.0,
        name="Consultant",
        reason=f"{GUESTS[0]} is fit",
    )
    plain: dict[str, Any] = {
        "name": f"{GUESTS[0]}, May",
        "party": Party(
            name="The Vantreese party",
            address=CONTACTS[2],
            travellers=guests(),
            sharing=(("quillon", "t2"), ("t3", "t4")),
        ),
        "start": date(2027, 5, 3),
        "variants": (
            Variant(id="v1", name=f"A for {GUESTS[3]}", days=(day,), overrules=(overrule,), note=GUESTS[0]),
        ),
        "note": f"met {GUESTS[0]} in March",
    }
    return Trip(id=trip_id, **plain | more)


def guests_bookings() -> Bookings:
    """What was asked for that trip; one of its texts names a guest."""
    booking = Booking(
        id="k1",
        service=Service.LODGING,
        supplier="weir",
        from_day=date(2027, 5, 3),
        to_day=date(2027, 5, 5),
        quantity=2,
        detail="double",
        state=BookingState.CONFIRMED,
        reference=f"WF/{GUESTS[0]}",
    )
    return Bookings((booking,))


def fill(project: Project) -> None:
    """Places, two stages, a house, and the trip at revision 1."""
    with project.unit_of_work() as unit:
        for name in ("alder", "birch"):
            unit.library.add_version(place(name))
        unit.library.add_stage(stage("moor", note="a peat hag"), line())
        cycling = (StageWay(way=Way.CYCLING, footing=Footing.EVEN),)
        lane = stage("lane", ways=cycling, from_place="birch", to_place="alder")
        unit.library.add_stage(lane, line(44.2, 0.3))
        unit.library.add_version(house("weir"))
        unit.trips.save(guests_trip(), 0, "new trip")
        unit.bookings.put("may", NO_BOOKINGS, guests_bookings(), "ask Weir", by="consultant")
        unit.commit()


def raw(path: Path, statement: str, parameters: Iterable[Any] = ()) -> list[Any]:
    """What SQLite itself says, without any of our code."""
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        connection.execute("PRAGMA foreign_keys = ON")
        return connection.execute(statement, tuple(parameters)).fetchall()


@contextmanager
def read_elsewhere(path: Path) -> Iterator[None]:
    """Another window is in the midst of reading as long as the block."""
    with ThreadPoolExecutor(1) as window, open_project(path) as other:
        unit = other.reading()
        window.submit(unit.__enter__).result()
        try:
            yield
        finally:
            window.submit(unit.__exit__, None, None, None).result()


def glue_subjects(engine: Engine) -> None:
    """Let the overrules of a file read as before they named what they are about by kind and id."""
    with engine.connect().execution_options(**{WRITES: True}) as connection, connection.begin():
        rewrite(connection, "may", lambda _, trip: _glued(trip))


def _glued(trip: dict[str, Any]) -> dict[str, Any]:
    for variant in trip["variants"]:
        for decision in variant.get("overrules", []):
            decision["subject"] = f"hire quillon 1 {decision.pop('code')}"
    return trip
