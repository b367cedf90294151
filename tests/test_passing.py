"""What is written in several files is put in place in one step, and nothing else is touched."""

import os
import sys
from pathlib import Path

import pytest

from lacet import passing
from lacet.passing import OthersThere, passing_folder, put_in_place


def files(folder: Path) -> dict[str, str]:
    return {str(each.relative_to(folder)): each.read_text() for each in folder.rglob("*") if each.is_file()}


def filled(folder: Path, **contents: str) -> Path:
    for name, text in contents.items():
        target = folder / (name.replace("__", "/") + ".csv")
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(text)
    return folder


def test_a_new_folder_gets_its_place(tmp_path: Path) -> None:
    with passing_folder(tmp_path) as folder:
        put_in_place(filled(folder / "made", a="new", tracks__b="new"), tmp_path / "sheets")
    assert files(tmp_path) == {"sheets/a.csv": "new", "sheets/tracks/b.csv": "new"}


@pytest.mark.parametrize("exchanges", [True, False])
def test_hidden_files_stay_and_former_ones_go(
    tmp_path: Path, exchanges: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    if not exchanges:
        monkeypatch.setattr(passing, "_exchanged", lambda one, other: False)
    old = filled(tmp_path / "sheets", a="old", tracks__b="old", former="old")
    (old / ".view").write_text("the system's")
    with passing_folder(tmp_path) as folder:
        put_in_place(filled(folder / "made", a="new", tracks__b="new"), old, ["former.csv"])
    assert files(tmp_path) == {
        "sheets/a.csv": "new",
        "sheets/tracks/b.csv": "new",
        "sheets/.view": "the system's",
    }


@pytest.mark.parametrize(
    "name", ["mine.lacet", "other.csv", "tracks/mine.gpx", "mine/deep/a.csv", ".git/head"]
)
def test_a_folder_with_anything_else_in_it_is_left_as_it_is(tmp_path: Path, name: str) -> None:
    old = filled(tmp_path / "sheets", a="old")
    (old / name).parent.mkdir(parents=True, exist_ok=True)
    (old / name).write_text("somebody's")
    with passing_folder(tmp_path) as folder, pytest.raises(OthersThere) as others:
        put_in_place(filled(folder / "made", a="new", tracks__b="new"), old)
    assert len(others.value.names) == 1
    assert name.startswith(others.value.names[0])
    assert files(old) == {"a.csv": "old", name: "somebody's"}


def test_what_is_laid_there_meanwhile_stays(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    old = filled(tmp_path / "sheets", a="old")
    exchanged = passing._exchanged

    def laid(one: Path, other: Path) -> bool:
        (old / "mine.txt").write_text("somebody's")
        return exchanged(one, other)

    monkeypatch.setattr(passing, "_exchanged", laid)
    with passing_folder(tmp_path) as folder:
        put_in_place(filled(folder / "made", a="new"), old)
    assert files(old) == {"a.csv": "new", "mine.txt": "somebody's"}


def test_a_link_to_a_folder_stays_one(tmp_path: Path) -> None:
    old = filled(tmp_path / "far" / "sheets", a="old")
    link = tmp_path / "sheets"
    link.symlink_to(old)
    with passing_folder(tmp_path) as folder:
        put_in_place(filled(folder / "made", a="new"), link)
    assert link.is_symlink()
    assert files(old) == {"a.csv": "new"}


@pytest.mark.skipif(sys.platform != "linux", reason="elsewhere each file is replaced on its own")
def test_at_no_moment_are_old_and_new_mixed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    old = filled(tmp_path / "sheets", a="old", b="old")
    seen = []

    def watch(event: str, arguments: tuple[object, ...]) -> None:
        if watching and event.startswith(("os.", "open")):
            watching.clear()
            seen.append(frozenset(each.read_text() for each in old.glob("*.csv")))
            watching.append(True)

    watching: list[bool] = []
    sys.addaudithook(watch)
    with passing_folder(tmp_path) as folder:
        made = filled(folder / "made", a="new", b="new")
        watching.append(True)
        put_in_place(made, old)
        watching.clear()
    assert seen
    assert set(seen) <= {frozenset({"old"}), frozenset({"new"})}
    assert files(old) == {"a.csv": "new", "b.csv": "new"}
    assert os.listdir(tmp_path) == ["sheets"]
