"""Puts Verrin together: items, tracks and trips from their sources, and the project file from them."""

import shutil
import tomllib
from collections.abc import Callable, Iterator
from dataclasses import replace
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Any, cast

from lacet.demo import tables
from lacet.demo.journeys import read_trip
from lacet.resources import example_project
from lacet.store import open_project
from lacet.tracks.gpx_read import read_gpx
from lacet.tracks.track import Track
from lacet.trip.catalogue import Office, Region
from lacet.trip.library import Cue, LibraryItem, Rate, Stage, StagePoint, Tariff
from lacet.trip.plain import from_plain
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
    items = demo_items(source)
    stages = [item for item in items if isinstance(item, Stage)]
    with open_project(path, create=True) as project, project.unit_of_work() as unit:
        for item in items:
            if not isinstance(item, Stage):
                unit.library.add_version(cast(Any, item))
        for index, stage in enumerate(stages):
            unit.library.add_stage(stage, _track(source, stage.track_id))
            if progress is not None:
                progress(index + 1, len(stages))
        region, office = demo_settings(source)
        unit.settings.save(region)
        unit.settings.save(office)
        for trip in demo_trips(source):
            unit.trips.save(trip, 0, "new trip")
        unit.commit()


def demo_items(source: Traversable | None = None) -> tuple[LibraryItem, ...]:
    """Every item of Verrin's library; a stage's track id is the stage's id."""
    folder = source or example_project("verrin")
    region, _ = demo_settings(folder)
    return (
        *tables.read(folder, "places.csv", tables.place),
        *_stages(folder),
        *tables.read(folder, "lodgings.csv", tables.lodging),
        *tables.read(folder, "restaurants.csv", tables.restaurant),
        *tables.read(folder, "transfers.csv", tables.transfer),
        *tables.read(folder, "bikes.csv", tables.bike),
        *_tariffs(folder, region.currency),
    )


def demo_tracks(source: Traversable | None = None) -> dict[str, Track]:
    """Every track by stage id."""
    folder = source or example_project("verrin")
    return {stage.id: _track(folder, stage.id) for stage in _stages(folder)}


def demo_trips(source: Traversable | None = None) -> tuple[Trip, ...]:
    """Verrin's trips, in the order of their file names."""
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


def _track(folder: Traversable, stage_id: str) -> Track:
    data = folder.joinpath("tracks", f"{stage_id}.gpx").read_bytes()
    return read_gpx(data, f"{stage_id}.gpx").lines[0].track


def _stages(folder: Traversable) -> Iterator[Stage]:
    points: dict[str, list[StagePoint]] = {}
    for stage_id, point in tables.read(folder, "points.csv", tables.point):
        points.setdefault(stage_id, []).append(point)
    cues: dict[str, list[Cue]] = {}
    for stage_id, cue in tables.read(folder, "cues.csv", tables.cue):
        cues.setdefault(stage_id, []).append(cue)
    yield from tables.read(
        folder,
        "stages.csv",
        lambda row: tables.stage(row, tuple(points.get(row["id"], ())), tuple(cues.get(row["id"], ()))),
    )


def _tariffs(folder: Traversable, currency: str) -> Iterator[Tariff]:
    """Rows of one tariff stand together or apart; its first row names it."""
    heads: dict[str, Tariff] = {}
    rates: dict[str, list[Rate]] = {}
    for tariff, rate in tables.read(folder, "rates.csv", lambda row: tables.rate(row, currency)):
        heads.setdefault(tariff.id, tariff)
        rates.setdefault(tariff.id, []).append(rate)
    for tariff_id, tariff in heads.items():
        yield replace(tariff, rates=tuple(rates[tariff_id]))
