"""Tells a person of an error nobody foresaw, from whatever thread it came up in; the window goes on."""

from PySide6.QtCore import QObject, Qt, QUrl, Signal
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QApplication, QMessageBox

from lacet.unexpected import Unexpected, report_folder


class Faults(QObject):
    """Shows one message at a time, beside the work and not in its way."""

    came_up = Signal(str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.message: QMessageBox | None = None
        # Across threads Qt queues it, so that the message is made where windows live.
        self.came_up.connect(self._show, Qt.ConnectionType.QueuedConnection)

    def _show(self, sentence: str) -> None:
        if self.message is not None:
            return
        message = QMessageBox(QMessageBox.Icon.Warning, "Lacet", sentence, parent=QApplication.activeWindow())
        message.setModal(False)
        folder = message.addButton("Open the report folder", QMessageBox.ButtonRole.ActionRole)
        folder.clicked.connect(open_report_folder)
        go_on = message.addButton("Go on", QMessageBox.ButtonRole.AcceptRole)
        message.setDefaultButton(go_on)
        # Without one named, neither Escape nor the window's own button would close it.
        message.setEscapeButton(go_on)
        message.finished.connect(self._on_message_closed)
        self.message = message
        message.show()

    def _on_message_closed(self) -> None:
        if self.message is not None:
            self.message.deleteLater()
        self.message = None


def open_report_folder() -> None:
    """Show this person's reports in the system's own window."""
    QDesktopServices.openUrl(QUrl.fromLocalFile(str(report_folder())))


def catch_faults(app: QApplication) -> Faults:
    """From now on nothing unforeseen ends the program or goes by unseen."""
    faults = Faults(app)
    Unexpected(faults.came_up.emit).install()
    return faults
