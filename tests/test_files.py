"""Every path a person gives is looked at before anything reads it."""

import ast
import os
from pathlib import Path

import pytest

from lacet import files as border
from lacet.files import FileRefused, is_there, may_be_read, need_file, same_content, whole, within


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
        str(refused.value).encode()
        assert str(refused.value).isprintable()
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


def test_a_folder_is_walked_by_name_and_no_link_is_followed(tmp_path: Path) -> None:
    for name in ("b/z.gpx", "b/a/y.gpx", "a.gpx"):
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_bytes(b"")
    (tmp_path / "b" / "round").symlink_to(tmp_path)
    found = [str(each.relative_to(tmp_path)) for each in within(tmp_path)]
    assert found == ["a.gpx", "b/a/y.gpx", "b/round", "b/z.gpx"]


def test_a_disk_named_by_mistake_is_refused_before_it_is_walked(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "/".join("abcdefghijklmn")).mkdir(parents=True)
    with pytest.raises(FileRefused, match="more than 12 deep; name one within it"):
        within(tmp_path)
    monkeypatch.setattr(border, "_MOST_FILES", 3)
    for number in range(4):
        (tmp_path / f"{number}.gpx").write_bytes(b"")
    with pytest.raises(FileRefused, match="more than 3 files"):
        within(tmp_path)


def test_a_folder_that_may_not_be_listed_is_told_not_left_out(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def shut(path: Path) -> None:
        raise PermissionError(13, "Permission denied", str(path))

    monkeypatch.setattr("os.scandir", shut)
    with pytest.raises(FileRefused, match="you may not read it"):
        within(tmp_path)


# What looks into files by itself, and whose files these are.
OPENS = {
    "demo/building.py": "sources that ship",
    "demo/journeys.py": "sources that ship",
    "days/region.py": "sources that ship",
    "days/zones.py": "sources that ship",
    "documents/language.py": "sources that ship",
    "documents/proposal/html.py": "sources that ship",
    "documents/side_by_side/html.py": "sources that ship",
    "documents/typeset/setting.py": "sources that ship",
    "intake/elevation.py": "rasters, once they were opened",
    "licences.py": "sources that ship",
    "files.py": "the border itself",
    "passing.py": "folders of our own making",
    "store/copies.py": "copies of our own making",
    "store/guard.py": "the project, under the lock",
    "store/lock.py": "the project, under the lock",
    "store/making.py": "the project, under the lock",
    "store/shares.py": "the system's table of mounts",
    "store/standing.py": "the project, under the lock",
    "tracks/picture_tiles.py": "rasters, once need_file let them pass",
    "tracks/raster.py": "rasters, once need_file let them pass",
    "tracks/relief.py": "pictures of our own making",
    "window/app.py": "the demo",
    "window/map/page.py": "pictures of our own making",
    "window/map/web.py": "pictures of our own making",
}
OPENING = {"read_text", "read_bytes", "iterdir", "glob", "rglob", "scandir", "listdir", "walk", "copyfile"}


def test_nothing_looks_into_a_path_but_through_the_border() -> None:
    package = Path(border.__file__).parent
    found = {str(each.relative_to(package)) for each in package.rglob("*.py") if opens_by_itself(each)}
    assert found == OPENS.keys()


def opens_by_itself(source: Path) -> bool:
    """Whether code calls what opens a file or lists a folder."""
    for node in ast.walk(ast.parse(source.read_text())):
        if isinstance(node, ast.Call):
            called = node.func
            if isinstance(called, ast.Name) and called.id == "open":
                return True
            if isinstance(called, ast.Attribute) and (called.attr in OPENING or _is_an_opening(node, called)):
                return True
    return False


def _is_an_opening(call: ast.Call, called: ast.Attribute) -> bool:
    """`path.open("rb")`, `os.open(...)` and `rasterio.open(...)`, not opening what isn't a path."""
    if called.attr != "open":
        return False
    if isinstance(called.value, ast.Name) and called.value.id in ("os", "io", "rasterio", "tarfile", "gzip"):
        return True
    return bool(call.args) and isinstance(call.args[0], ast.Constant)
