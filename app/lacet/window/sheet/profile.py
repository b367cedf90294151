"""The unbroken profile laid over its row: each day's line stands exactly under its cards.

x counts in columns (day 3 of four is 2 to 3), so scrolling and zooming only change the range. Lines are
thinned to one value per pixel column before they are drawn.
"""

from dataclasses import dataclass

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QMouseEvent, QPainter, QPen, QWheelEvent
from PySide6.QtWidgets import QWidget

from lacet.figures.values import FloatArray, GroupFigures, LegFigures
from lacet.service.sheet.table import SheetTable
from lacet.trip.words import Way
from lacet.window.theme import Theme
from lacet.wording import METRES_PER_FOOT, Wording

HEADROOM_SHARE = 0.18
LEAST_SPAN_M = 120.0
SIDE_SHARE = 0.02
HEIGHT_STEPS = (50, 100, 200, 250, 500, 1000, 2000, 5000)
MOST_HEIGHTS = 4


@dataclass(frozen=True, slots=True, eq=False)
class Piece:
    """One line of the plot: x in columns, y in metres, and which leg it is (None on a rest)."""

    x: FloatArray
    y: FloatArray
    way: Way | None
    column: int
    leg: int | None


def pieces_of(table: SheetTable, one_scale: bool) -> tuple[Piece, ...]:
    """The lines of a whole variant.

    With `one_scale` a kilometre is as wide on every day, the longest day filling its column.
    """
    longest_m = max((group.distance_m for group in _groups(table) if group), default=0.0)
    found: list[Piece] = []
    level: dict[str, float] = {}
    for column, here in enumerate(table.columns):
        group = table.group(column)
        left = here.day + here.group / here.groups
        width = 1.0 / here.groups
        if group is None or not group.legs:
            found += _level_piece(group, left, width, column, level)
            continue
        scale = (
            width * (1 - 2 * SIDE_SHARE) / (longest_m if one_scale and longest_m else group.distance_m or 1.0)
        )
        found += _legs(group, left + width * SIDE_SHARE, scale, column, level)
    return tuple(found)


def _groups(table: SheetTable) -> list[GroupFigures | None]:
    return [table.group(column) for column in range(len(table.columns))]


def _legs(
    group: GroupFigures, left: float, scale: float, column: int, level: dict[str, float]
) -> list[Piece]:
    found, start_m = [], 0.0
    for index, leg in enumerate(group.legs):
        x = left + (start_m + leg.trace.distance_m) * scale
        found.append(Piece(x, leg.trace.height_m, leg.leg.way, column, index))
        start_m += leg.distance_m
    last = group.legs[-1].trace.height_m
    if len(last) and np.isfinite(last[-1]):
        level.update(dict.fromkeys(group.travellers, float(last[-1])))
    return found


def _level_piece(
    group: GroupFigures | None, left: float, width: float, column: int, level: dict[str, float]
) -> list[Piece]:
    """A day without a leg runs level at the height the party stands at, where that is known."""
    who = group.travellers[0] if group and group.travellers else ""
    if who not in level:
        return []
    return [Piece(np.array([left, left + width]), np.full(2, level[who]), None, column, None)]


