"""Make a project of any size: the demo island again and again, side by side, and trips like the demo's.

Stages keep their cues, points, surfaces and tracks; each trip gets nine bookings and three revisions.
Run it as

    PYTHONPATH=app python tests/bench/make_large.py FILE S|M|L
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any, NamedTuple

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "app"))

from lacet.demo.building import demo_items, demo_settings, demo_tracks, demo_trips
from lacet.resources import example_project
from lacet.store import Project, UnitOfWork, open_project
from lacet.tracks.track import Track, track
from lacet.trip.bookings import Booking, Bookings
from lacet.trip.library import Bike, Lodging, Place, Restaurant, Stage, Tariff, Transfer
from lacet.trip.plain import from_plain, to_plain
from lacet.trip.trip import Trip
from lacet.trip.words import BookingState, Service

SPACE_DEG = 0.9  # from one island to the next; Verrin is 0.7 degrees wide
ROW = 42  # islands side by side
BATCH = 20  # islands kept at once
NIGHTS = 9


class Size(NamedTuple):
    """How much a project holds."""

    stages: int
    lodgings: int
    trips: int


SIZES = {
    "S": Size(1_000, 500, 10),
    "M": Size(10_000, 500, 500),
    "L": Size(100_000, 5_000, 2_000),
    "ST": Size(1_000, 500, 2_000),
}


class Demo(NamedTuple):
    """The demo's parts, read once."""

    shared: tuple[Any, ...]
    ground: tuple[Any, ...]
    lodgings: tuple[Lodging, ...]
    kitchens: tuple[Restaurant, ...]
    tariffs: Mapping[str, tuple[Tariff, ...]]
    tracks: Mapping[str, Track]
    trips: tuple[Trip, ...]


def make_large(path: Path, size: Size) -> Path:
    """Make a project of this size, unless there is one already."""
    if path.exists():
        return path
    draft = path.with_name(f"draft-{path.name}")
    draft.unlink(missing_ok=True)
    demo = _demo()
    with open_project(draft, create=True) as project:
        islands = _library(project, demo, size)
        _trips(project, demo, size, islands)
    draft.rename(path)
    return path


def _demo() -> Demo:
    items = demo_items()
    tariffs: dict[str, list[Tariff]] = {}
    for item in items:
        if isinstance(item, Tariff):
            tariffs.setdefault(item.subject_id, []).append(item)
    supplied = {each.id for each in items if isinstance(each, Lodging | Restaurant)}
    return Demo(
        shared=tuple(
            each
            for each in items
            if isinstance(each, Bike | Transfer)
            or (isinstance(each, Tariff) and each.subject_id not in supplied)
        ),
        ground=tuple(each for each in items if isinstance(each, Place | Stage)),
        lodgings=tuple(each for each in items if isinstance(each, Lodging)),
        kitchens=tuple(each for each in items if isinstance(each, Restaurant)),
        tariffs={subject: tuple(each) for subject, each in tariffs.items()},
        tracks=demo_tracks(),
        trips=demo_trips(),
    )


