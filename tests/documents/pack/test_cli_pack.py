"""The pack from the command line, as a person gets it."""

from dataclasses import replace
from pathlib import Path

import gpxpy
import icalendar
import pytest

from lacet.cli import main
from lacet.store import open_project
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


@pytest.mark.parametrize("command", [("pack",), ("proposal", "--draft")])
def test_a_raster_that_cant_be_read_is_told_and_stops_nothing(
    command: tuple[str, ...], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    project = tmp_path / "small.lacet"
    write_small_project(project)
    with open_project(project) as opened, opened.unit_of_work() as unit:
        unit.settings.save(replace(opened.catalogue().region, rasters=("gone.tif", "torn.tif")))
        unit.commit()
    (tmp_path / "torn.tif").write_bytes(b"II*\0 and no more")
    name, *more = command
    assert main([name, str(project), "1", "A", "--out", str(tmp_path / "out"), *more]) == 0
    told = capsys.readouterr().out
    assert "Maps have no relief from gone.tif: " in told
    assert "Maps have no relief from torn.tif: " in told
