"""What a main window does when its file is no longer at its path: tell, save elsewhere, go on there."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QWidget

from lacet.store import StaleRevision
from lacet.trip.errors import LacetError
from lacet.window.projects import ask_elsewhere
from lacet.window.qt_session import QtSession

GoOn = Callable[[Path, str], None]


class LostFile(QObject):
    """Asks once when the file is lost, again when asked to, and before unsaved edits would go.

    `refused(sentence)` when nothing could be saved; `raced(refusal)` when another window saved first.
    """

    refused = Signal(str)
    raced = Signal(object)

    def __init__(self, session: QtSession, window: QWidget, go_on: GoOn) -> None:
        super().__init__(window)
        self._session, self._window, self._go_on = session, window, go_on
        # Later: a dialog must not stand in the middle of the gesture that found it out.
        session.file_lost.connect(self._on_lost, Qt.ConnectionType.QueuedConnection)

    def save_elsewhere(self) -> bool:
        """Save what can be reached of the project in a new file, and go on there."""
        inner = self._session.session
        target = ask_elsewhere(self._window, inner.project.path)
        if target is None:
            return False
        try:
            saved = inner.rescue(target)
        except LacetError as refusal:
            self.refused.emit(str(refusal))
            return False
        # All is in the new file: this window may close.
        self._session.lost = None
        self._go_on(saved.target, " ".join((f"Saved as {saved.target.name}.", *saved.lost)))
        return True

    def may_close(self) -> bool:
        """Whether nothing would be lost by closing, or the person lets it go; waits for saves under way."""
        inner = self._session.session
        try:
            inner.finish_saving()
        except StaleRevision as race:
            self.raced.emit(race)
            return not inner.has_unsaved
        except LacetError as lost:
            if self._asked(lost, closing=True):
                # Saved, the window has closed by going there; not saved, it stays.
                self.save_elsewhere()
                return False
        return True

    def _on_lost(self, lost: LacetError) -> None:
        if self._session.lost is not None and self._asked(lost, closing=False):
            self.save_elsewhere()

    def _asked(self, lost: LacetError, *, closing: bool) -> bool:
        # Late: dialogs are no part of the window's first second.
        from lacet.window.dialogs.lost import ELSEWHERE, LostDialog

        return LostDialog.ask(str(lost), self._window, closing=closing) == ELSEWHERE
