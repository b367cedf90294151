"""Finds the GPX file of each stage in a sheet."""

from collections.abc import Callable, Mapping
from pathlib import Path

from lacet.files import may_be_read
from lacet.intake.problems import SheetProblem
from lacet.intake.rows import Row
from lacet.tracks.gpx_read import read_gpx
from lacet.tracks.track import Track
from lacet.trip.catalogue import Catalogue
from lacet.trip.errors import LacetError
from lacet.trip.library import Stage


def find_files(rows: Mapping[str, Row], folder_of: Mapping[str, Path]) -> dict[str, Path]:
    """The file each stage names, or `tracks/<id>.gpx`, where it is there."""
    found = {}
    for stage_id, row in rows.items():
        path = _within(folder_of[row.file], row.values.get("track") or f"tracks/{stage_id}.gpx")
        if path is not None and may_be_read(path):
            found[stage_id] = path
    return found


def read_tracks(
    rows: Mapping[str, Row],
    found: Mapping[str, Path],
    catalogue: Catalogue,
    progress: Callable[[str, int, int], None] | None,
) -> tuple[dict[str, Track], list[SheetProblem]]:
    """Where stages run, by stage id, and what is wrong with their files.

    A stage that the library holds keeps its line where the sheet brings no file; a new one needs one.
    """
    tracks: dict[str, Track] = {}
    problems: list[SheetProblem] = []
    for number, (stage_id, row) in enumerate(rows.items()):
        if progress is not None:
            progress("Reading tracks", number, len(rows))
        if stage_id in found:
            try:
                tracks[stage_id] = _line(found[stage_id])
            except LacetError as refusal:
                problems.append(row.problem(str(refusal), "track"))
        elif row.values.get("track") or catalogue.latest(Stage, stage_id) is None:
            named = row.values.get("track") or f"tracks/{stage_id}.gpx"
            problems.append(row.problem(f"there is no file '{named}' beside the sheet; add it.", "track"))
    return tracks, problems


def _within(folder: Path, named: str) -> Path | None:
    """The file, or None where the name leads out of the sheet's folder."""
    try:
        path = (folder / named.replace("\\", "/")).resolve()
    except (OSError, ValueError):
        # Half letters, NUL and endless links are no names of files.
        return None
    return path if path.is_relative_to(folder.resolve()) else None


def _line(path: Path) -> Track:
    lines = read_gpx(path).lines
    if len(lines) != 1:
        raise LacetError(
            "{name} holds {count} tracks; a stage needs a file with one.", name=path.name, count=len(lines)
        )
    return lines[0].track
