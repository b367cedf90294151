"""A window beside the sheet that rests while it is closed: edits and drags then cost nothing there."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QCloseEvent, QShowEvent
from PySide6.QtWidgets import QWidget

from lacet.window.closing import closes_by_keys
from lacet.window.qt_session import QtSession


class Beside(QWidget):
    """Shows what the session shows; `refresh` reads it anew. Shown again, it catches up."""

    def __init__(self, session: QtSession, parent: QWidget | None = None) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        self.session = session
        self.away = False
        closes_by_keys(self)

    def follow(self) -> None:
        """Read the session, to be called after everything is laid out; previews and eyes count as well."""
        session = self.session
        for signal in (session.changed, session.previewed, session.library_changed):
            signal.connect(lambda _: self._on_told())
        # A closed window still stands in the accessibility tree: what is the office's goes at once.
        session.client_looks.connect(lambda _: self.refresh())
        self.refresh()

    def refresh(self) -> None:
        """Show what is."""
        raise NotImplementedError

    def _on_told(self) -> None:
        if not self.away:
            self.refresh()

    # --- Qt overrides

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if self.away:
            self.away = False
            self.refresh()

    def closeEvent(self, event: QCloseEvent) -> None:
        super().closeEvent(event)
        self.away = True
