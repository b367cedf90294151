"""A small map that needs no browser engine: relief, places, ways between them, and a mark that can be set.

A drawn widget tells nothing to those who can't see it: what it shows stands in a field or a table beside it
too, and what it lets the mouse do, the arrow keys or those fields do as well.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import atan, degrees, exp, log, pi, radians, tan
from pathlib import Path

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPixmap,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QFrame, QSizePolicy, QWidget

from lacet.tracks.relief import Relief
from lacet.trip.words import Way
from lacet.window.theme import current_theme

At = tuple[float, float]
MARGIN_PX = 26
CLICK_PX = 12.0
STEP_PX = 1.0
ZOOM = 1.25
SMALLEST_SPAN = 0.00004  # radians: some 250 m
NOTHING = "There is nothing to draw yet. Type or paste the first position above, such as 44.2155, -24.6021."


@dataclass(frozen=True, slots=True)
class Node:
    """A place; `level` picks its colour: "", "warn" or "stop"."""

    id: str
    name: str
    at: At
    level: str = ""


@dataclass(frozen=True, slots=True)
class Link:
    """A way between two positions; one that isn't `open` is drawn faded."""

    first: At
    second: At
    way: Way
    open: bool = True


class GroundView(QFrame):
    """Draws; `placed(latitude, longitude)` when a position is picked, `node_picked(id)` when a place is."""

    placed = Signal(float, float)
    node_picked = Signal(str)

    def __init__(self, name: str, parent: QWidget | None = None, *, places_mark: bool = False) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMouseTracking(True)
        self.places_mark = places_mark
        self.nodes: tuple[Node, ...] = ()
        self.links: tuple[Link, ...] = ()
        self.line: tuple[At, ...] = ()
        self.mark: At | None = None
        self.picked = ""
        self._grounds: list[tuple[Relief, QPixmap]] = []
        self._centre = (0.0, 0.0)
        self._span = 1.0
        # What is seen again in another size, until a person moves or zooms.
        self._view: Callable[[], None] | None = None
        self._dragged: QPointF | None = None
        self._pressed_at: QPointF | None = None
        if places_mark:
            self.setCursor(Qt.CursorShape.CrossCursor)

    # --- what is shown

    def set_grounds(self, grounds: Sequence[Relief], folder: Path) -> None:
        """Pictures under everything, by their names in a folder."""
        self._grounds = [(ground, QPixmap(str(folder / ground.picture))) for ground in grounds]
        self.update()

    def show_all(self, nodes: Sequence[Node], links: Sequence[Link] = ()) -> None:
        """Other places and ways; the view stays where it is."""
        self.nodes, self.links = tuple(nodes), tuple(links)
        self.update()

    def set_mark(self, at: At | None) -> None:
        """The position that is edited; brought into view."""
        self.mark = at
        if at is not None and not self.rect().adjusted(8, 8, -8, -8).contains(self.to_pixel(at).toPoint()):
            self._centre = _world(at)
        self.update()

    def fit(self, positions: Sequence[At]) -> None:
        """Let all these positions be seen."""
        self._view = (lambda: self.fit(positions)) if positions else None
        if not positions:
            return
        worlds = [_world(at) for at in positions]
        east, north = zip(*worlds, strict=True)
        self._centre = ((min(east) + max(east)) / 2, (min(north) + max(north)) / 2)
        wide = (max(east) - min(east)) / max(self.width() - 2 * MARGIN_PX, 40)
        high = (max(north) - min(north)) / max(self.height() - 2 * MARGIN_PX, 40)
        self._span = max(wide, high, SMALLEST_SPAN / 200)
        self.update()

    def zoom_to(self, at: At, metres: float) -> None:
        """So many metres across, around a position."""
        self._view = lambda: self.zoom_to(at, metres)
        self._centre = _world(at)
        self._span = metres / 6_378_137.0 / max(self.width(), 40)
        self.update()

    # --- pixels and positions

    def to_pixel(self, at: At) -> QPointF:
        """Where a position stands in the widget."""
        east, north = _world(at)
        x = self.width() / 2 + (east - self._centre[0]) / self._span
        return QPointF(x, self.height() / 2 - (north - self._centre[1]) / self._span)

    def to_position(self, pixel: QPointF) -> At:
        """Latitude and longitude under a pixel [degrees]."""
        east = self._centre[0] + (pixel.x() - self.width() / 2) * self._span
        north = self._centre[1] - (pixel.y() - self.height() / 2) * self._span
        return degrees(2 * atan(exp(north)) - pi / 2), degrees(east)

    def node_at(self, pixel: QPointF) -> Node | None:
        """The place nearest to a pixel, within a few pixels of it."""
        near = [(_apart(self.to_pixel(node.at), pixel), node) for node in self.nodes]
        close = min(near, key=lambda each: each[0], default=None)
        return close[1] if close is not None and close[0] <= CLICK_PX else None

    # --- painting

    def _paint_ground(self, painter: QPainter) -> None:
        for ground, picture in self._grounds:
            corner = self.to_pixel((ground.north, ground.west))
            opposite = self.to_pixel((ground.south, ground.east))
            painter.drawPixmap(QRectF(corner, opposite), picture, QRectF(picture.rect()))

    def _paint_links(self, painter: QPainter) -> None:
        theme = current_theme()
        for link in self.links:
            foot = link.way is Way.WALKING
            colour = theme.color(("foot" if foot else "bike") if link.open else "stone")
            if not link.open:
                colour.setAlphaF(0.45)
            pen = QPen(colour, 2.4 if link.open else 1.2)
            pen.setCapStyle(Qt.PenCapStyle.RoundCap)
            if foot:
                pen.setDashPattern([0.5, 2.2])
            painter.setPen(pen)
            # Side by side, so that neither way hides the other.
            first, second = self.to_pixel(link.first), self.to_pixel(link.second)
            aside = _aside(first, second, 2.5 if foot else -2.5)
            painter.drawLine(first + aside, second + aside)

    def _paint_line(self, painter: QPainter) -> None:
        if self.line:
            painter.setPen(QPen(current_theme().color("accent"), 2.2))
            painter.drawPolyline([self.to_pixel(at) for at in self.line])

    def _paint_nodes(self, painter: QPainter) -> None:
        theme = current_theme()
        taken: list[QRectF] = []
        for node in sorted(self.nodes, key=lambda each: (each.id != self.picked, not each.level)):
            at = self.to_pixel(node.at)
            big = node.id == self.picked
            painter.setPen(QPen(theme.color("raised"), 1.2))
            painter.setBrush(theme.color(node.level or "ink"))
            painter.drawEllipse(at, 6.0 if big else 4.0, 6.0 if big else 4.0)
            self._paint_label(painter, node.name, at, theme.color("ink"), theme.color("paper"), taken)

    def _paint_label(
        self, painter: QPainter, text: str, at: QPointF, ink: QColor, paper: QColor, taken: list[QRectF]
    ) -> None:
        """A name where there is room for it; a name that would cover another is left out."""
        metrics = painter.fontMetrics()
        box = QRectF(at.x() + 7, at.y() - metrics.height() / 2, metrics.horizontalAdvance(text) + 6, 16)
        if box.right() > self.width():
            box.moveRight(at.x() - 7)
        if any(box.intersects(other) for other in taken) or not QRectF(self.rect()).intersects(box):
            return
        taken.append(box)
        paper.setAlphaF(0.72)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(paper)
        painter.drawRoundedRect(box, 3, 3)
        painter.setPen(ink)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)

    def _paint_mark(self, painter: QPainter) -> None:
        if self.mark is None:
            return
        at = self.to_pixel(self.mark)
        for width, token in ((5.0, "raised"), (2.4, "stop")):
            painter.setPen(QPen(current_theme().color(token), width))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawEllipse(at, 8, 8)
            for aside in (QPointF(13, 0), QPointF(0, 13)):
                painter.drawLine(at - aside, at - aside * 0.3)
                painter.drawLine(at + aside * 0.3, at + aside)

    # --- Qt overrides

    def sizeHint(self) -> QSize:
        return QSize(360, 200)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self._view is not None:
            self._view()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.SmoothPixmapTransform)
        painter.fillRect(self.rect(), current_theme().color("sea"))
        self._paint_ground(painter)
        self._paint_links(painter)
        self._paint_line(painter)
        self._paint_nodes(painter)
        self._paint_mark(painter)
        if not (self._grounds or self.nodes or self.links or self.line or self.mark):
            painter.setPen(current_theme().color("quiet"))
            painter.drawText(self.rect(), Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap, NOTHING)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(current_theme().color("accent" if self.hasFocus() else "hairline"), 2))
        painter.drawRect(self.rect())
        painter.end()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self._pressed_at = self._dragged = event.position()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._dragged is None:
            node = self.node_at(event.position())
            self.setToolTip("" if node is None else node.name)
            return
        moved = event.position() - self._dragged
        self._centre = (
            self._centre[0] - moved.x() * self._span,
            self._centre[1] + moved.y() * self._span,
        )
        self._dragged = event.position()
        self._view = None
        self.update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        pressed, self._pressed_at, self._dragged = self._pressed_at, None, None
        if pressed is None or _apart(pressed, event.position()) > 3:
            return
        if self.places_mark:
            self._place(self.to_position(event.position()))
            return
        node = self.node_at(event.position())
        if node is not None:
            self.picked = node.id
            self.update()
            self.node_picked.emit(node.id)

    def wheelEvent(self, event: QWheelEvent) -> None:
        self._view = None
        before = self.to_position(event.position())
        self._span *= ZOOM if event.angleDelta().y() < 0 else 1 / ZOOM
        drift = event.position() - self.to_pixel(before)
        self._centre = (
            self._centre[0] - drift.x() * self._span,
            self._centre[1] + drift.y() * self._span,
        )
        self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        steps = {
            Qt.Key.Key_Left: QPointF(-1, 0),
            Qt.Key.Key_Right: QPointF(1, 0),
            Qt.Key.Key_Up: QPointF(0, -1),
            Qt.Key.Key_Down: QPointF(0, 1),
        }
        key = Qt.Key(event.key())
        if key in (Qt.Key.Key_Plus, Qt.Key.Key_Equal):
            self._span /= ZOOM
        elif key is Qt.Key.Key_Minus:
            self._span *= ZOOM
        elif key in steps and self.places_mark and self.mark is not None:
            far = 10.0 if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else STEP_PX
            self._place(self.to_position(self.to_pixel(self.mark) + steps[key] * far))
        elif key in steps:
            self._centre = self._moved(steps[key] * 40)
        else:
            super().keyPressEvent(event)
            return
        self.update()

    def _moved(self, by: QPointF) -> tuple[float, float]:
        return self._centre[0] + by.x() * self._span, self._centre[1] - by.y() * self._span

    def _place(self, at: At) -> None:
        if self._view is None and not (self._grounds or self.nodes or self.mark):
            return
        self.set_mark(at)
        self.placed.emit(*at)


def _world(at: At) -> tuple[float, float]:
    """Longitude and Mercator northing on a sphere of radius 1 (EPSG guidance note 7-2, method 1024)."""
    latitude = max(min(at[0], 85.0), -85.0)
    return radians(at[1]), log(tan(pi / 4 + radians(latitude) / 2))


def _apart(one: QPointF, other: QPointF) -> float:
    return float(((one.x() - other.x()) ** 2 + (one.y() - other.y()) ** 2) ** 0.5)


def _aside(first: QPointF, second: QPointF, by: float) -> QPointF:
    """A shift to the side of a line, the same whichever end comes first."""
    if (first.x(), first.y()) > (second.x(), second.y()):
        first, second = second, first
    along = second - first
    long = _apart(first, second) or 1.0
    return QPointF(-along.y() / long * by, along.x() / long * by)
