"""Packs are written whole or not at all, and never outside their folder."""

from pathlib import Path

import pytest

from lacet.documents.pack.writing import PackRefused, write_pack
from lacet.documents.proposal.writing import ProposalRefused, write_files

FILES = {"01 Day.gpx": b"one", "Trip.ics": b"two"}


def test_a_pack_is_a_folder_and_a_zip_of_equal_bytes_each_time(tmp_path: Path) -> None:
    folder = write_pack(FILES, tmp_path / "a", "Coast: the pack")
    write_pack(FILES, tmp_path / "b", "Coast: the pack")
    assert {each.name: each.read_bytes() for each in folder.iterdir()} == FILES
    first, second = (tmp_path / at / "Coast- the pack.zip" for at in "ab")
    assert first.read_bytes() == second.read_bytes()
    assert len(list((tmp_path / "a").iterdir())) == 2


@pytest.mark.parametrize("name", ["../out.gpx", "a/b.gpx", "CON", ".."])
def test_a_hostile_name_writes_nothing(tmp_path: Path, name: str) -> None:
    with pytest.raises(PackRefused):
        write_pack({**FILES, name: b""}, tmp_path / "in", "Pack")
    assert list(tmp_path.iterdir()) == []


def test_a_hostile_title_stays_in_the_folder_asked_for(tmp_path: Path) -> None:
    assert write_pack(FILES, tmp_path / "in", "../../out").parent == tmp_path / "in"
    assert [each.name for each in tmp_path.iterdir()] == ["in"]


def test_a_pack_that_is_there_is_kept(tmp_path: Path) -> None:
    folder = write_pack(FILES, tmp_path, "Pack")
    with pytest.raises(PackRefused, match="there already"):
        write_pack({"other": b""}, tmp_path, "Pack")
    assert len(list(folder.iterdir())) == 2


def test_a_place_no_disk_can_hold_is_refused_in_a_sentence_that_names_it(tmp_path: Path) -> None:
    place = tmp_path / ("x" * 300)
    with pytest.raises(PackRefused, match=r"The pack can't be written to .*x: File name too long"):
        write_pack({"a.gpx": b"1"}, place, "Trip")
    with pytest.raises(ProposalRefused, match=r"The proposal can't be written to .*x: File name too long"):
        write_files({"a.pdf": b"1"}, place)
    assert list(tmp_path.iterdir()) == []
