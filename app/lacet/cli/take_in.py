"""`lacet import`: GPX files and sheets into a library, all of it or nothing."""

import argparse
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, cast

from rich.progress import Progress

from lacet.cli.choosing import NotFound, project_at
from lacet.cli.telling import kilometres, metres, print_json, print_table, progress, say
from lacet.intake.heights import Filled, fill_heights
from lacet.intake.plan import Change, changes
from lacet.intake.problems import SheetProblem
from lacet.intake.proposals import Accepted, Proposal, Proposed, accept, propose, with_recording
from lacet.intake.sheets import SheetsRead, is_sheet, is_sheet_in_folder, read_sheets
from lacet.intake.together import with_items
from lacet.store import Project, open_project
from lacet.trip.catalogue import Catalogue
from lacet.trip.errors import LacetError
from lacet.trip.library import LibraryItem, Stage
from lacet.trip.words import Way

PROJECT_ENDING = ".lacet"
_WAYS = {"walking": (Way.WALKING,), "cycling": (Way.CYCLING,), "both": (Way.WALKING, Way.CYCLING)}


class NothingTakenIn(LacetError):
    """Something stops the import; the library is as it was."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Material:
    """What the files hold and what of it would be kept."""

    sheets: SheetsRead
    proposed: Proposed
    accepted: tuple[Accepted, ...]
    timed: tuple[Stage, ...]
    filled: Filled

    @property
    def items(self) -> tuple[LibraryItem, ...]:
        places = tuple(place for each in self.accepted for place in each.places)
        stages = tuple(each.stage for each in self.accepted)
        return (*self.sheets.items, *dict.fromkeys(places), *stages, *self.timed)

    @property
    def refusals(self) -> tuple[str, ...]:
        return (*(str(each) for each in self.sheets.problems if each.stops), *self.proposed.refusals)


def take_in(arguments: argparse.Namespace) -> None:
    """Read everything, tell what it would change, and keep it unless only asked to say.

    A project that doesn't exist yet is made, if its name ends in .lacet and this is no dry run.
    """
    files = tuple(dict.fromkeys(_files(arguments.files)))
    if not files:
        raise NotFound("There is no GPX file, .csv or .xlsx among these; name files or folders of them.")
    catalogue = _catalogue(arguments.project)
    with progress("Reading") as bar:
        material = _read(files, catalogue, arguments.way, arguments.project.parent, bar)
    planned = changes(material.items, catalogue, set(material.sheets.tracks))
    refused = bool(material.refusals)
    if not (refused or arguments.dry_run):
        with progress("Keeping"):
            _keep(arguments.project, material)
    if arguments.json:
        print_json(_plain(planned, material, taken=not (refused or arguments.dry_run)))
    else:
        _tell(planned, material)
    if refused:
        raise NothingTakenIn(_stopped(material))
    if not arguments.json:
        say(_summary(planned, arguments.dry_run))


def _files(named: list[Path]) -> Iterator[Path]:
    """Files in their order; folders with everything in them that can be read."""
    for path in named:
        if path.is_dir():
            inside = sorted(each for each in path.rglob("*") if each.is_file())
            yield from (each for each in inside if is_sheet_in_folder(each) or _is_gpx(each))
        elif path.exists():
            yield path
        else:
            raise NotFound(f"{path}: there is no such file or folder.")


def _is_gpx(path: Path) -> bool:
    return path.suffix.casefold() == ".gpx"


def _catalogue(path: Path) -> Catalogue:
    if not path.exists() and path.suffix == PROJECT_ENDING:
        return Catalogue()
    with project_at(path) as project:
        return project.catalogue()


def _read(
    files: tuple[Path, ...], catalogue: Catalogue, way: str | None, folder: Path, bar: Progress
) -> _Material:
    task = bar.tasks[0].id

    def step(name: str, done: int, of: int) -> None:
        bar.update(task, description=name, completed=done, total=of)

    sheets = read_sheets([path for path in files if is_sheet(path)], catalogue, step)
    # Lines that a sheet of stages names are its own, not further stages.
    gpx = [path for path in files if not is_sheet(path) and path.resolve() not in sheets.track_files]
    known = with_items(catalogue, sheets.items)
    proposed = propose(gpx, known, None if way is None else _WAYS[way], step)
    accepted = tuple(accept(each) for each in proposed.proposals if each.take)
    lines = dict(sheets.tracks) | {each.stage.id: each.track for each in accepted}
    return _Material(
        sheets=sheets,
        proposed=proposed,
        accepted=accepted,
        timed=tuple(_timed(proposed, catalogue)),
        filled=fill_heights(lines, folder, catalogue.region.rasters),
    )


def _timed(proposed: Proposed, catalogue: Catalogue) -> Iterator[Stage]:
    """Stages of the library whose duplicates bring a recorded time."""
    known: dict[str, Stage] = {}
    for each in proposed.proposals:
        if each.duplicate_of is None:
            continue
        stage = known.get(each.duplicate_of) or catalogue.latest(Stage, each.duplicate_of)
        timed = None if stage is None else with_recording(each, stage)
        if timed is not None:
            known[timed.id] = timed
    yield from known.values()


def _keep(path: Path, material: _Material) -> None:
    lines = material.filled.tracks
    with _opened(path) as project, project.unit_of_work() as unit:
        for item in material.items:
            if isinstance(item, Stage) and item.id in lines:
                unit.library.add_stage(item, lines[item.id])
            else:
                unit.library.add_version(cast(Any, item))
        unit.commit()


def _opened(path: Path) -> Project:
    return open_project(path, create=True)


def _tell(planned: tuple[Change, ...], material: _Material) -> None:
    for problem in (*material.refusals, *(str(each) for each in material.sheets.problems if not each.stops)):
        say(problem)
    if material.proposed.proposals:
        heads = ("File", "Stage", "From", "To", "Length", "Up", "Shape", "Ways", "")
        print_table("", heads, (_row(each) for each in material.proposed.proposals), right=(4, 5))
        for each in material.proposed.proposals:
            for told in each.problems:
                say(f"{each.file}, {each.name}: {told}")
    for filled in material.filled.says:
        say(filled)
    for change in planned:
        if change.what != "same" and not material.refusals:
            say(f"{change.what:>7}  {change.kind} {change.id}{': ' if change.says else ''}{change.says}")


def _row(each: Proposal) -> tuple[str, ...]:
    ways = "both" if len(each.ways) > 1 else each.ways[0].value
    return (
        each.file,
        each.name,
        f"{each.start.place.name}{' (new)' if each.start.is_new else ''}",
        f"{each.end.place.name}{' (new)' if each.end.is_new else ''}",
        kilometres(each.length_m),
        metres(each.ascent_m),
        each.shape,
        ways,
        _verdict(each),
    )


def _verdict(each: Proposal) -> str:
    if each.duplicate_of is not None:
        turned = ", reversed" if each.duplicate_direction == "reversed" else ""
        return f"left out: like {each.duplicate_of}{turned}"
    if not each.take:
        return "left out"
    return f"from {len(each.merged)} parts" if each.merged else ""


def _stopped(material: _Material) -> str:
    count = len(material.refusals)
    problems = "one problem stops" if count == 1 else f"{count} problems stop"
    return f"{problems} it, so nothing was taken in: {material.refusals[0]}"


def _summary(planned: tuple[Change, ...], dry_run: bool) -> str:
    counts = {what: sum(change.what == what for change in planned) for what in ("new", "changed", "same")}
    told = f"{counts['new']} new, {counts['changed']} changed, {counts['same']} as they were"
    return f"Would be taken in: {told}. Nothing was changed." if dry_run else f"Taken in: {told}."


def _plain(planned: tuple[Change, ...], material: _Material, *, taken: bool) -> dict[str, Any]:
    return {
        "taken": taken,
        "changes": [
            {"kind": each.kind, "id": each.id, "name": each.name, "what": each.what, "says": each.says}
            for each in planned
        ],
        "lines": [_plain_line(each) for each in material.proposed.proposals],
        "problems": [_plain_problem(each) for each in material.sheets.problems]
        + [{"file": None, "says": says, "stops": True} for says in material.proposed.refusals]
        + [{"file": None, "says": says, "stops": False} for says in material.filled.says],
    }


def _plain_line(each: Proposal) -> dict[str, Any]:
    return {
        "file": each.file,
        "id": each.id,
        "name": each.name,
        "from": each.start.place.id,
        "to": each.end.place.id,
        "shape": each.shape,
        "ways": [way.value for way in each.ways],
        "distance_m": round(each.length_m, 1),
        "ascent_m": None if each.ascent_m is None else round(each.ascent_m, 1),
        "descent_m": None if each.descent_m is None else round(each.descent_m, 1),
        "merged": list(each.merged),
        "duplicate_of": each.duplicate_of,
        "problems": list(each.problems),
        "take": each.take,
    }


def _plain_problem(each: SheetProblem) -> dict[str, Any]:
    return {
        "file": each.file,
        "sheet": each.sheet or None,
        "row": each.row,
        "column": each.column,
        "says": each.says,
        "stops": each.stops,
    }