def _library(project: Project, demo: Demo, size: Size) -> int:
    """Fill the library; returns on how many islands."""
    stages = sum(isinstance(each, Stage) for each in demo.ground)
    islands = -(-size.stages // stages)
    lodgings = [size.lodgings * n // islands for n in range(islands + 1)]
    left = size.stages
    for first in range(0, islands, BATCH):
        with project.unit_of_work() as unit:
            if first == 0:
                for setting in demo_settings(example_project("verrin")):
                    unit.settings.save(setting)
                for item in demo.shared:
                    unit.library.add_version(item)
            for island in range(first, min(first + BATCH, islands)):
                _ground(unit, demo, island, left)
                left -= stages
                _houses(unit, demo, island, lodgings[island + 1] - lodgings[island])
            unit.commit()
        print(f"\r{min(first + BATCH, islands)} of {islands} islands", end="", file=sys.stderr)
    return islands


def _ground(unit: UnitOfWork, demo: Demo, island: int, most_stages: int) -> None:
    for item in demo.ground:
        if isinstance(item, Place):
            unit.library.add_version(_moved(item, island))
        elif most_stages > 0:
            most_stages -= 1
            ends = {name: _on(island, getattr(item, name)) for name in ("from_place", "to_place")}
            name = f"{item.name} {island}" if island else item.name
            unit.library.add_stage(
                replace(item, id=_on(island, item.id), name=name, **ends),
                _moved_track(demo.tracks[item.id], island),
            )


def _houses(unit: UnitOfWork, demo: Demo, island: int, lodgings: int) -> None:
    houses: list[Any] = [(each, n) for n, each in _repeated(demo.lodgings, lodgings)]
    houses += [(each, n) for n, each in _repeated(demo.kitchens, lodgings // 2)]
    for house, again in houses:
        moved = _moved(house, island)
        suffix = f"-{again}" if again else ""
        unit.library.add_version(replace(moved, id=moved.id + suffix, place=_on(island, house.place)))
        for tariff in demo.tariffs.get(house.id, ()):
            subject = _on(island, house.id) + suffix
            unit.library.add_version(replace(tariff, id=_on(island, tariff.id) + suffix, subject_id=subject))


def _trips(project: Project, demo: Demo, size: Size, islands: int) -> None:
    for first in range(0, size.trips, 100):
        with project.unit_of_work() as unit:
            for number in range(first, min(first + 100, size.trips)):
                trip = _trip(demo.trips[number % len(demo.trips)], number, number % max(islands - 1, 1))
                for revision in range(3):
                    unit.trips.save(replace(trip, name=f"{trip.name} {revision}"), revision, "edit")
                unit.bookings.place(trip.id, _booked(trip), "book")
            unit.commit()


def _trip(of: Trip, number: int, island: int) -> Trip:
    """A trip of the demo on another island, some weeks later."""
    plain = _renamed(to_plain(of), island) | {"id": f"trip-{number}", "name": f"{of.name} {number}"}
    moved = from_plain(Trip, plain)
    start = (of.start or date(2027, 5, 8)) + timedelta(days=number % 100)
    return replace(moved, start=start)


def _booked(trip: Trip) -> Bookings:
    """Nine nights of a trip."""
    assert trip.start is not None
    nights = [night.lodging.id for day in trip.variants[0].days for night in day.nights]
    return Bookings(
        tuple(
            Booking(
                id=f"b{n}",
                service=Service.LODGING,
                supplier=nights[n % len(nights)],
                detail="double",
                from_day=trip.start + timedelta(days=n),
                to_day=trip.start + timedelta(days=n + 1),
                quantity=2,
                state=BookingState.CONFIRMED,
            )
            for n in range(NIGHTS)
        )
    )


_OF_THE_GROUND = ("stage", "lodging", "restaurant")
_PLACES = ("place", "hub", "from_place", "to_place")


def _renamed(plain: Any, island: int, key: str = "") -> Any:
    """Plain data of a trip with its places, stages, lodgings and restaurants on another island."""
    if isinstance(plain, dict):
        if key in _OF_THE_GROUND:
            return plain | {"id": _on(island, plain["id"])}
        return {name: _renamed(value, island, name) for name, value in plain.items()}
    if isinstance(plain, list):
        return [_renamed(value, island) for value in plain]
    return _on(island, plain) if key in _PLACES and isinstance(plain, str) else plain


def _repeated(of: tuple[Any, ...], count: int) -> Iterator[tuple[int, Any]]:
    """As many as are asked for, round and round, each with how often it was there before."""
    return ((n // len(of), of[n % len(of)]) for n in range(count))


def _on(island: int, item_id: str) -> str:
    return f"{item_id}-{island:04}" if island and item_id else item_id


def _moved(item: Any, island: int) -> Any:
    south, west = _shift(island)
    return replace(
        item,
        id=_on(island, item.id),
        name=f"{item.name} {island}" if island else item.name,
        latitude_deg=item.latitude_deg + south,
        longitude_deg=item.longitude_deg + west,
    )


def _moved_track(line: Track, island: int) -> Track:
    south, west = _shift(island)
    return track(
        line.latitude_deg + south, line.longitude_deg + west, line.height_m, segment_start=line.segment_start
    )


def _shift(island: int) -> tuple[float, float]:
    return (island // ROW) * SPACE_DEG, (island % ROW) * SPACE_DEG


if __name__ == "__main__":
    make_large(Path(sys.argv[1]), SIZES[sys.argv[2]])