def round_heights(lowest_m: float, highest_m: float, wording: Wording) -> list[tuple[float, str]]:
    """Two or three round heights between the two, in metres, each as it is said; none below sea level."""
    unit_m = METRES_PER_FOOT if wording.imperial else 1.0
    span = (highest_m - lowest_m) / unit_m
    step = next((each for each in HEIGHT_STEPS if span / each <= MOST_HEIGHTS), HEIGHT_STEPS[-1])
    first = max(int(np.ceil(lowest_m / unit_m / step)), 1)
    last = int(highest_m / unit_m * (1 - HEADROOM_SHARE / 3) // step)
    heights = [number * step * unit_m for number in range(first, last + 1)]
    return [(height_m, wording.height(height_m)) for height_m in heights]


def thinned(
    x: FloatArray, y: FloatArray, left: float, right: float, pixels: int
) -> tuple[FloatArray, FloatArray]:
    """At most two values a pixel column: the lowest and the highest, in their order."""
    if len(x) <= 2 * pixels or right <= left:
        return x, y
    first, last = np.searchsorted(x, (left, right))
    x, y = x[max(first - 1, 0) : last + 1], y[max(first - 1, 0) : last + 1]
    step = max(1, len(x) // pixels)
    if step == 1:
        return x, y
    whole = len(x) // step * step
    blocks = y[:whole].reshape(-1, step)
    filled = np.where(np.isnan(blocks), np.inf, blocks)
    low = np.argmin(filled, axis=1)
    high = np.argmax(np.where(np.isnan(blocks), -np.inf, blocks), axis=1)
    order = np.sort(np.stack([low, high], axis=1), axis=1) + np.arange(len(blocks))[:, None] * step
    picked = np.unique(np.concatenate([[0], order.ravel(), np.arange(whole, len(x)), [len(x) - 1]]))
    return x[picked], y[picked]


class ProfilePlot(pg.PlotWidget):  # type: ignore[misc]  # pyqtgraph ships no types
    """Draws the profile; says which spot the mouse is over."""

    hovered = Signal(object)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent, background=None)
        self.theme = theme
        self.setAccessibleName("Profile of all days")
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setMouseTracking(True)
        self.setAntialiasing(True)
        self.plotItem.hideButtons()
        self.plotItem.setMenuEnabled(False)
        self.plotItem.setContentsMargins(0, 0, 0, 0)
        self.plotItem.layout.setContentsMargins(0, 0, 0, 0)
        self.centralWidget.layout.setContentsMargins(0, 0, 0, 0)
        for axis in ("left", "bottom", "top", "right"):
            self.plotItem.hideAxis(axis)
        self.plotItem.vb.setMouseEnabled(False, False)
        self.plotItem.vb.setDefaultPadding(0)
        self.plotItem.vb.setBorder(None)
        self.table: SheetTable | None = None
        self.pieces: tuple[Piece, ...] = ()
        self.one_scale = False
        self.lowest_m, self.highest_m = 0.0, LEAST_SPAN_M
        self._curves: list[pg.PlotCurveItem] = []
        self._spot = pg.ScatterPlotItem(size=9, pxMode=True)
        self.plotItem.addItem(self._spot)
        self.dress(theme)

    def dress(self, theme: Theme) -> None:
        """Take another theme."""
        self.theme = theme
        self.setBackground(theme.paper)
        self._spot.setBrush(theme.color("ink"))
        self._spot.setPen(QPen(theme.color("paper"), 1.5))
        self.redraw()

    def show_table(self, table: SheetTable | None) -> None:
        """Show another variant, or the same one changed."""
        self.table = table
        self.pieces = pieces_of(table, self.one_scale) if table else ()
        self._set_heights()
        self.redraw()

    def set_one_scale(self, one_scale: bool) -> None:
        """Whether a kilometre is as wide on every day."""
        if one_scale != self.one_scale:
            self.one_scale = one_scale
            self.show_table(self.table)

    def show_range(self, left: float, right: float) -> None:
        """Show the columns between two positions (days, not pixels)."""
        self.plotItem.vb.setXRange(left, right, padding=0)
        self.redraw()

    def redraw(self) -> None:
        """Draw every line anew, thinned to what the pixels can show."""
        (left, right), _ = self.plotItem.vb.viewRange()
        pixels = max(self.width(), 50)
        while len(self._curves) < len(self.pieces):
            curve = pg.PlotCurveItem()
            self._curves.append(curve)
            self.plotItem.addItem(curve)
        for index, curve in enumerate(self._curves):
            if index >= len(self.pieces):
                curve.setData([], [])
                continue
            self._draw(curve, self.pieces[index], left, right, pixels)
        self._spot.setZValue(10)
        # Heights are painted over the plot, and nobody tells it when only their unit has changed.
        self.viewport().update()

    def mark(self, column: int, leg: int, along_m: float) -> None:
        """Mark a spot, given by column, leg and distance along it."""
        piece = next((each for each in self.pieces if (each.column, each.leg) == (column, leg)), None)
        figures = self._leg(column, leg)
        if piece is None or figures is None:
            self.unmark()
            return
        distance = figures.trace.distance_m
        height = float(np.interp(along_m, distance, figures.trace.height_m))
        self._spot.setData([float(np.interp(along_m, distance, piece.x))], [height])

    def unmark(self) -> None:
        self._spot.setData([], [])

    def spot_at(self, x: float) -> tuple[int, int, float] | None:
        """Column, leg and distance along it [m] at a position in columns, or None between lines."""
        for piece in self.pieces:
            if piece.leg is not None and len(piece.x) and piece.x[0] <= x <= piece.x[-1]:
                figures = self._leg(piece.column, piece.leg)
                if figures is not None:
                    return piece.column, piece.leg, float(np.interp(x, piece.x, figures.trace.distance_m))
        return None

    def _leg(self, column: int, leg: int) -> LegFigures | None:
        group = self.table.group(column) if self.table and column < len(self.table.columns) else None
        return group.legs[leg] if group and leg < len(group.legs) else None

    def _set_heights(self) -> None:
        known = [piece.y[np.isfinite(piece.y)] for piece in self.pieces]
        known = [part for part in known if len(part)]
        low = min((float(part.min()) for part in known), default=0.0)
        high = max((float(part.max()) for part in known), default=LEAST_SPAN_M)
        span = max(high - low, LEAST_SPAN_M)
        self.lowest_m, self.highest_m = low - 0.06 * span, low + span * (1 + HEADROOM_SHARE)
        self.plotItem.vb.setYRange(self.lowest_m, self.highest_m, padding=0)

    def _draw(self, curve: pg.PlotCurveItem, piece: Piece, left: float, right: float, pixels: int) -> None:
        seen = min(right, piece.x[-1]) - max(left, piece.x[0]) if len(piece.x) else 0.0
        x, y = thinned(piece.x, piece.y, left, right, max(round(pixels * seen / (right - left)), 8))
        token = {Way.WALKING: "foot", Way.CYCLING: "bike", None: "stone"}[piece.way]
        style = Qt.PenStyle.SolidLine if piece.way is Way.CYCLING else Qt.PenStyle.DotLine
        # A cosmetic pen counts in the screen's own pixels, of which there are more on a fine screen.
        pen = QPen(self.theme.color(token), max(2.0, 1.5 * self.devicePixelRatioF()), style)
        pen.setCosmetic(True)
        curve.setData(
            x, y, pen=pen, fillLevel=self.lowest_m, brush=self.theme.color(f"{token}_fill"), connect="finite"
        )

    # --- Qt overrides

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        position: QPointF = self.plotItem.vb.mapSceneToView(self.mapToScene(event.position().toPoint()))
        self.hovered.emit(self.spot_at(position.x()))

    def leaveEvent(self, event: object) -> None:
        self.hovered.emit(None)

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()

    def drawForeground(self, painter: QPainter, rect: QRectF) -> None:
        """The lines between days and the highest height, over the plot."""
        super().drawForeground(painter, rect)
        painter.save()
        painter.resetTransform()
        (left, right), _ = self.plotItem.vb.viewRange()
        width = self.viewport().width()
        painter.setPen(QPen(self.theme.color("hairline"), 1))
        for day in range(int(np.ceil(left)), int(np.floor(right)) + 1):
            x = int((day - left) / (right - left) * width) - 1
            painter.drawLine(x, 0, x, self.viewport().height())
        self._paint_heights(painter)
        painter.restore()

    def _paint_heights(self, painter: QPainter) -> None:
        """Round heights at the left edge, each with a faint line."""
        if self.table is None or not self.pieces:
            return
        high = self.viewport().height()
        for height_m, said in round_heights(self.lowest_m, self.highest_m, self.table.wording):
            y = int((self.highest_m - height_m) / (self.highest_m - self.lowest_m) * high)
            painter.setPen(QPen(self.theme.color("hairline"), 1, Qt.PenStyle.DotLine))
            painter.drawLine(0, y, self.viewport().width(), y)
            painter.setPen(self.theme.color("quiet"))
            painter.drawText(4, y - 2, said)
