"""What is written in several files is put in place in one step, and nothing else is touched."""

import os
import sys
from pathlib import Path

import pytest

from lacet import passing
from lacet.passing import passing_folder, put_in_place


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
def test_what_only_the_old_folder_holds_stays(
    tmp_path: Path, exchanges: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    if not exchanges:
        monkeypatch.setattr(passing, "_exchanged", lambda one, other: False)
    old = filled(tmp_path / "sheets", a="old", tracks__c="old")
    with passing_folder(tmp_path) as folder:
        put_in_place(filled(folder / "made", a="new", tracks__b="new"), old)
    assert files(tmp_path) == {
        "sheets/a.csv": "new",
        "sheets/tracks/b.csv": "new",
        "sheets/tracks/c.csv": "old",
    }


def test_a_folder_with_files_of_other_kinds_stays_the_same_folder(tmp_path: Path) -> None:
    old = filled(tmp_path / "sheets", a="old")
    (old / "mine.lacet").write_text("somebody may be writing this")
    before = old.stat().st_ino
    with passing_folder(tmp_path) as folder:
        put_in_place(filled(folder / "made", a="new"), old)
    assert old.stat().st_ino == before
    assert files(old) == {"a.csv": "new", "mine.lacet": "somebody may be writing this"}


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
