"""Puts Verrin together: items, tracks and trips from their sources, and the project file from them."""

import shutil
import tomllib
from collections.abc import Callable
from dataclasses import replace
from importlib.resources import as_file
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Any, cast

from lacet.demo.journeys import SourceRefused, read_trip
from lacet.intake.sheets import SheetsRead, read_sheets
from lacet.resources import example_project
from lacet.store import open_project
from lacet.tracks.track import Track
from lacet.trip.bookings import NO_BOOKINGS, Bookings
from lacet.trip.catalogue import Office
from lacet.trip.library import LibraryItem, Stage
from lacet.trip.plain import from_plain
from lacet.trip.region import Region
from lacet.trip.trip import Trip

FILE_NAME = "verrin.lacet"
RASTER_NAME = "island.tif"

Progress = Callable[[int, int], None]


def write_demo(directory: Path, progress: Progress | None = None) -> Path:
    """Write the demo project into a folder and return the path of its file.

    A project that is there already is left as it is: somebody may have worked in it.
    """
    directory.mkdir(parents=True, exist_ok=True)
    path = directory / FILE_NAME
    if path.exists():
        return path
    source = example_project("verrin")
    with source.joinpath(RASTER_NAME).open("rb") as read, (directory / RASTER_NAME).open("wb") as written:
        shutil.copyfileobj(read, written)
    draft = directory / f".{FILE_NAME}.new"
    draft.unlink(missing_ok=True)
    _fill(draft, source, progress)
    draft.rename(path)
    return path


def _fill(path: Path, source: Traversable, progress: Progress | None) -> None:
    read = _sheets(source)
    stages = [item for item in read.items if isinstance(item, Stage)]
    with open_project(path, create=True) as project, project.unit_of_work() as unit:
        for item in read.items:
            if not isinstance(item, Stage):
                unit.library.add_version(cast(Any, item))
        for index, stage in enumerate(stages):
            unit.library.add_stage(stage, read.tracks[stage.id])
            if progress is not None:
                progress(index + 1, len(stages))
        region, office = demo_settings(source)
        unit.settings.save(region)
        unit.settings.save(office)
        booked = demo_bookings(source)
        for trip in demo_trips(source):
            unit.trips.save(trip, 0, "new trip")
            unit.bookings.put(trip.id, NO_BOOKINGS, booked[trip.id], "new trip")
        unit.commit()


def demo_items(source: Traversable | None = None) -> tuple[LibraryItem, ...]:
    """Every item of Verrin's library; a stage's track id is the stage's id."""
    return tuple(
        replace(item, track_id=item.id) if isinstance(item, Stage) else item for item in _sheets(source).items
    )


def demo_tracks(source: Traversable | None = None) -> dict[str, Track]:
    """Every track by stage id."""
    return dict(_sheets(source).tracks)


def demo_trips(source: Traversable | None = None) -> tuple[Trip, ...]:
    """Verrin's trips, in the order of their file names."""
    return tuple(trip for trip, _ in _journeys(source))


def demo_bookings(source: Traversable | None = None) -> dict[str, Bookings]:
    """What was asked for each of Verrin's trips, by the trip's id."""
    return {trip.id: booked for trip, booked in _journeys(source)}


def _journeys(source: Traversable | None) -> tuple[tuple[Trip, Bookings], ...]:
    folder = (source or example_project("verrin")).joinpath("trips")
    files = sorted(
        (each for each in folder.iterdir() if each.name.endswith(".toml")), key=lambda each: each.name
    )
    return tuple(read_trip(each) for each in files)


def demo_settings(source: Traversable | None = None) -> tuple[Region, Office]:
    """What holds for the whole island, and the office that sells it."""
    folder = source or example_project("verrin")
    told = tomllib.loads(folder.joinpath("region.toml").read_text(encoding="utf-8"))
    texts = [list(pair) for pair in told["office"].pop("texts", {}).items()]
    return from_plain(Region, told["region"]), from_plain(Office, told["office"] | {"texts": texts})


def _sheets(source: Traversable | None) -> SheetsRead:
    """The sheets, read as an operator's own are.

    Raises
    ------
    SourceRefused
        With the first place that can't be read: the sheets are ours, so a slip in them is a bug.
    """
    with as_file(source or example_project("verrin")) as folder:
        read = read_sheets(sorted(folder.glob("*.csv")))
    if read.refused:
        raise SourceRefused(str(next(problem for problem in read.problems if problem.stops)))
    return read
