"""Small widgets made the same way everywhere: plain text only, accessible names, quiet looks."""

from collections.abc import Callable

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QLabel, QListWidget, QPushButton, QSizePolicy, QToolButton, QWidget

USUAL_TEXT_PX = 15


def text_scale(widget: QWidget) -> float:
    """How much larger than usual a person has set their text; rows and cards grow with it."""
    return max(1.0, widget.fontMetrics().height() / USUAL_TEXT_PX)


def label(text: str = "", name: str = "", *, quiet: bool = False) -> QLabel:
    """A label that never reads markup; `name` is what a screen reader calls it."""
    made = QLabel(text)
    made.setTextFormat(Qt.TextFormat.PlainText)
    if name:
        made.setAccessibleName(name)
    if quiet:
        made.setObjectName("quiet")
    return made


def tool_button(text: str, tip: str, action: Callable[[], object], name: str = "") -> QToolButton:
    """A small button; `name` where its text alone says nothing."""
    made = QToolButton()
    made.setText(text)
    made.setToolTip(tip)
    made.setAccessibleName(name or text)
    made.clicked.connect(lambda _=False: action())
    return made


def push_button(
    text: str, action: Callable[[], object], tip: str = "", *, primary: bool = False
) -> QPushButton:
    """A button; at most one on a panel is primary."""
    made = QPushButton(text)
    made.setToolTip(tip)
    made.clicked.connect(lambda _=False: action())
    if primary:
        made.setObjectName("primary")
    return made


class ElidedLabel(QLabel):
    """A line of plain text that gives way where there is little room, instead of widening the window.

    A screen reader, and the tip, get it whole.
    """

    def __init__(self, name: str, *, quiet: bool = False) -> None:
        super().__init__()
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setAccessibleName(name)
        if quiet:
            self.setObjectName("quiet")

    # --- Qt overrides

    def minimumSizeHint(self) -> QSize:
        return QSize(0, super().minimumSizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        said = self.fontMetrics().elidedText(self.text(), Qt.TextElideMode.ElideRight, self.width())
        self.setToolTip(self.text() if said != self.text() else "")
        painter = QPainter(self)
        painter.setPen(self.palette().color(self.foregroundRole()))
        painter.drawText(self.rect(), self.alignment(), said)
        painter.end()


class ElidedButton(QPushButton):
    """A flat button whose text gives way: cut off with dots when there is little room, whole in the tip."""

    def __init__(self, action: Callable[[], object], least_width: int = 60) -> None:
        super().__init__()
        self.whole = ""
        self.setFlat(True)
        self.setMinimumWidth(least_width)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.clicked.connect(lambda _=False: action())

    def show_text(self, text: str) -> None:
        """Show a text as far as it fits."""
        self.whole = text
        self.setToolTip(text)
        self._fit()

    def _fit(self) -> None:
        room = max(self.width() - 16, 0)
        self.setText(self.fontMetrics().elidedText(self.whole, Qt.TextElideMode.ElideRight, room))

    # --- Qt overrides

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()


def sentence_list(name: str) -> QListWidget:
    """Sentences to be read, one a row, each in full."""
    made = QListWidget()
    made.setAccessibleName(name)
    made.setWordWrap(True)
    made.setTextElideMode(Qt.TextElideMode.ElideNone)
    made.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    made.setResizeMode(QListWidget.ResizeMode.Adjust)
    made.setSelectionMode(QListWidget.SelectionMode.NoSelection)
    # Qt measures a wrapped row without its padding and spacing, and would cut the last line.
    made.setStyleSheet("QListWidget { padding: 5px; } QListWidget::item { padding: 0px; }")
    made.setAlternatingRowColors(True)
    return made
