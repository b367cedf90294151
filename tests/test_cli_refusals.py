"""Whatever a disk or a person gives the command line, it answers in one sentence and shows no traceback."""

import io
import os
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from lacet.cli import main
from lacet.store import open_project
from tests.small_library import write_small_project


@pytest.mark.parametrize(
    "words",
    [
        ("proposal", "1", "A", "--draft", "--out", "{long}"),
        ("pack", "1", "A", "--out", "{long}"),
        ("quote", "1", "A", "--out", "{long}.xlsx"),
        ("export", "--sheets", "{long}"),
        ("import", "{long}"),
    ],
    ids=lambda words: str(words[0]),
)
def test_a_path_no_disk_can_hold_is_refused_in_one_sentence(
    words: tuple[str, ...], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    project = tmp_path / "small.lacet"
    write_small_project(project)
    command, *others = (word.format(long=tmp_path / ("x" * 300)) for word in words)
    assert main([command, str(project), *others]) == 1
    told = capsys.readouterr().err
    assert told.startswith("lacet: ")
    assert "File name too long" in told
    assert told.count("\n") == 1
    assert [path.name for path in tmp_path.iterdir()] == ["small.lacet"]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--as-of", "9999-12-31"), "'9999-12-31' is outside the years 1900 to 2200"),
        (("--as-of", "0001-01-01"), "'0001-01-01' is outside the years 1900 to 2200"),
        (("--document", "0"), "'0' is no document's number; they count from 1"),
        (("--document", "-1"), "'-1' is no document's number; they count from 1"),
    ],
)
def test_days_and_numbers_that_cant_be_are_refused_before_anything_is_opened(
    words: tuple[str, ...], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as left:
        main(["quote", "nowhere.lacet", "1", "A", *words])
    assert left.value.code == 2
    assert says in capsys.readouterr().err


def test_names_can_give_a_terminal_no_commands(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    project = tmp_path / "small.lacet"
    write_small_project(project)
    with open_project(project) as opened, opened.unit_of_work() as unit:
        trip, revision = unit.trips.load(unit.trips.rows()[0].id)
        name = "Wipe \x1b[2J\x07\u202e\x9b it"
        unit.trips.save(
            replace(trip, name=name, variants=(replace(trip.variants[0], name=name),)), revision, "x"
        )
        unit.commit()
    for words in (["trips"], ["assess", "1", "A"], ["quote", "1", "A"], ["assess", "1", "nobody"]):
        main([words[0], str(project), *words[1:]])
        told = capsys.readouterr()
        assert "Wipe" in told.out + told.err
        assert not set(told.out + told.err) & set("\x1b\x07\u202e\x9b")


def test_letters_the_console_lacks_are_spelt_out(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stderr", io.TextIOWrapper(written := io.BytesIO(), encoding="cp1252"))
    assert main(["trips", str(tmp_path / "Ελλάδα.lacet")]) == 1
    sys.stderr.flush()
    assert b"\\u0395\\u03bb\\u03bb" in written.getvalue()


@pytest.mark.parametrize(
    "command",
    [
        ("quote", "{small}", "9" * 5_000, "A"),
        ("track", "{pipe}"),
        ("picture", "{small}", "quay", "/dev/zero", "--alt", "x"),
        ("import", "{small}", "{pipe}"),
        ("trips", "{pipe}"),
        ("trips", "{folder}"),
    ],
    ids=range(6),
)
def test_what_no_file_or_trip_can_be_is_refused_at_once(
    command: tuple[str, ...], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    project, pipe = tmp_path / "small.lacet", tmp_path / "pipe.gpx"
    write_small_project(project)
    os.mkfifo(pipe)
    assert main([word.format(small=project, pipe=pipe, folder=tmp_path) for word in command]) == 1
    told = capsys.readouterr().err
    assert told.startswith("lacet: ")
    assert len(told) < 1_000
    assert told.count("\n") == 1
