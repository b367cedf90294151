"""The first picture: the window's frame with what was last seen of the project, while the rest is loaded.

Nothing heavy is imported here. What it says is what the totals said when the project was last closed; no name
is kept, since a trip is often called after its guests and these settings lie outside the project.
"""

import hashlib
from pathlib import Path

from PySide6.QtCore import QByteArray, QSettings, Qt
from PySide6.QtWidgets import QApplication, QFrame, QVBoxLayout, QWidget

from lacet.window.parts import label

GEOMETRY = "window/geometry"
USUAL_SIZE = (1280, 800)


def key_of(path: Path) -> str:
    """What is remembered of a project stands under this; not its name."""
    return f"opening/{hashlib.blake2b(str(path).encode(), digest_size=8).hexdigest()}"


def keep_last_seen(path: Path, totals: str) -> None:
    """Remember what the first picture of this project says next time."""
    QSettings().setValue(key_of(path), totals)


def last_seen(path: Path) -> str:
    """The totals as they were when the project was last closed; empty for one never seen."""
    return str(QSettings().value(key_of(path), ""))


def place_window(window: QWidget) -> None:
    """Where the window stood last, else at its usual size."""
    geometry = QSettings().value(GEOMETRY)
    if isinstance(geometry, QByteArray):
        window.restoreGeometry(geometry)
    else:
        window.resize(*USUAL_SIZE)


class Opening(QWidget):
    """Stands where the window will stand."""

    def __init__(self, path: Path | None) -> None:
        super().__init__()
        self.setWindowTitle("Lacet")
        head = QFrame()
        head.setObjectName("raised")
        lines = QVBoxLayout(head)
        lines.setContentsMargins(12, 9, 12, 9)
        lines.addWidget(label(path.stem if path is not None else "Lacet", "Project"))
        lines.addWidget(label(last_seen(path) if path is not None else "", "Totals as last seen", quiet=True))
        says = label("Opening…" if path is None else f"Opening {path.name}…", "What happens", quiet=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(head)
        column.addWidget(says, 1, Qt.AlignmentFlag.AlignCenter)
        place_window(self)

    def show_now(self) -> None:
        """Show it and have it painted before anything else is done."""
        self.show()
        QApplication.processEvents()
