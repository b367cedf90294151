"""Asking for files and folders: the one place that does, since a file dialog must open nothing it lists.

Closing any descriptor of an SQLite file drops that process's locks on it, whoever opened it, and Qt's own
icons look into files. So icons here are told from names alone (https://sqlite.org/howtocorrupt.html, 2.2).
"""

from collections.abc import Sequence
from functools import cache
from pathlib import Path

from PySide6.QtCore import QDir, QFileInfo, QSettings, QStandardPaths
from PySide6.QtGui import QAbstractFileIconProvider, QIcon
from PySide6.QtWidgets import QApplication, QFileDialog, QStyle, QWidget

LAST_FOLDER = "folders/last"


class NamesOnly(QAbstractFileIconProvider):
    """Icons by what a name says: a folder or a file."""

    # --- Qt overrides

    def icon(self, what: "QAbstractFileIconProvider.IconType | QFileInfo") -> QIcon:
        if isinstance(what, QFileInfo):
            folder = what.isDir()
        else:
            folder = what is not QAbstractFileIconProvider.IconType.File
        kind = QStyle.StandardPixmap.SP_DirIcon if folder else QStyle.StandardPixmap.SP_FileIcon
        return QApplication.style().standardIcon(kind)

    def type(self, info: QFileInfo) -> str:
        return "Folder" if info.isDir() else info.suffix()


def ask_file(parent: QWidget | None, title: str, kinds: str, named: Path | str = "") -> Path | None:
    """A file that is there; None when nobody chose one."""
    chosen = _asked(_dialog(parent, title, kinds, QFileDialog.FileMode.ExistingFile, named))
    return chosen[0] if chosen else None


def ask_files(parent: QWidget | None, title: str, kinds: str) -> Sequence[Path]:
    """Files that are there; none when nobody chose any."""
    return _asked(_dialog(parent, title, kinds, QFileDialog.FileMode.ExistingFiles))


def ask_folder(parent: QWidget | None, title: str) -> Path | None:
    """A folder that is there."""
    chosen = _asked(_dialog(parent, title, "", QFileDialog.FileMode.Directory))
    return chosen[0] if chosen else None


def ask_save(
    parent: QWidget | None, title: str, named: Path | str, kinds: str, *, may_overwrite: bool = True
) -> tuple[Path, str] | None:
    """Where a file is to be written, and the kind chosen; asks before one is written over."""
    dialog = _dialog(parent, title, kinds, QFileDialog.FileMode.AnyFile, named)
    dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
    if not may_overwrite:
        dialog.setOption(QFileDialog.Option.DontConfirmOverwrite)
    chosen = _asked(dialog)
    return (chosen[0], dialog.selectedNameFilter()) if chosen else None


def start_in(folder: Path) -> None:
    """Let the next dialog begin in a folder: that of the project, or the last one chosen from."""
    QSettings().setValue(LAST_FOLDER, str(folder))


def _start() -> str:
    kept = str(QSettings().value(LAST_FOLDER, ""))
    if kept and QDir(kept).exists():
        return kept
    return (
        QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation) or QDir.homePath()
    )


def _dialog(
    parent: QWidget | None, title: str, kinds: str, mode: QFileDialog.FileMode, named: Path | str = ""
) -> QFileDialog:
    path = Path(named)
    folder = str(path.parent) if path.is_absolute() else _start()
    dialog = QFileDialog(parent, title, folder, kinds)
    dialog.setFileMode(mode)
    if mode is QFileDialog.FileMode.Directory:
        dialog.setOption(QFileDialog.Option.ShowDirsOnly)
    dialog.setIconProvider(_names_only())
    if path.name:
        dialog.selectFile(path.name)
    return dialog


def _asked(dialog: QFileDialog) -> tuple[Path, ...]:
    """Show it and wait; tests replace this."""
    try:
        if not dialog.exec():
            return ()
        chosen = tuple(Path(each) for each in dialog.selectedFiles())
    finally:
        dialog.deleteLater()
    if chosen:
        start_in(chosen[0] if dialog.fileMode() is QFileDialog.FileMode.Directory else chosen[0].parent)
    return chosen


@cache
def _names_only() -> NamesOnly:
    """One for the program's life: a dialog keeps a pointer to it and doesn't own it."""
    return NamesOnly()
