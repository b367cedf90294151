"""Small widgets made the same way everywhere: plain text only, accessible names, quiet looks."""

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QPushButton, QToolButton


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
