"""`lacet track`: what GPX files hold, before anything is taken in."""

import argparse
from typing import Any

from lacet.cli.telling import kilometres, metres, print_json, print_table, say
from lacet.tracks.gpx_document import GpxLine
from lacet.tracks.gpx_read import GpxFile, read_gpx
from lacet.tracks.profile import profile
from lacet.wording import rounded


def track(arguments: argparse.Namespace) -> None:
    """Tell every line of every file; a file that is refused ends the command before anything is printed."""
    read = [(path.name, read_gpx(path)) for path in arguments.files]
    if arguments.json:
        print_json([_file(name, gpx) for name, gpx in read])
        return
    told = [_line(name, line) for name, gpx in read for line in gpx.lines]
    print_table(
        "",
        ("File", "Name", "Points", "Length", "Up", "Down", "Lowest", "Highest"),
        (_row(each) for each in told),
        right=(2, 3, 4, 5, 6, 7),
    )
    for name, gpx in read:
        if gpx.waypoints:
            count = len(gpx.waypoints)
            say(f"{name}: {'one mark' if count == 1 else f'{count} marks'} beside the lines.")
        for problem in gpx.problems:
            where = f", line {problem.line_number}" if problem.line_number else ""
            say(f"{name}{where}: {problem.says}")


def _file(name: str, gpx: GpxFile) -> dict[str, Any]:
    """Everything a file holds; one without a line is told as well."""
    return {
        "file": name,
        "lines": [_line(name, line) for line in gpx.lines],
        "marks": [
            {
                "name": mark.name,
                "latitude_deg": mark.latitude_deg,
                "longitude_deg": mark.longitude_deg,
                "height_m": mark.height_m,
            }
            for mark in gpx.waypoints
        ],
        "problems": [{"line": each.line_number, "says": each.says} for each in gpx.problems],
    }


def _line(name: str, line: GpxLine) -> dict[str, Any]:
    found = profile(line.track)
    return {
        "file": name,
        "name": line.name,
        "points": len(line.track),
        "distance_m": rounded(found.length_m),
        "ascent_m": rounded(found.ascent_m),
        "descent_m": rounded(found.descent_m),
        "lowest_m": rounded(found.lowest_m),
        "highest_m": rounded(found.highest_m),
    }


def _row(told: dict[str, Any]) -> tuple[str, ...]:
    heights = (metres(told[key]) for key in ("ascent_m", "descent_m", "lowest_m", "highest_m"))
    return (
        told["file"],
        told["name"] or "(no name)",
        str(told["points"]),
        kilometres(told["distance_m"]),
        *heights,
    )
