"""Holds the place of the profile until the window has shown itself, then makes the plot.

The plotting library takes a quarter of a second to load; the sheet can be read and worked without it. It asks
for every class of Qt, which PySide makes when it is first asked for: that is done before, a module a turn.
"""

from types import ModuleType
from typing import TYPE_CHECKING

from PySide6 import QtCore, QtGui, QtWidgets
from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QPaintEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from lacet.service.sheet.table import SheetTable
from lacet.window.theme import Theme

if TYPE_CHECKING:
    from lacet.window.sheet.profile import ProfilePlot

AFTER_FIRST_PICTURE_MS = 20
ASKED_FOR = (QtCore, QtGui, QtWidgets)


class ProfileRow(QWidget):
    """The profile as the sheet knows it; keeps what it was last told until there is a plot to tell."""

    hovered = Signal(object)

    def __init__(self, theme: Theme, parent: QWidget) -> None:
        super().__init__(parent)
        self.theme = theme
        self.plot: ProfilePlot | None = None
        self._table: SheetTable | None = None
        self._range = (0.0, 1.0)
        self._one_scale = False
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._begun = False

    def make_plot(self) -> None:
        """Load the plotting library and draw what was told so far."""
        if self.plot is not None:
            return
        from lacet.window.sheet.profile import ProfilePlot

        self.plot = ProfilePlot(self.theme, self)
        self.plot.setAcceptDrops(False)
        self.plot.hovered.connect(self.hovered.emit)
        self._layout.addWidget(self.plot)
        self.plot.set_one_scale(self._one_scale)
        self.plot.show_table(self._table)
        self.plot.show_range(*self._range)

    def show_table(self, table: SheetTable | None) -> None:
        """Show another variant, or the same one changed."""
        self._table = table
        if self.plot is not None:
            self.plot.show_table(table)

    def show_range(self, left: float, right: float) -> None:
        """Show the days between two positions."""
        self._range = (left, right)
        if self.plot is not None:
            self.plot.show_range(left, right)

    def set_one_scale(self, one_scale: bool) -> None:
        """Whether a kilometre is as wide on every day."""
        self._one_scale = one_scale
        if self.plot is not None:
            self.plot.set_one_scale(one_scale)

    def mark(self, column: int, leg: int, along_m: float) -> None:
        """Mark a spot, given by column, leg and distance along it."""
        if self.plot is not None:
            self.plot.mark(column, leg, along_m)

    def unmark(self) -> None:
        if self.plot is not None:
            self.plot.unmark()

    # --- within

    def _make_after(self, modules: tuple[ModuleType, ...]) -> None:
        """Make the plot when all classes of these modules are there, and the library a turn before."""
        if modules:
            for name in dir(modules[0]):
                getattr(modules[0], name)
            QTimer.singleShot(0, self, lambda: self._make_after(modules[1:]))
        else:
            import lacet.window.sheet.profile  # noqa: F401 - loaded here, used a turn later

            QTimer.singleShot(0, self, self.make_plot)

    # --- Qt overrides

    def paintEvent(self, event: QPaintEvent) -> None:
        """The first picture is being painted: from now on there is time for the plot."""
        super().paintEvent(event)
        if not self._begun:
            self._begun = True
            QTimer.singleShot(AFTER_FIRST_PICTURE_MS, self, lambda: self._make_after(ASKED_FOR))
