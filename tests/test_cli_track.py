"""`lacet track` and the manners of the command line."""

import json
from pathlib import Path

import pytest

from lacet.cli import main

GPX = """<?xml version="1.0" encoding="UTF-8"?>
<gpx version="1.1" creator="test" xmlns="http://www.topografix.com/GPX/1/1">
<trk><name>Up &amp; over [bold]</name><trkseg>
<trkpt lat="44.20" lon="-24.60"><ele>20</ele></trkpt>
<trkpt lat="44.21" lon="-24.60"><ele>120</ele></trkpt>
</trkseg></trk></gpx>"""


@pytest.fixture
def gpx(tmp_path: Path) -> Path:
    path = tmp_path / "hill.gpx"
    path.write_text(GPX, encoding="utf-8")
    return path


def test_a_track_is_told_as_plain_data(gpx: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["track", str(gpx), "--json"]) == 0
    (file,) = json.loads(capsys.readouterr().out)
    (told,) = file["lines"]
    assert (told["file"], told["name"], told["points"]) == ("hill.gpx", "Up & over [bold]", 2)
    # One hundredth of a degree of the WGS 84 meridian at 44.2 N is 1 111.2 m.
    assert told["distance_m"] == pytest.approx(1111.2, abs=0.2)
    assert told["ascent_m"] == pytest.approx(100, abs=0.1)


def test_a_file_without_a_line_tells_its_marks_and_problems(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "marks.gpx"
    path.write_text('<gpx><wpt lat="44.2" lon="-24.6"><name>Well</name></wpt><wpt lat="444" lon="0"/></gpx>')
    assert main(["track", str(path), "--json"]) == 0
    (file,) = json.loads(capsys.readouterr().out)
    assert (file["file"], file["lines"]) == ("marks.gpx", [])
    assert [mark["name"] for mark in file["marks"]] == ["Well"]
    assert file["problems"]


def test_importing_a_file_without_a_line_says_why_nothing_came(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "marks.gpx"
    path.write_text('<gpx><wpt lat="44.2" lon="-24.6"><name>Well</name></wpt></gpx>')
    assert main(["import", str(tmp_path / "new.lacet"), str(path), "--dry-run"]) == 0
    assert "marks.gpx: no line in it, only one mark" in capsys.readouterr().out


def test_names_from_files_are_never_read_as_markup(gpx: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["track", str(gpx)]) == 0
    assert "[bold]" in capsys.readouterr().out


def test_a_refused_file_gives_one_sentence_and_exit_code_1(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "broken.gpx"
    path.write_text("<gpx><trk>", encoding="utf-8")
    assert main(["track", str(path)]) == 1
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err.startswith("lacet: broken.gpx")
    assert told.err.count("\n") == 1


def test_a_missing_file_gives_one_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["stages", str(tmp_path / "none.lacet")]) == 1
    assert "there is no such file" in capsys.readouterr().err
    assert main(["track", str(tmp_path / "none.gpx")]) == 1
    assert "none.gpx" in capsys.readouterr().err


def test_a_misspelt_command_gives_exit_code_2() -> None:
    with pytest.raises(SystemExit) as left:
        main(["trak"])
    assert left.value.code == 2
