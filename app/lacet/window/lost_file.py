"""What a main window does when its file is no longer at its path: tell, save elsewhere, go on there."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt

from lacet.store import StaleRevision
from lacet.trip.errors import LacetError
from lacet.window.projects import ask_elsewhere

if TYPE_CHECKING:
    from lacet.window.main_window import MainWindow


class LostFile(QObject):
    """Asks once when the file is lost, again when asked to, and before unsaved edits would go."""

    def __init__(self, window: "MainWindow") -> None:
        super().__init__(window)
        self._window = window
        # Later: a dialog must not stand in the middle of the gesture that found it out.
        window.session.file_lost.connect(self._on_lost, Qt.ConnectionType.QueuedConnection)

    def save_elsewhere(self) -> bool:
        """Save what can be reached of the project in a new file, and go on there."""
        window = self._window
        inner = window.session.session
        target = ask_elsewhere(window, inner.project.path)
        if target is None:
            return False
        try:
            saved = inner.rescue(target)
        except LacetError as refusal:
            window.header.show_sentence(str(refusal))
            return False
        # All is in the new file: this window may close.
        window.session.lost = None
        window.leave_at(saved.target)
        window.go_to(saved.target)
        if window.next_window is not None:
            says = " ".join((f"Saved as {saved.target.name}.", *saved.lost))
            window.next_window.header.show_sentence(says)
        return True

    def may_close(self) -> bool:
        """Whether nothing would be lost by closing, or the person lets it go; waits for saves under way."""
        inner = self._window.session.session
        try:
            inner.finish_saving()
        except StaleRevision as race:
            self._window.decide_race(race)
            return not inner.has_unsaved
        except LacetError as lost:
            if self._asked(lost, closing=True):
                # Saved, the window has closed by going there; not saved, it stays.
                self.save_elsewhere()
                return False
        return True

    def _on_lost(self, lost: LacetError) -> None:
        if self._window.session.lost is not None and self._asked(lost, closing=False):
            self.save_elsewhere()

    def _asked(self, lost: LacetError, *, closing: bool) -> bool:
        # Late: dialogs are no part of the window's first second.
        from lacet.window.dialogs.lost import ELSEWHERE, LostDialog

        return LostDialog.ask(str(lost), self._window, closing=closing) == ELSEWHERE
