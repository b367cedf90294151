"""The map panel."""

from PySide6.QtWidgets import QFrame

from lacet.window.qt_session import QtSession


class MapPanel(QFrame):
    """Where the trip runs."""

    def __init__(self, session: QtSession) -> None:
        super().__init__()
        self.session = session
