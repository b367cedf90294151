"""Every path a person gives is looked at before anything reads it."""

import os
from pathlib import Path

import pytest

from lacet.files import FileRefused, is_there, may_be_read, need_file, same_content, whole


def _pipe(folder: Path) -> Path:
    path = folder / "pipe.csv"
    os.mkfifo(path)
    return path


def test_a_pipe_is_refused_without_waiting_for_its_writer(tmp_path: Path) -> None:
    path = _pipe(tmp_path)
    for read in (lambda: whole(path, 10), lambda: need_file(path)):
        with pytest.raises(FileRefused, match="a pipe or a device, not a file"):
            read()


def test_a_device_that_never_ends_is_refused() -> None:
    with pytest.raises(FileRefused, match="a pipe or a device"):
        whole(Path("/dev/zero"), 10)


def test_a_folder_is_told_to_be_one(tmp_path: Path) -> None:
    for read in (lambda: whole(tmp_path, 10), lambda: need_file(tmp_path)):
        with pytest.raises(FileRefused, match="this is a folder"):
            read()


def test_a_file_larger_than_its_kind_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "look.toml"
    path.write_bytes(b"x" * 64_001)
    with pytest.raises(FileRefused, match=r"look\.toml: it is larger than 64 kB"):
        whole(path, 64_000)


@pytest.mark.parametrize(
    "name", ["a\0b.gpx", "\ud800.gpx", "n" * 300 + ".gpx", "missing.gpx", "file/beneath.gpx"]
)
def test_what_is_no_name_of_a_file_is_refused_in_a_sentence(tmp_path: Path, name: str) -> None:
    (tmp_path / "file").write_bytes(b"")
    path = tmp_path / name
    for read in (lambda: whole(path, 10), lambda: need_file(path)):
        with pytest.raises(FileRefused) as refused:
            read()
        refused.value.sentence.encode()
        assert refused.value.sentence.isprintable()
    assert not may_be_read(path)


def test_a_link_that_leads_to_itself_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "round.gpx"
    path.symlink_to(path)
    for read in (lambda: whole(path, 10), lambda: need_file(path), lambda: is_there(path)):
        with pytest.raises(FileRefused, match="leads back to itself"):
            read()


def test_a_folder_nobody_may_enter_is_told_as_such(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def shut(path: Path, **_: object) -> os.stat_result:
        raise PermissionError(13, "Permission denied", str(path))

    monkeypatch.setattr(Path, "stat", shut)
    with pytest.raises(FileRefused, match="you may not read it"):
        is_there(tmp_path / "a.lacet")


def test_files_are_the_same_when_every_byte_is(tmp_path: Path) -> None:
    for name, content in (("a", b"12"), ("b", b"12"), ("c", b"13"), ("d", b"1")):
        (tmp_path / name).write_bytes(content)
    assert same_content(tmp_path / "a", tmp_path / "b")
    assert not same_content(tmp_path / "a", tmp_path / "c")
    assert not same_content(tmp_path / "a", tmp_path / "d")
