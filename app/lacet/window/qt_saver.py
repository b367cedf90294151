"""Saves off the window's thread; what came of it is told on the window's thread."""

from contextlib import suppress

from PySide6.QtCore import QObject, Qt, Signal

from lacet.service.saver import Worker


class QtSaver(Worker, QObject):
    """A worker whose answers arrive through the event loop, or with whoever waits for them."""

    _arrived = Signal()

    def __init__(self) -> None:
        QObject.__init__(self)
        Worker.__init__(self, self._tell)
        self._arrived.connect(self._on_arrived, Qt.ConnectionType.QueuedConnection)

    def _tell(self) -> None:
        # The window may have gone meanwhile.
        with suppress(RuntimeError):
            self._arrived.emit()

    def _on_arrived(self) -> None:
        self.deliver()
