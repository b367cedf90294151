"""A file dialog opens nothing it lists: an open project keeps its locks."""

import fcntl
import os
from pathlib import Path

import pytest
from PySide6.QtWidgets import QFileDialog, QTreeView
from pytestqt.qtbot import QtBot

import lacet.window
from lacet.window.file_dialogs import _dialog, ask_folder, start_in

ROOM = Path(lacet.window.__file__).parent


def locks_on(path: Path) -> int:
    """How many POSIX locks stand on a file, by the kernel's own list."""
    inode = f":{path.stat().st_ino} "
    return sum(inode in line and "POSIX" in line for line in Path("/proc/locks").read_text().splitlines())


def test_listing_a_folder_drops_no_lock_of_ours(tmp_path: Path, qtbot: QtBot) -> None:
    path = tmp_path / "library.lacet"
    path.write_bytes(b"SQLite format 3\x00" + bytes(200))
    (tmp_path / "folder").mkdir()
    with path.open("r+b") as kept:
        fcntl.lockf(kept, fcntl.LOCK_EX)
        assert locks_on(path) == 1
        dialog = _dialog(None, "Open", "All files (*)", QFileDialog.FileMode.ExistingFile, tmp_path / "x")
        dialog.setOption(QFileDialog.Option.DontUseNativeDialog)
        qtbot.addWidget(dialog)
        dialog.setViewMode(QFileDialog.ViewMode.Detail)
        dialog.show()
        view = dialog.findChild(QTreeView, "treeView")
        assert view is not None
        qtbot.waitUntil(lambda: view.model().rowCount(view.rootIndex()) == 2)
        dialog.grab()
        assert locks_on(path) == 1


def test_every_dialog_for_files_is_made_in_one_place() -> None:
    asked = [path.name for path in ROOM.rglob("*.py") if "QFileDialog" in path.read_text()]
    assert asked == ["file_dialogs.py"]


def test_the_next_dialog_begins_where_the_last_ended(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    start_in(tmp_path)
    begun: list[str] = []

    def closed_at_once(dialog: QFileDialog) -> int:
        begun.append(os.path.realpath(dialog.directory().path()))
        return 0

    monkeypatch.setattr(QFileDialog, "exec", closed_at_once)
    assert ask_folder(None, "Where to") is None
    assert begun == [os.path.realpath(tmp_path)]
