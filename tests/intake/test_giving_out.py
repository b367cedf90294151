"""Sheets are written whole or not at all, and a refusal is a sentence that names the place."""

from dataclasses import replace
from pathlib import Path

import pytest

from lacet.intake.sheets import read_sheets
from lacet.intake.write import NotGivenOut, write_csv_folder, write_template
from lacet.trip.catalogue import catalogue_of
from lacet.trip.library import Place, Stage
from tests.intake.files import Tracks, library, line, said


def test_a_template_is_never_written_over_another_file(tmp_path: Path) -> None:
    mine = tmp_path / "mine.xlsx"
    mine.write_bytes(b"filled in for hours")
    with pytest.raises(NotGivenOut, match=r"mine\.xlsx is there already"):
        write_template(mine)
    assert mine.read_bytes() == b"filled in for hours"


def test_a_template_must_be_called_a_workbook(tmp_path: Path) -> None:
    with pytest.raises(NotGivenOut, match=r"must end in \.xlsx"):
        write_template(tmp_path / "verrin.lacet")
    assert list(tmp_path.iterdir()) == []


def test_a_template_in_a_folder_that_is_a_file_is_refused_in_a_sentence(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    with pytest.raises(NotGivenOut, match=r"own\.xlsx can't be written: "):
        write_template(tmp_path / "file" / "own.xlsx")


@pytest.mark.parametrize("name", ["file", "file/deeper", "x" * 300])
def test_sheets_that_have_no_folder_to_go_to_are_refused_in_a_sentence(tmp_path: Path, name: str) -> None:
    (tmp_path / "file").write_text("x")
    with pytest.raises(NotGivenOut, match=r"can't be written: "):
        write_csv_folder(library(), tmp_path / name)
    assert [path.name for path in tmp_path.iterdir()] == ["file"]


def test_a_disk_that_is_full_halfway_leaves_the_sheets_of_before(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "places.csv").write_text("of before")
    write = Path.write_bytes
    written: list[str] = []

    def until_full(path: Path, content: bytes) -> int:
        if written:
            raise OSError(28, "No space left on device")
        written.append(path.name)
        return write(path, content)

    monkeypatch.setattr(Path, "write_bytes", until_full)
    with pytest.raises(NotGivenOut, match="No space left"):
        write_csv_folder(library(), tmp_path)
    assert written == ["places.csv"]
    assert [path.name for path in tmp_path.iterdir()] == ["places.csv"]
    assert (tmp_path / "places.csv").read_text() == "of before"


def test_sheets_never_mix_with_what_else_lies_in_a_folder(tmp_path: Path) -> None:
    write_csv_folder(library(), tmp_path / "sheets")
    (tmp_path / "sheets" / "tracks" / "gone.gpx").write_text("of a stage that is no more")
    (tmp_path / "sheets" / "notes.txt").write_text("mine")
    before = (tmp_path / "sheets" / "places.csv").stat().st_ino
    with pytest.raises(NotGivenOut, match=r"\(notes\.txt and 1 more\); move it away or"):
        write_csv_folder(library(), tmp_path / "sheets")
    assert (tmp_path / "sheets" / "places.csv").stat().st_ino == before
    assert [each.name for each in tmp_path.iterdir()] == ["sheets"]


def test_a_stage_whose_id_climbs_out_of_the_folder_is_written_within_it_and_read_again(
    tmp_path: Path,
) -> None:
    lane = replace(library().current(Stage)[0], id="../../../escaped")
    climbing = catalogue_of((*library().current(Place), lane), Tracks({lane.track_id: line(0, 6_000)}))
    out = tmp_path / "a" / "b"
    written = write_csv_folder(climbing, out)
    assert all(path.resolve().is_relative_to(out) for path in written)
    assert sorted(path.name for path in tmp_path.rglob("*.gpx")) == ["..%2F..%2F..%2Fescaped.gpx"]
    read = read_sheets(sorted(out.glob("*.csv")))
    assert said(read) == []
    assert lane.id in {item.id for item in read.items if isinstance(item, Stage)}
