"""The profiles of the variants over one another, on one scale of kilometres and one of height."""

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QPointF, Signal
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QWidget

from lacet.compare import Comparison
from lacet.compare.lines import VariantLine, day_and_height, thinned, variant_line
from lacet.window.compare.look import colour_of, pen_of
from lacet.window.theme import Theme
from lacet.wording import Wording

NEAR_SHARE = 0.04


class Profiles(pg.PlotWidget):  # type: ignore[misc]  # pyqtgraph ships no types
    """Says under the mouse where each variant is: day and height at that kilometre."""

    told = Signal(str)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent, background=theme.paper)
        self.theme = theme
        self.lines: list[VariantLine] = []
        self.letters: list[str] = []
        self.wording = Wording()
        self.setAccessibleName("Profiles of the variants over one another")
        self.setMinimumHeight(120)
        self.plotItem.setMenuEnabled(False)
        self.plotItem.hideButtons()
        self.setMouseEnabled(False, False)
        for axis in ("left", "bottom"):
            self.getAxis(axis).setTextPen(theme.color("quiet"))
            self.getAxis(axis).setPen(theme.color("hairline"))
        self.showGrid(y=True, alpha=0.18)
        self.cursor = pg.InfiniteLine(angle=90, pen=theme.color("stone"))
        self.scene().sigMouseMoved.connect(self._on_mouse_moved)

    def show_comparison(self, found: Comparison | None, letters: list[str], wording: Wording) -> None:
        """Draw all lines, the widest first; a letter stands at the end of each."""
        self.plotItem.clear()
        self.letters, self.wording = letters, wording
        self.lines = (
            [] if found is None else [thinned(variant_line(side.assessment.figures)) for side in found.sides]
        )
        unit, scale = ("mi", 1 / 1.609344) if wording.imperial else ("km", 1.0)
        self.setLabel("bottom", f"{unit} from the start", color=self.theme.quiet)
        self.setLabel("left", "ft" if wording.imperial else "m", color=self.theme.quiet)
        self.getAxis("bottom").setScale(scale)
        self.getAxis("left").setScale(1 / 0.3048 if wording.imperial else 1.0)
        for index, line in enumerate(self.lines):
            if len(line.distance_m):
                pen = pen_of(index, self.theme)
                self.plot(line.distance_m / 1000, line.height_m, pen=pen, connect="finite", antialias=True)
        self._put_letters()
        self.cursor.hide()
        self.addItem(self.cursor, ignoreBounds=True)

    def _put_letters(self) -> None:
        """Each at its line's end; those that would lie on one another stand side by side."""
        length = max(
            (float(line.distance_m[-1] / 1000) for line in self.lines if len(line.distance_m)), default=1.0
        )
        taken: list[float] = []
        for index, line in enumerate(self.lines):
            if not len(line.distance_m):
                continue
            end = float(line.distance_m[-1] / 1000)
            near = sum(abs(end - other) < NEAR_SHARE * length for other in taken)
            taken.append(end)
            colour = colour_of(index, self.theme)
            fill = pg.mkBrush(QColor(self.theme.paper))
            text = pg.TextItem(self.letters[index], color=colour, anchor=(-0.3 - 1.4 * near, 0.9), fill=fill)
            font = self.font()
            font.setBold(True)
            text.setFont(font)
            height = line.height_m[np.isfinite(line.height_m)]
            text.setPos(end, float(height[-1]) if len(height) else 0.0)
            self.addItem(text)
        self.setXRange(0, length * 1.09, padding=0.01)

    def words_at(self, along_km: float) -> str:
        """'31.0 km: A day 4, 210 m · B day 3, 95 m'."""
        said = [
            f"{letter} day {day}, {self.wording.spot_height(height)}"
            for letter, line in zip(self.letters, self.lines, strict=True)
            if (found := day_and_height(line, along_km * 1000)) is not None
            for day, height in (found,)
        ]
        return f"{self.wording.length(along_km * 1000)}:  {'  ·  '.join(said)}" if said else ""

    def _on_mouse_moved(self, at: QPointF) -> None:
        along_km = float(self.plotItem.vb.mapSceneToView(at).x())
        said = self.words_at(along_km) if self.plotItem.vb.sceneBoundingRect().contains(at) else ""
        self.cursor.setVisible(bool(said))
        self.cursor.setPos(along_km)
        self.told.emit(said)
