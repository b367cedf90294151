"""The pictures of an item: small ones in a row, each with the words that tell it to those who can't see it.

A picture is kept in the project as soon as it is read; which pictures an item has is saved with the item. The
words belong to the picture, and are the same wherever it is shown.
"""

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QIcon, QPixmap
from PySide6.QtWidgets import (
    QFormLayout,
    QHBoxLayout,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QVBoxLayout,
    QWidget,
)

from lacet.service.library.fields import DeskKind
from lacet.store import Picture
from lacet.window.file_dialogs import ask_files
from lacet.window.parts import label, tool_button
from lacet.window.qt_session import QtSession
from lacet.window.work import Step, Work

SIDE_PX = 72
ENDS = (".jpg", ".jpeg", ".png", ".webp")
KINDS = f"Pictures ({' '.join('*' + end for end in ENDS)})"


class PicturesRow(QWidget):
    """Shown for kinds that have pictures. `changed` when the person has changed which, or their order."""

    changed = Signal()

    def __init__(self, session: QtSession, kind: DeskKind, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.ids: tuple[str, ...] = ()
        self.work = Work(self)
        self.list = QListWidget()
        self.alt, self.credit = QLineEdit(), QLineEdit()
        self.problem = label(name="Pictures: what is wrong")
        self._lay_out()
        self.setVisible("picture_ids" in kind.makes.__dataclass_fields__)
        self.setAcceptDrops(True)
        self.list.currentRowChanged.connect(lambda _: self._show_words())
        self.alt.editingFinished.connect(self._keep_words)
        self.credit.editingFinished.connect(self._keep_words)

    def show_ids(self, ids: tuple[str, ...]) -> None:
        """Show an item's pictures; nobody has changed anything then."""
        self.ids = ids
        self._tell("")
        self.list.clear()
        with self.session.session.project.reading() as unit:
            found = [(picture_id, unit.pictures.get(picture_id)) for picture_id in ids]
        for picture_id, picture in found:
            self.list.addItem(_entry(picture_id, picture))
        self.list.setVisible(bool(ids))
        self.list.setCurrentRow(0)
        self._show_words()

    def add(self, paths: Sequence[Path]) -> None:
        """Read pictures off the window's thread and show them behind the others."""
        if self.work.busy or not paths:
            return
        project = self.session.session.project

        def errand(step: Step) -> list[str]:
            # Late: the reader of pictures is no part of the desk's first second.
            from lacet.service.picturing import keep_pictures, pictures_in

            made = pictures_in(paths, step=step)
            with project.unit_of_work() as unit:
                ids = keep_pictures(unit, made)
                unit.commit()
            return ids

        self.work.run("Reading pictures", errand, self._on_read, self._tell)

    def choose(self) -> None:
        """Let the person choose files."""
        self.add(list(ask_files(self, "Add pictures", KINDS)))

    def _on_read(self, ids: list[str]) -> None:
        fresh = [each for each in dict.fromkeys(ids) if each not in self.ids]
        self.show_ids((*self.ids, *fresh))
        self.list.setCurrentRow(len(self.ids) - 1)
        self.alt.setFocus()
        self.changed.emit()

    def _first(self) -> None:
        at = self.list.currentRow()
        if at > 0:
            self.show_ids((self.ids[at], *self.ids[:at], *self.ids[at + 1 :]))
            self.changed.emit()

    def _take_out(self) -> None:
        at = self.list.currentRow()
        if at >= 0:
            self.show_ids((*self.ids[:at], *self.ids[at + 1 :]))
            self.changed.emit()

    def _chosen(self) -> Picture | None:
        at = self.list.currentRow()
        if not 0 <= at < len(self.ids):
            return None
        with self.session.session.project.reading() as unit:
            return unit.pictures.get(self.ids[at])

    def _show_words(self) -> None:
        picture = self._chosen()
        for line, text in ((self.alt, picture and picture.alt), (self.credit, picture and picture.credit)):
            line.setText(text or "")
            line.setEnabled(picture is not None)
        self.words.setVisible(picture is not None)

    def _keep_words(self) -> None:
        picture = self._chosen()
        if picture is None:
            return
        said = replace(picture, alt=self.alt.text().strip(), credit=self.credit.text().strip())
        if said != picture:
            with self.session.session.project.unit_of_work() as unit:
                unit.pictures.keep(said)
                unit.commit()
            entry = self.list.currentItem()
            entry.setData(Qt.ItemDataRole.AccessibleTextRole, said.alt)
            entry.setToolTip(f"{said.alt}\n{said.credit}".strip())

    def _tell(self, says: str) -> None:
        self.problem.setText(says)
        self.problem.setVisible(bool(says))

    def _lay_out(self) -> None:
        self.list.setAccessibleName("Pictures")
        self.list.setFlow(QListWidget.Flow.LeftToRight)
        self.list.setIconSize(QSize(SIDE_PX, SIDE_PX))
        self.list.setFixedHeight(SIDE_PX + 24)
        self.problem.setObjectName("problem")
        self.problem.setWordWrap(True)
        self.alt.setPlaceholderText("for those who can't see it")
        self.credit.setPlaceholderText("whose picture it is")
        self.alt.setAccessibleName("What the picture shows")
        self.credit.setAccessibleName("Credit of the picture")
        buttons = QHBoxLayout()
        buttons.setSpacing(4)
        buttons.addWidget(label("Pictures"))
        buttons.addStretch(1)
        for text, tip, action in (
            ("+ add…", "Add pictures: JPEG, PNG or WebP; or drop them here", self.choose),
            ("take out", "Take out this picture", self._take_out),
            ("to the front", "Documents show it first", self._first),
        ):
            buttons.addWidget(tool_button(text, tip, action, f"Pictures: {text}"))
        self.words = QWidget()
        form = QFormLayout(self.words)
        form.setContentsMargins(0, 0, 0, 0)
        form.addRow("It shows", self.alt)
        form.addRow("Credit", self.credit)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 6, 0, 0)
        column.setSpacing(3)
        column.addLayout(buttons)
        column.addWidget(self.list)
        column.addWidget(self.words)
        column.addWidget(self.problem)

    # --- Qt overrides

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if _pictures_of(event):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        event.acceptProposedAction()
        self.add(_pictures_of(event))


def _pictures_of(event: QDropEvent) -> list[Path]:
    paths = (Path(url.toLocalFile()) for url in event.mimeData().urls() if url.isLocalFile())
    return [path for path in paths if path.suffix.casefold() in ENDS]


def _entry(picture_id: str, picture: Picture | None) -> QListWidgetItem:
    if picture is None:
        return QListWidgetItem("missing")
    image = QPixmap()
    image.loadFromData(picture.payload)
    side = QSize(SIDE_PX, SIDE_PX)
    ratio, how = Qt.AspectRatioMode.KeepAspectRatio, Qt.TransformationMode.SmoothTransformation
    words = picture.alt or "nobody has said what it shows"
    entry = QListWidgetItem(QIcon(image.scaled(side, ratio, how)), "")
    entry.setToolTip(f"{words}\n{picture.credit}".strip())
    entry.setData(Qt.ItemDataRole.AccessibleTextRole, words)
    entry.setData(Qt.ItemDataRole.UserRole, picture_id)
    return entry
