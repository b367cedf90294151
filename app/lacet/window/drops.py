"""Files dropped on a window: taken when something in them can be brought in."""

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtCore import QEvent, QMimeData, QObject
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QWidget

from lacet.files import FileRefused, is_folder


class FileDrops(QObject):
    """Watches a widget for dropped files and calls `bring` with them; other drops pass by."""

    def __init__(self, widget: QWidget, bring: Callable[[Sequence[Path]], None]) -> None:
        super().__init__(widget)
        self._bring = bring
        widget.setAcceptDrops(True)
        widget.installEventFilter(self)

    # --- Qt overrides

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        # A drop is a kind of drag enter event in Qt's eyes, so types are asked for as well.
        wanted = event.type() in (QEvent.Type.DragEnter, QEvent.Type.Drop)
        if wanted and isinstance(event, QDragEnterEvent | QDropEvent):
            paths = files_of(event.mimeData())
            if paths:
                event.acceptProposedAction()
                if event.type() == QEvent.Type.Drop:
                    self._bring(paths)
                return True
        return super().eventFilter(watched, event)


def files_of(data: QMimeData) -> list[Path]:
    """The files and folders on this disk among what is dragged that may be brought in."""
    return [path for path in map(Path, _local(data)) if _may_be_brought(path)]


def _local(data: QMimeData) -> list[str]:
    return [url.toLocalFile() for url in data.urls() if url.isLocalFile()]


def _may_be_brought(path: Path) -> bool:
    # Late: whoever drops nothing needn't wait for the readers at start.
    from lacet.intake.elevation import is_raster
    from lacet.intake.material import is_gpx
    from lacet.intake.sheets import is_sheet

    try:
        return is_gpx(path) or is_sheet(path) or is_raster(path) or is_folder(path)
    except FileRefused:
        # Taken, so that the reading says what is the matter with it.
        return True
