"""Which project is open: new, open, recent. Another project gets its own window; this one closes."""

from pathlib import Path

from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QWidget

from lacet.files import is_there, may_be_read
from lacet.window.file_dialogs import ask_file, ask_save

RECENT = "projects/recent"
MOST_RECENT = 8
KIND = "Lacet projects (*.lacet)"


def recent() -> list[Path]:
    """Projects opened lately that are still there, newest first."""
    kept = QSettings().value(RECENT) or []
    paths = [Path(str(each)) for each in ([kept] if isinstance(kept, str) else kept)]
    return [path for path in paths if may_be_read(path)]


def last() -> Path | None:
    """The project opened last, whether it is still there or not; None before the first."""
    kept = QSettings().value(RECENT) or []
    paths = [kept] if isinstance(kept, str) else kept
    return Path(str(paths[0])) if paths else None


def remember(path: Path) -> None:
    """Put a project first among the recent ones."""
    others = [str(each) for each in recent() if each != path]
    QSettings().setValue(RECENT, [str(path), *others][:MOST_RECENT])


def ask_open(parent: QWidget | None) -> Path | None:
    """A project file that is there."""
    return ask_file(parent, "Open a project", KIND)


def ask_new(parent: QWidget | None) -> Path | None:
    """Where a new library is to be kept; always ends in .lacet."""
    chosen = ask_save(parent, "New library", "library.lacet", KIND)
    if chosen is None:
        return None
    path = chosen[0]
    return path if path.suffix == ".lacet" else path.with_name(f"{path.name}.lacet")


def ask_elsewhere(parent: QWidget | None, lost: Path) -> Path | None:
    """Where what is left of a lost project is to be kept; always ends in .lacet."""
    chosen = ask_save(parent, "Save elsewhere", lost.name, KIND, may_overwrite=False)
    return None if chosen is None else chosen[0].with_suffix(".lacet")


def new_library(parent: QWidget | None) -> Path | None:
    """Ask where a new library is kept and where it is on earth, and make it; None when nobody wants one.

    Raises
    ------
    LacetError
        When it can't be made there. A file that is there already is left as it is.
    """
    from lacet.service.opening import make_project
    from lacet.window.dialogs.region_form import RegionDialog

    path = ask_new(parent)
    if path is None or is_there(path):
        return path
    make_project(path, RegionDialog.ask(parent))
    return path
