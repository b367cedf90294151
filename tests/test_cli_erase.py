"""`lacet erase` as a person and a script get it."""

import json
from pathlib import Path

import pytest

from lacet.cli import main
from lacet.store import open_project
from lacet.trip.library import Place
from lacet.trip.party import Party, Traveller
from lacet.trip.trip import Trip

GUEST = "Marigold Quillfeather"


@pytest.fixture
def project(tmp_path: Path) -> Path:
    path = tmp_path / "small.lacet"
    party = Party(travellers=(Traveller(id="t1", name=GUEST),))
    with open_project(path, create=True) as opened, opened.unit_of_work() as unit:
        unit.trips.save(Trip(id="quillfeather", name="In May", party=party), 0, "new")
        unit.trips.save(Trip(id="trip-2", name="June", note=f"like {GUEST}"), 0, "new")
        unit.trips.save(Trip(id="trip-3", name="June"), 0, "new")
        unit.commit()
    return path


def test_without_yes_it_only_says_what_would_go(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["erase", str(project), "In May"]) == 0
    told = capsys.readouterr().out
    assert "Nothing was erased yet of 'In May'" in told
    assert "What can't be reached" in told
    with open_project(project) as opened, opened.reading() as unit:
        assert unit.trips.load("quillfeather")[0].party.travellers[0].name == GUEST


def test_with_yes_it_tells_where_they_are_still_named(
    project: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["erase", str(project), "quillfeather", "--yes", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["trip"].startswith("trip-")
    assert [(each["trip"], each["sure"]) for each in told["mentions"]] == [("trip-2", True)]
    assert told["texts_read"] > 0
    assert (told["written"], told["redacted"]) == ([], [])


def test_with_redact_the_names_go_there_too(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["erase", str(project), "In May", "--yes", "--redact"]) == 0
    assert "Names taken out of: June." in " ".join(capsys.readouterr().out.split())
    with open_project(project) as opened, opened.reading() as unit:
        assert unit.trips.load("trip-2")[0].note == "like [erased]"


def test_of_two_trips_of_one_name_the_ids_are_told(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["erase", str(project), "June", "--yes"]) == 1
    said = " ".join(capsys.readouterr().err.split())
    assert "more than one trip called 'June'" in said
    assert "'June' (trip-2)" in said
    assert "'June' (trip-3)" in said
    assert "In May" not in said


def test_files_of_the_trip_are_deleted_only_when_asked(
    project: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    sent, other = tmp_path / "sent.lacet", tmp_path / "other.lacet"
    with open_project(project) as opened:
        opened.export_trip("quillfeather", sent)
        opened.export_trip("trip-3", other)
    assert main(["erase", str(project), "In May", "--yes", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert (told["deleted"], sent.exists()) == ([], True)
    assert main(["erase", str(project), told["trip"], "--yes", "--delete-files", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["deleted"] == [str(sent)]
    assert (sent.exists(), other.exists()) == (False, True)


def test_sheets_of_the_library_are_told_and_not_deleted(
    project: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    sheets = tmp_path / "sheets"
    with open_project(project) as opened, opened.unit_of_work() as unit:
        unit.library.add_version(Place(id="quay", name="Quay", latitude_deg=44.0, longitude_deg=-24.0))
        unit.commit()
    assert main(["export", str(project), "--sheets", str(sheets)]) == 0
    capsys.readouterr()
    assert main(["erase", str(project), "In May", "--yes", "--delete-files", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert [(each["path"], each["kind"], each["still_there"]) for each in told["written"]] == [
        (str(sheets), "sheets", True)
    ]
    assert (told["deleted"], sheets.exists()) == ([], True)
