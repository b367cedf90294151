"""The one window: header, shelf, sheet with its totals, map and what to settle."""

from PySide6.QtCore import QByteArray, QSettings, Qt
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import QMainWindow, QSplitter, QVBoxLayout, QWidget

from lacet.window.header import Header
from lacet.window.map.panel import MapPanel
from lacet.window.qt_session import QtSession
from lacet.window.settle_panel import SettlePanel
from lacet.window.sheet.panel import SheetPanel
from lacet.window.shelf.panel import ShelfPanel

SHELF_WIDTH = 250
MAP_HEIGHT = 250


class MainWindow(QMainWindow):
    """Puts the panels together; holds no state of the trip."""

    def __init__(self, session: QtSession) -> None:
        super().__init__()
        self.session = session
        self.setWindowTitle("Lacet")
        self.header = Header(session)
        self.shelf = ShelfPanel(session)
        self.sheet = SheetPanel(session)
        self.map = MapPanel(session)
        self.settle = SettlePanel(session)
        self.setCentralWidget(self._laid_out())
        session.changed.connect(lambda opened: self.setWindowTitle(f"{opened.trip.name} – Lacet"))
        session.refused.connect(self.header.show_sentence)
        session.kept.connect(self.header.show_quietly)
        self._restore()

    def _laid_out(self) -> QWidget:
        self.below = QSplitter(Qt.Orientation.Horizontal, childrenCollapsible=False)
        self.below.addWidget(self.map)
        self.below.addWidget(self.settle)
        self.below.setStretchFactor(0, 3)
        self.below.setStretchFactor(1, 2)
        self.right = QSplitter(Qt.Orientation.Vertical, childrenCollapsible=False)
        self.right.addWidget(self.sheet)
        self.right.addWidget(self.below)
        self.right.setStretchFactor(0, 1)
        self.right.setSizes([600, MAP_HEIGHT])
        self.across = QSplitter(Qt.Orientation.Horizontal, childrenCollapsible=False)
        self.across.addWidget(self.shelf)
        self.across.addWidget(self.right)
        self.across.setStretchFactor(1, 1)
        self.across.setSizes([SHELF_WIDTH, 1000])
        whole = QWidget()
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.header)
        column.addWidget(self.across, 1)
        return whole

    def _restore(self) -> None:
        geometry = QSettings().value("window/geometry")
        if isinstance(geometry, QByteArray):
            self.restoreGeometry(geometry)
        else:
            self.resize(1280, 800)

    # --- Qt overrides

    def closeEvent(self, event: QCloseEvent) -> None:
        QSettings().setValue("window/geometry", self.saveGeometry())
        super().closeEvent(event)
