"""`lacet import`: GPX files and sheets into a library, all of it or nothing."""

import argparse
from pathlib import Path
from typing import Any

from rich.progress import Progress

from lacet.cli.telling import kilometres, metres, print_json, print_table, progress, say
from lacet.intake.elevation import coverage
from lacet.intake.material import Chosen, Material, choose, files_in, look_at
from lacet.intake.plan import Change
from lacet.intake.problems import SheetProblem
from lacet.intake.proposals import Proposal
from lacet.service.importing import keep_at, library_at
from lacet.service.opening import NotFound
from lacet.trip.catalogue import Catalogue
from lacet.trip.errors import LacetError
from lacet.trip.words import Way

_WAYS = {"walking": (Way.WALKING,), "cycling": (Way.CYCLING,), "both": (Way.WALKING, Way.CYCLING)}


class NothingTakenIn(LacetError):
    """Something stops the import; the library is as it was."""


def take_in(arguments: argparse.Namespace) -> None:
    """Read everything, tell what it would change, and keep it unless only asked to say.

    A project that doesn't exist yet is made, if its name ends in .lacet and this is no dry run.
    """
    files = files_in(arguments.files)
    if not files:
        raise NotFound(
            "There is no GPX file, sheet or elevation raster among these; name files or folders of them."
        )
    catalogue, rasters = library_at(arguments.project)
    with progress("Reading") as bar:
        material = _read(files, catalogue, arguments.way, bar)
        chosen = choose(material, rasters)
    refused = bool(material.refusals)
    if not (refused or arguments.dry_run):
        with progress("Keeping"):
            keep_at(arguments.project, chosen)
    if arguments.json:
        print_json(_plain(chosen, material, taken=not (refused or arguments.dry_run)))
    else:
        _tell(chosen, material)
    if refused:
        raise NothingTakenIn(_stopped(material))
    if not arguments.json:
        say(_summary(chosen.changes, arguments.dry_run))


def _read(files: tuple[Path, ...], catalogue: Catalogue, way: str | None, bar: Progress) -> Material:
    task = bar.tasks[0].id

    def step(name: str, done: int, of: int) -> None:
        bar.update(task, description=name, completed=done, total=of)

    return look_at(files, catalogue, None if way is None else _WAYS[way], step)


def _tell(chosen: Chosen, material: Material) -> None:
    for problem in (*material.refusals, *(str(each) for each in material.sheets.problems if not each.stops)):
        say(problem)
    for without in material.proposed.without_line:
        say(without)
    if material.proposed.proposals:
        heads = ("File", "Stage", "From", "To", "Length", "Up", "Shape", "Ways", "")
        print_table("", heads, (_row(each) for each in material.proposed.proposals), right=(4, 5))
        for each in material.proposed.proposals:
            for told in (*each.problems, *_points_told(each)):
                say(f"{each.file}, {each.name}: {told}")
    for filled in (*chosen.says, *_rasters_told(material)):
        say(filled)
    for change in chosen.changes:
        if change.what != "same" and not material.refusals:
            say(f"{change.what:>7}  {change.kind} {change.id}{': ' if change.says else ''}{change.says}")


def _points_told(each: Proposal) -> tuple[str, ...]:
    if not (each.points and each.take):
        return ()
    return (f"marks of the file along it: {', '.join(point.name for point in each.points)}",)


def _rasters_told(material: Material) -> tuple[str, ...]:
    if not material.rasters:
        return ()
    names = ", ".join(raster.path.name for raster in material.rasters)
    return (f"{names}: {coverage(material.catalogue, material.rasters).says()}",)


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


def _stopped(material: Material) -> str:
    count = len(material.refusals)
    problems = "one problem stops" if count == 1 else f"{count} problems stop"
    return f"{problems} it, so nothing was taken in: {material.refusals[0]}"


def _summary(planned: tuple[Change, ...], dry_run: bool) -> str:
    counts = {what: sum(change.what == what for change in planned) for what in ("new", "changed", "same")}
    told = f"{counts['new']} new, {counts['changed']} changed, {counts['same']} as they were"
    return f"Would be taken in: {told}. Nothing was changed." if dry_run else f"Taken in: {told}."


def _plain(chosen: Chosen, material: Material, *, taken: bool) -> dict[str, Any]:
    return {
        "taken": taken,
        "changes": [
            {"kind": each.kind, "id": each.id, "name": each.name, "what": each.what, "says": each.says}
            for each in chosen.changes
        ],
        "lines": [_plain_line(each) for each in material.proposed.proposals],
        "problems": [_plain_problem(each) for each in material.sheets.problems]
        + [{"file": None, "says": says, "stops": True} for says in material.not_readable]
        + [
            {"file": None, "says": says, "stops": False}
            for says in (*material.proposed.without_line, *chosen.says)
        ],
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
        "points": [
            {"along_m": point.along_m, "kind": point.kind.value, "name": point.name} for point in each.points
        ],
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
