"""The pack from the command line, as a person gets it."""

from pathlib import Path

import gpxpy
import icalendar
import pytest

from lacet.cli import main
from tests.small_library import write_small_project


def test_a_pack_holds_each_day_the_trip_and_the_calendar(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    project = tmp_path / "small.lacet"
    write_small_project(project)
    assert main(["pack", str(project), "1", "A", "--out", str(tmp_path / "out")]) == 0
    folder = Path(capsys.readouterr().out.splitlines()[0])
    files = sorted(folder.glob("*.gpx"))
    assert len(files) == 3, "the trip, and two days with a leg"
    for file in files:
        assert gpxpy.parse(file.read_text(encoding="utf-8")).tracks
    assert icalendar.Calendar.from_ical((folder / "calendar.ics").read_bytes())["version"] == "2.0"
    # A second time nothing is overwritten, and a sentence says so.
    assert main(["pack", str(project), "1", "A", "--out", str(tmp_path / "out")]) == 1
    assert "is there already" in capsys.readouterr().err
