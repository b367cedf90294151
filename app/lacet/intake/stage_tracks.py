"""Finds the GPX file of each stage in a sheet."""

from collections.abc import Callable, Mapping
from pathlib import Path

from lacet.intake.problems import SheetProblem
from lacet.intake.rows import Row
from lacet.tracks.gpx_read import read_gpx
from lacet.tracks.track import Track
from lacet.trip.catalogue import Catalogue
from lacet.trip.errors import LacetError
from lacet.trip.library import Stage


def read_tracks(
    rows: Mapping[str, Row],
    folder_of: Mapping[str, Path],
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
        named = row.values.get("track") or f"tracks/{stage_id}.gpx"
        path = _within(folder_of[row.file], named)
        known = catalogue.latest(Stage, stage_id) is not None
        if path is None or not path.is_file():
            if not known or row.values.get("track"):
                problems.append(row.problem(f"there is no file '{named}' beside the sheet; add it.", "track"))
            continue
        try:
            tracks[stage_id] = _line(path)
        except LacetError as refusal:
            problems.append(row.problem(refusal.sentence, "track"))
    return tracks, problems


def _within(folder: Path, named: str) -> Path | None:
    """The file, or None where the name leads out of the sheet's folder."""
    path = (folder / named.replace("\\", "/")).resolve()
    return path if path.is_relative_to(folder.resolve()) else None


def _line(path: Path) -> Track:
    lines = read_gpx(path).lines
    if len(lines) != 1:
        raise LacetError(f"{path.name} holds {len(lines)} tracks; a stage needs a file with one.")
    return lines[0].track
