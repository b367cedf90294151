"""How windows are closed: by Ctrl+W and Esc each, and all that belong to a window together with it."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QApplication, QWidget

from lacet.window.commands.given import action_of
from lacet.window.commands.listed import Where, command


def closes_by_keys(window: QWidget, *, escape: bool = True) -> None:
    """Let Ctrl+W close a window, Esc too where it means nothing else there, and Ctrl+Q the whole program."""
    close = action_of(command("close", Where.EVERYWHERE), window)
    # A method, which Qt holds weakly: a dialog must go when nobody has it any more, not when garbage is
    # looked for, which may be on another thread.
    close.triggered.connect(window.close)
    if escape:
        close.setShortcuts([*close.shortcuts(), QKeySequence(Qt.Key.Key_Escape)])
    action_of(command("quit", Where.EVERYWHERE), window).triggered.connect(lambda: _first(window).close())


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
