"""How windows are closed: by Ctrl+W and Esc each, and all that belong to a window together with it."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QApplication, QWidget


def closes_by_keys(window: QWidget, *, escape: bool = True) -> None:
    """Let Ctrl+W close a window, Esc too where it means nothing else there, and Ctrl+Q the whole program."""
    keys = [QKeySequence("Ctrl+W")] + [QKeySequence(Qt.Key.Key_Escape)] * escape
    for each in keys:
        QShortcut(each, window).activated.connect(window.close)
    QShortcut(QKeySequence("Ctrl+Q"), window).activated.connect(lambda: _first(window).close())


def close_others(window: QWidget) -> bool:
    """Close every window that was opened from one; False when the person keeps one of them open."""
    mine = [each for each in QApplication.topLevelWidgets() if each is not window and _belongs(each, window)]
    return all(each.close() for each in mine if each.isVisible())


def _first(window: QWidget) -> QWidget:
    """The window from which all others were opened."""
    parent = window.parentWidget()
    return window if parent is None else _first(parent.window())


def _belongs(window: QWidget, to: QWidget) -> bool:
    parent = window.parentWidget()
    while parent is not None and parent is not to:
        parent = parent.parentWidget()
    return parent is to
