"""Elevation rasters an operator brings: looked at, laid beside the project's file, and how far they reach.

A raster stays a file of its own beside the project; the region names it. Which stages lie inside is told
before anything is kept.
"""

import shutil
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Protocol

import numpy as np

from lacet.files import is_file, is_there, same_content
from lacet.tracks.edit import positions_at
from lacet.tracks.geodesy import cumulative_m
from lacet.tracks.raster import COMPANIONS, ElevationRaster, RasterRefused
from lacet.tracks.track import Track
from lacet.trip.catalogue import Catalogue
from lacet.trip.errors import LacetError
from lacet.trip.library import Stage
from lacet.trip.region import Region

RASTER_ENDINGS = frozenset({".tif", ".tiff", ".asc"})
SAMPLES = 41


class NameTaken(LacetError):
    """Another file of that name lies beside the project."""


class Settings(Protocol):
    """The settings of a unit of work."""

    def region(self) -> Region: ...

    def save(self, setting: Region) -> int: ...


@dataclass(frozen=True, slots=True)
class Covered:
    """A stage and how much of its line has heights in one of the rasters (0..1)."""

    stage_id: str
    name: str
    share: float


@dataclass(frozen=True, slots=True)
class Coverage:
    """All stages, in the order of their names."""

    stages: tuple[Covered, ...]

    def says(self) -> str:
        """One sentence: how many lie inside wholly, in part, and not at all."""
        whole = sum(each.share >= 1.0 for each in self.stages)
        part = sum(0.0 < each.share < 1.0 for each in self.stages)
        left = len(self.stages) - whole - part
        return f"It has heights for {whole} of {len(self.stages)} stages, for {part} in part, for {left} not."


def is_raster(path: Path) -> bool:
    """Whether a file is called an elevation raster."""
    return path.suffix.casefold() in RASTER_ENDINGS


def look(paths: Sequence[Path]) -> tuple[tuple[ElevationRaster, ...], tuple[str, ...]]:
    """The rasters among files that can give heights, and a sentence for each that can't."""
    found, refusals = [], []
    for path in paths:
        try:
            found.append(ElevationRaster.open(path))
        except RasterRefused as refusal:
            refusals.append(str(refusal))
    return tuple(found), tuple(refusals)


def coverage(
    catalogue: Catalogue,
    rasters: Sequence[ElevationRaster],
    step: Callable[[int, int], None] | None = None,
) -> Coverage:
    """How much of each stage's line the rasters know; looked at in 41 places of each."""
    stages = [each for each in catalogue.current(Stage) if each.track_id in catalogue.tracks]
    found = []
    for number, stage in enumerate(sorted(stages, key=lambda each: each.name.casefold())):
        if step is not None:
            step(number, len(stages))
        share = _share(catalogue.tracks[stage.track_id], rasters)
        found.append(Covered(stage.id, stage.name, share))
    return Coverage(tuple(found))


def lay_beside(rasters: Sequence[ElevationRaster], folder: Path, settings: Settings) -> tuple[str, ...]:
    """Copy rasters beside the project and let its region name them; returns their names.

    Raises
    ------
    NameTaken
        When another file of that name is there; nothing is copied then.
    """
    for raster in rasters:
        _refuse_other(raster.path, folder / raster.path.name)
    for raster in rasters:
        for path in _with_companions(raster.path):
            if path.resolve() != (folder / path.name).resolve():
                _copy(path, folder / path.name)
    names = tuple(raster.path.name for raster in rasters)
    region = settings.region()
    settings.save(replace(region, rasters=tuple(dict.fromkeys((*region.rasters, *names)))))
    return names


def _share(track: Track, rasters: Sequence[ElevationRaster]) -> float:
    length_m = float(cumulative_m(track)[-1])
    latitude, longitude, _ = positions_at(track, np.linspace(0.0, length_m, SAMPLES))
    known = np.zeros(SAMPLES, dtype=bool)
    for raster in rasters:
        known |= np.isfinite(raster.heights_m(latitude, longitude))
    return float(known.mean())


def _refuse_other(path: Path, goal: Path) -> None:
    if not is_there(goal) or path.resolve() == goal.resolve():
        return
    if not is_file(goal) or not same_content(goal, path):
        raise NameTaken(
            "{name}: another file of this name lies beside the project; rename yours first.", name=path.name
        )


def _with_companions(path: Path) -> Iterator[Path]:
    yield path
    for ending in COMPANIONS:
        companion = path.with_suffix(ending)
        if is_file(companion) and companion != path:
            yield companion


def _copy(path: Path, goal: Path) -> None:
    """Whole or not at all."""
    draft = goal.with_name(f".{goal.name}.new")
    shutil.copyfile(path, draft)
    draft.replace(goal)
