"""The pictures of an item: small ones in a row, each with the words that tell it."""

from typing import Any

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QIcon, QPixmap
from PySide6.QtWidgets import QHBoxLayout, QListWidget, QListWidgetItem, QVBoxLayout, QWidget

from lacet.window.library.fields import DeskKind
from lacet.window.parts import label, tool_button
from lacet.window.qt_session import QtSession

SIDE_PX = 64


class PicturesRow(QWidget):
    """Shown for kinds that have pictures. `changed` when the person has changed which, or their order."""

    changed = Signal()

    def __init__(self, session: QtSession, kind: DeskKind, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.ids: tuple[str, ...] = ()
        self._has = "picture_ids" in kind.makes.__dataclass_fields__
        self.list = QListWidget()
        self.list.setAccessibleName("Pictures")
        self.list.setFlow(QListWidget.Flow.LeftToRight)
        self.list.setIconSize(QSize(SIDE_PX, SIDE_PX))
        self.list.setFixedHeight(SIDE_PX + 34)
        buttons = QHBoxLayout()
        buttons.addWidget(label("Pictures"))
        buttons.addStretch(1)
        buttons.addWidget(
            tool_button("to the front", "Documents show it first", self._first, "Picture to the front")
        )
        buttons.addWidget(
            tool_button("take out", "Take out this picture", self._take_out, "Take out this picture")
        )
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 0, 8, 0)
        column.addLayout(buttons)
        column.addWidget(self.list)

    def show_ids(self, ids: tuple[str, ...]) -> None:
        """Show an item's pictures; nobody has changed anything then."""
        self.ids = ids
        self.list.clear()
        self.setVisible(self._has and bool(ids))
        if not ids:
            return
        with self.session.session.project.reading() as unit:
            found = [(picture_id, unit.pictures.get(picture_id)) for picture_id in ids]
        for picture_id, picture in found:
            self.list.addItem(_entry(picture_id, picture))

    def _current(self) -> int:
        return self.list.currentRow()

    def _first(self) -> None:
        at = self._current()
        if at > 0:
            self.show_ids((self.ids[at], *self.ids[:at], *self.ids[at + 1 :]))
            self.changed.emit()

    def _take_out(self) -> None:
        at = self._current()
        if at >= 0:
            self.show_ids((*self.ids[:at], *self.ids[at + 1 :]))
            self.changed.emit()


def _entry(picture_id: str, picture: Any) -> QListWidgetItem:
    if picture is None:
        return QListWidgetItem("missing")
    image = QPixmap()
    image.loadFromData(picture.payload)
    side = QSize(SIDE_PX, SIDE_PX)
    icon = QIcon(
        image.scaled(side, Qt.AspectRatioMode.KeepAspectRatio, Qt.TransformationMode.SmoothTransformation)
    )
    words = picture.alt or "nobody has said what it shows"
    entry = QListWidgetItem(icon, "")
    entry.setToolTip(f"{words}\n{picture.credit}".strip())
    entry.setData(Qt.ItemDataRole.AccessibleTextRole, words)
    entry.setData(Qt.ItemDataRole.UserRole, picture_id)
    return entry
