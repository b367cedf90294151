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
    told = [_line(name, gpx, line) for name, gpx in read for line in gpx.lines]
    if arguments.json:
        print_json(told)
        return
    print_table(
        "",
        ("File", "Name", "Points", "Length", "Up", "Down", "Lowest", "Highest"),
        (_row(each) for each in told),
        right=(2, 3, 4, 5, 6, 7),
    )
    for name, gpx in read:
        for problem in gpx.problems:
            where = f", line {problem.line_number}" if problem.line_number else ""
            say(f"{name}{where}: {problem.says}")


def _line(name: str, gpx: GpxFile, line: GpxLine) -> dict[str, Any]:
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
        "problems": [problem.says for problem in gpx.problems],
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
