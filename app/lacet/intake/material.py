"""Everything a handful of files holds, looked at together: what command line and window take in alike.

`look_at` reads and keeps nothing; `choose` makes what would be kept of it; `keep` keeps it, all or nothing,
within a unit of work that the caller opens and commits.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Protocol

from lacet.files import is_file, is_folder, is_there, within
from lacet.intake.elevation import Settings, is_raster, lay_beside, look
from lacet.intake.heights import Filled, fill_heights
from lacet.intake.plan import Change, changes
from lacet.intake.proposals import Accepted, Proposal, Proposed, accept, propose, with_recording
from lacet.intake.sheets import SheetsRead, is_sheet, is_sheet_in_folder, read_sheets
from lacet.intake.together import with_items
from lacet.tracks.raster import ElevationRaster
from lacet.tracks.track import Track
from lacet.trip.catalogue import Catalogue
from lacet.trip.errors import LacetError
from lacet.trip.library import LibraryItem, Stage
from lacet.trip.words import Way

GPX_ENDING = ".gpx"
Step = Callable[[str, int, int], None]
"""Called with what is being done, how many are done and how many there are; may raise to end it."""


class NoSuchFile(LacetError):
    """A file or folder that isn't there."""


class Shelf(Protocol):
    """Where items are kept: the library of a unit of work."""

    def add_version(self, item: Any) -> Any: ...

    def add_stage(self, stage: Stage, track: Track) -> Stage: ...


class Unit(Protocol):
    """A unit of work: its library, and its settings."""

    @property
    def library(self) -> Shelf: ...

    @property
    def settings(self) -> Settings: ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """What files hold, beside a library."""

    catalogue: Catalogue
    sheets: SheetsRead
    proposed: Proposed
    rasters: tuple[ElevationRaster, ...] = ()
    raster_refusals: tuple[str, ...] = ()

    @property
    def not_readable(self) -> tuple[str, ...]:
        """A sentence for each file that can't be read at all."""
        return (*self.proposed.refusals, *self.raster_refusals)

    @property
    def refusals(self) -> tuple[str, ...]:
        """A sentence for everything that stops the taking in."""
        return (*(str(each) for each in self.sheets.problems if each.stops), *self.not_readable)


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """What would be kept: items in the order they refer to each other, and lines by stage id."""

    items: tuple[LibraryItem, ...]
    lines: Mapping[str, Track]
    changes: tuple[Change, ...]
    says: tuple[str, ...]
    rasters: tuple[ElevationRaster, ...] = ()


def files_in(named: Iterable[Path]) -> tuple[Path, ...]:
    """Files in their order, each once; folders with everything in them that can be read.

    Raises
    ------
    NoSuchFile
    """
    return tuple(dict.fromkeys(_files_in(named)))


def _files_in(named: Iterable[Path]) -> Iterator[Path]:
    for path in named:
        if is_folder(path):
            inside = [each for each in within(path) if is_file(each)]
            yield from (each for each in inside if is_sheet_in_folder(each) or is_gpx(each))
        elif is_there(path):
            yield path
        else:
            raise NoSuchFile("{path}: there is no such file or folder.", path=path)


def is_gpx(path: Path) -> bool:
    """Whether a file is called one."""
    return path.suffix.casefold() == GPX_ENDING


def look_at(
    files: Sequence[Path],
    catalogue: Catalogue,
    ways: tuple[Way, ...] | None = None,
    step: Step | None = None,
    *,
    merge: bool = True,
) -> Material:
    """Read files beside a library.

    Parameters
    ----------
    ways
        What new stages are for; None = as recorded, both where nobody recorded it.
    merge
        Whether recordings that a receiver split are put together.
    """
    sheets = read_sheets([path for path in files if is_sheet(path)], catalogue, step)
    # Lines that a sheet of stages names are its own, not further stages.
    others = [path for path in files if not is_sheet(path) and path.resolve() not in sheets.track_files]
    gpx = [path for path in others if not is_raster(path)]
    rasters, raster_refusals = look([path for path in others if is_raster(path)])
    known = with_items(catalogue, sheets.items)
    proposed = propose(gpx, known, ways, step, merge=merge)
    return Material(
        catalogue=catalogue,
        sheets=sheets,
        proposed=proposed,
        rasters=rasters,
        raster_refusals=raster_refusals,
    )


def choose(
    material: Material, rasters: Sequence[Path], proposals: Sequence[Proposal] | None = None
) -> Chosen:
    """What would be kept of it.

    Parameters
    ----------
    rasters
        The elevation rasters beside the project.
    proposals
        As a person corrected them; None = as proposed.
    """
    catalogue, sheets = material.catalogue, material.sheets
    wanted = material.proposed.proposals if proposals is None else tuple(proposals)
    accepted = tuple(accept(each) for each in wanted if each.take)
    items = _items(sheets, accepted, _timed(wanted, catalogue))
    lines = dict(sheets.tracks) | {each.stage.id: each.track for each in accepted}
    brought = tuple(raster.path.resolve() for raster in material.rasters)
    filled: Filled = fill_heights(lines, (*rasters, *brought))
    return Chosen(
        items=items,
        lines=filled.tracks,
        changes=changes(items, catalogue, set(sheets.tracks)),
        says=filled.says,
        rasters=material.rasters,
    )


def keep(unit: Unit, chosen: Chosen, folder: Path, step: Step | None = None) -> None:
    """Keep it as new versions, and its rasters beside the project in `folder`.

    Raises
    ------
    NameTaken
        When another file has a raster's name.
    """
    shelf = unit.library
    for number, item in enumerate(chosen.items):
        if step is not None:
            step("Keeping", number, len(chosen.items))
        if isinstance(item, Stage) and item.id in chosen.lines:
            shelf.add_stage(item, chosen.lines[item.id])
        else:
            shelf.add_version(item)
    # Last: whoever calls it off before leaves no file behind.
    if chosen.rasters:
        lay_beside(chosen.rasters, folder, unit.settings)


def _items(
    sheets: SheetsRead, accepted: Sequence[Accepted], timed: Iterable[Stage]
) -> tuple[LibraryItem, ...]:
    places = dict.fromkeys(place for each in accepted for place in each.places)
    return (*sheets.items, *places, *(each.stage for each in accepted), *timed)


def _timed(proposals: Sequence[Proposal], catalogue: Catalogue) -> Iterator[Stage]:
    """Stages of the library whose duplicates bring a recorded time."""
    known: dict[str, Stage] = {}
    for each in proposals:
        if each.duplicate_of is None or each.take:
            continue
        stage = known.get(each.duplicate_of) or catalogue.latest(Stage, each.duplicate_of)
        timed = None if stage is None else with_recording(each, stage)
        if timed is not None:
            known[timed.id] = timed
    yield from known.values()
