"""Taking in, writing out and looking over a library from the command line."""

import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import rasterio
from affine import Affine

from lacet.cli import main
from lacet.store import open_project
from lacet.tracks.gpx_document import GpxLine
from lacet.tracks.track import Track
from lacet.trip.library import Lodging, Place, Stage
from tests.intake.files import gpx, line, sheet

PLACES = "id,name,latitude,longitude\nquay,Quay,44,-24\nhill,Hill,44.054,-24\n"
HOUSES = "id,name,place,latitude,longitude,check_in\ninn,The Inn,quay,44,-24,15:00-21:00\n"


@pytest.fixture
def material(tmp_path: Path) -> Path:
    """A folder as an operator has it: two sheets, a recording, notes that are no sheet."""
    folder = tmp_path / "own"
    folder.mkdir()
    sheet(folder, "places.csv", PLACES)
    sheet(folder, "lodgings.csv", HOUSES)
    sheet(folder, "notes.txt", "ring the inn")
    gpx(folder, "walks/lane.gpx", GpxLine("The lane", "", "track", line(0, 6_000)))
    return folder


def test_a_folder_of_sheets_and_tracks_becomes_a_project(
    material: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    project = tmp_path / "own.lacet"
    assert main(["import", str(project), str(material)]) == 0
    assert "Taken in: 4 new, 0 changed, 0 as they were." in capsys.readouterr().out
    with open_project(project) as opened:
        catalogue = opened.catalogue()
    (stage,) = catalogue.current(Stage)
    assert (stage.from_place, stage.to_place) == ("quay", "hill")
    assert len(catalogue.current(Place)) == 2
    assert stage.track_id in catalogue.tracks


def test_taking_in_again_changes_nothing_and_an_edited_sheet_says_what(
    material: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    project = tmp_path / "own.lacet"
    main(["import", str(project), str(material)])
    capsys.readouterr()
    assert main(["import", str(project), str(material)]) == 0
    out = capsys.readouterr().out
    assert "like the-lane" in out
    assert "Taken in: 0 new, 0 changed, 3 as they were." in out
    sheet(material, "lodgings.csv", HOUSES.replace("21:00", "20:00"))
    assert main(["import", str(project), str(material / "lodgings.csv")]) == 0
    out = capsys.readouterr().out
    assert "changed  lodging inn: check_in '15:00-21:00' -> '15:00-20:00'" in out
    with open_project(project) as opened:
        inn = opened.catalogue().latest(Lodging, "inn")
    assert inn is not None
    assert (inn.version, inn.check_in) == (2, "15:00-20:00")


def test_a_dry_run_tells_the_same_and_makes_nothing(
    material: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    project = tmp_path / "own.lacet"
    assert main(["import", str(project), str(material), "--dry-run"]) == 0
    assert "Would be taken in: 4 new" in capsys.readouterr().out
    assert not project.exists()


def test_one_bad_cell_stops_all_of_it_with_its_place(
    material: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    project = tmp_path / "own.lacet"
    sheet(material, "lodgings.csv", HOUSES.replace("15:00-21:00", "late"))
    assert main(["import", str(project), str(material)]) == 1
    said = capsys.readouterr()
    assert "lodgings.csv, row 2, column check_in: 'late'" in said.out
    assert said.err.startswith("lacet: one problem stops it, so nothing was taken in")
    assert not project.exists()


def test_one_unreadable_track_stops_all_of_it(
    material: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    sheet(material, "broken.gpx", "<gpx><trk>")
    assert main(["import", str(tmp_path / "own.lacet"), str(material)]) == 1
    assert "broken.gpx" in capsys.readouterr().err
    assert not (tmp_path / "own.lacet").exists()


def test_what_was_taken_is_told_as_plain_data(
    material: Path, tmp_path: Path, capsysbinary: pytest.CaptureFixture[bytes]
) -> None:
    assert main(["import", str(tmp_path / "own.lacet"), str(material), "--way", "walking", "--json"]) == 0
    told = json.loads(capsysbinary.readouterr().out)
    assert told["taken"] is True
    assert [(each["kind"], each["id"], each["what"]) for each in told["changes"]] == [
        ("place", "quay", "new"),
        ("place", "hill", "new"),
        ("lodging", "inn", "new"),
        ("stage", "the-lane", "new"),
    ]
    assert told["lines"][0]["ways"] == ["walking"]
    assert told["problems"] == []


def test_a_file_that_isnt_there_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["import", str(tmp_path / "own.lacet"), str(tmp_path / "nowhere.csv")]) == 1
    assert "there is no such file or folder" in capsys.readouterr().err


def test_what_is_written_out_comes_in_again_without_a_change(
    material: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    project = tmp_path / "own.lacet"
    main(["import", str(project), str(material)])
    assert main(["export", str(project), "--sheets", str(tmp_path / "out")]) == 0
    capsys.readouterr()
    assert main(["import", str(project), str(tmp_path / "out")]) == 0
    assert "Taken in: 0 new, 0 changed, 4 as they were." in capsys.readouterr().out


def test_a_template_is_written_where_asked(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["template", str(tmp_path / "empty.xlsx")]) == 0
    assert capsys.readouterr().out.strip() == str(tmp_path / "empty.xlsx")
    assert main(["import", str(tmp_path / "x.lacet"), str(tmp_path / "empty.xlsx"), "--dry-run"]) == 0


def test_what_is_missing_is_told_as_a_table_and_as_data(
    material: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    project = tmp_path / "own.lacet"
    main(["import", str(project), str(material)])
    capsys.readouterr()
    assert main(["health", str(project), "--as-of", "2026-11-25"]) == 0
    assert "no rates; add a tariff." in capsys.readouterr().out


def test_doubts_are_told_as_plain_data(
    material: Path, tmp_path: Path, capsysbinary: pytest.CaptureFixture[bytes]
) -> None:
    project = tmp_path / "own.lacet"
    main(["import", str(project), str(material)])
    capsysbinary.readouterr()
    assert main(["health", str(project), "--json"]) == 0
    told = json.loads(capsysbinary.readouterr().out)
    inn = {"kind": "lodging", "id": "inn", "name": "The Inn"}
    assert inn | {"what": "rates", "says": "no rates; add a tariff."} in told


def test_heights_nobody_recorded_come_from_the_raster_beside_the_project(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A plain slope: one metre of height for each thousandth of a degree north."""
    project = tmp_path / "own.lacet"
    rise, west, north, cell = 1000.0, -24.01, 44.06, 0.001
    rows = [(north - cell * (row + 0.5) - 44.0) * rise for row in range(80)]
    values = np.repeat(np.array(rows, np.float32)[:, None], 20, axis=1)
    with rasterio.open(
        tmp_path / "ground.tif", "w", driver="GTiff", width=20, height=80, count=1, dtype="float32",
        crs="EPSG:4326", transform=Affine(cell, 0, west, 0, -cell, north),
    ) as made:  # fmt: skip
        made.write(values, 1)
    main(["import", str(project), str(sheet(tmp_path, "places.csv", PLACES))])
    with open_project(project) as opened, opened.unit_of_work() as unit:
        unit.settings.save(replace(opened.catalogue().region, rasters=("ground.tif",)))
        unit.commit()
    points = line(0, 6_000)
    bare = Track(
        points.latitude_deg, points.longitude_deg, np.full(len(points), np.nan), points.segment_start
    )
    capsys.readouterr()
    recorded = gpx(tmp_path, "lane.gpx", GpxLine("The lane", "", "track", bare))
    assert main(["import", str(project), str(recorded)]) == 0
    assert "come from the elevation raster" in capsys.readouterr().out
    with open_project(project) as opened:
        catalogue = opened.catalogue()
        (stage,) = catalogue.current(Stage)
        kept = catalogue.tracks[stage.track_id]
    assert kept.height_m == pytest.approx((kept.latitude_deg - 44.0) * rise, abs=0.1)
