"""`lacet new` and `lacet region`: made empty, said step by step, refused in one sentence."""

import json
from pathlib import Path

import pytest

from lacet.cli import main
from lacet.store import open_project
from lacet.trip.region import EmergencyNumber, Region
from tests.small_library import write_small_project


def region_of(path: Path) -> Region:
    with open_project(path) as project:
        return project.catalogue().region


def test_a_new_project_is_empty_and_says_only_what_was_typed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "hills.lacet"
    assert main(["new", str(path)]) == 0
    assert capsys.readouterr().out.strip() == str(path)
    assert region_of(path) == Region()
    other = tmp_path / "other.lacet"
    words = ["--zone", "Atlantic/Azores", "--currency", "eur", "--country", "pt", "--part", "20",
             "--emergency", "112", "--emergency", "+999 140 mountain rescue"]  # fmt: skip
    assert main(["new", str(other), *words]) == 0
    numbers = (EmergencyNumber("112"), EmergencyNumber("+999 140", "mountain rescue"))
    assert region_of(other) == Region(
        zone="Atlantic/Azores", currency="EUR", country="PT", subdivision="20", emergency_numbers=numbers
    )


@pytest.mark.parametrize(
    ("name", "words", "says"),
    [
        ("hills.txt", [], "ends in .lacet"),
        ("hills.lacet", ["--zone", "Europe/Berlim"], "Europe/Berlin"),
        ("hills.lacet", ["--emergency", "mountain rescue"], "no number"),
    ],
)
def test_a_project_that_cant_be_made_as_asked_isnt_made(
    name: str, words: list[str], says: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["new", str(tmp_path / name), *words]) == 1
    assert says in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_a_file_that_is_there_stays(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "small.lacet"
    path.write_text("mine")
    assert main(["new", str(path)]) == 1
    assert "is there already" in capsys.readouterr().err
    assert path.read_text() == "mine"


def test_a_proposal_is_shown_and_in_force_only_when_accepted(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "small.lacet"
    assert main(["new", str(path)]) == 0
    sheet = tmp_path / "places.csv"
    sheet.write_text("id,name,latitude,longitude\nquay,Quay,37.74,-25.67\n")
    assert main(["import", str(path), str(sheet)]) == 0
    capsys.readouterr()
    assert main(["region", str(path), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["proposed"]["zone"] == "Atlantic/Azores"
    assert told["region"] == {}
    assert "time zone" in told["unset"]
    assert main(["region", str(path)]) == 0
    assert "not set" in capsys.readouterr().out
    assert region_of(path) == Region()
    assert main(["region", str(path), "--accept"]) == 0
    assert region_of(path).zone == "Atlantic/Azores"


def test_what_was_set_can_be_taken_back_and_a_refusal_changes_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "small.lacet"
    write_small_project(path)
    assert main(["region", str(path), "--zone", "Atlantic/Azores", "--emergency", "112"]) == 0
    assert main(["region", str(path), "--zone", "Nowhere", "--currency", "EUR"]) == 1
    assert "'Nowhere' is not known" in capsys.readouterr().err
    assert region_of(path).zone == "Atlantic/Azores"
    assert main(["region", str(path), "--zone", "", "--emergency", ""]) == 0
    assert (region_of(path).zone, region_of(path).emergency_numbers) == (None, ())
