"""The stage's line on the relief: hovering marks the profile, a click moves the cursor there."""

import numpy as np
from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QMouseEvent, QPainter, QPen
from PySide6.QtWidgets import QWidget

from lacet.tracks.drawn import Drawn
from lacet.tracks.edit import nearest, positions_at
from lacet.tracks.track import Track
from lacet.trip.words import Way
from lacet.window.map.ground_view import At, GroundView
from lacet.window.stage_desk.cursor import Cursor
from lacet.window.theme import current_theme

MOST_POINTS = 1_500
NEAR_PX = 18.0


class LineView(GroundView):
    """Draws a `Drawn`; the cursor says where one is on it."""

    def __init__(self, cursor: Cursor, parent: QWidget | None = None) -> None:
        super().__init__("Map of the stage", parent)
        self.desk_cursor = cursor
        self._track: Track | None = None
        self._foot = True
        self._spots: tuple[At, ...] = ()
        self._hover: At | None = None
        cursor.moved.connect(lambda _: self._show_cursor())
        cursor.hovered.connect(self._on_hovered)
        cursor.stretched.connect(lambda *_: self.update())

    def show_drawn(self, drawn: Drawn, *, fit: bool) -> None:
        """Draw this stage; `fit` brings all of it into view."""
        self._track = drawn.track
        self._foot = drawn.stage.on(Way.WALKING) is not None
        self.line = self._positions(0.0, drawn.length_m, MOST_POINTS)
        along = np.array([point.along_m for point in drawn.stage.points])
        self._spots = self._at(along) if len(along) else ()
        if fit:
            self.fit(self.line)
        self._show_cursor()
        self.update()

    def along_at(self, pixel: QPointF) -> float | None:
        """The distance along the line nearest to a pixel, if it is near."""
        if self._track is None:
            return None
        along_m, _ = nearest(self._track, *self.to_position(pixel))
        (at,) = self._at(np.array([along_m]))
        apart = self.to_pixel(at) - pixel
        return along_m if (apart.x() ** 2 + apart.y() ** 2) ** 0.5 <= NEAR_PX else None

    def _positions(self, from_m: float, to_m: float, count: int) -> tuple[At, ...]:
        return self._at(np.linspace(from_m, to_m, count)) if to_m > from_m else ()

    def _at(self, along_m: np.ndarray) -> tuple[At, ...]:
        assert self._track is not None
        latitude, longitude, _ = positions_at(self._track, along_m)
        return tuple(zip(latitude.tolist(), longitude.tolist(), strict=True))

    def _show_cursor(self) -> None:
        if self._track is not None:
            (at,) = self._at(np.array([self.desk_cursor.at_m]))
            self.set_mark(at)

    def _on_hovered(self, at_m: float | None) -> None:
        self._hover = None if at_m is None or self._track is None else self._at(np.array([at_m]))[0]
        self.update()

    # --- painting

    def _paint_line(self, painter: QPainter) -> None:
        theme = current_theme()
        seen = [self.to_pixel(at) for at in self.line]
        stretch = [self.to_pixel(at) for at in self._positions(*self.desk_cursor.stretch_m, 300)]
        if stretch:
            shade = theme.color("warn")
            shade.setAlphaF(0.45)
            pen = QPen(shade, 11.0)
            pen.setCapStyle(Qt.PenCapStyle.RoundCap)
            painter.setPen(pen)
            painter.drawPolyline(stretch)
        painter.setPen(QPen(theme.color("raised"), 4.6))
        painter.drawPolyline(seen)
        painter.setPen(QPen(theme.color("foot" if self._foot else "bike"), 2.4))
        painter.drawPolyline(seen)
        painter.setPen(QPen(theme.color("raised"), 1.2))
        painter.setBrush(theme.color("accent"))
        for at in self._spots:
            painter.drawRect(int(self.to_pixel(at).x()) - 3, int(self.to_pixel(at).y()) - 3, 7, 7)
        if self._hover is not None:
            painter.setBrush(theme.color("warn"))
            painter.drawEllipse(self.to_pixel(self._hover), 5.0, 5.0)

    # --- Qt overrides

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        super().mouseMoveEvent(event)
        if event.buttons() == Qt.MouseButton.NoButton:
            self.desk_cursor.hover(self.along_at(event.position()))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        pressed = self._pressed_at
        super().mouseReleaseEvent(event)
        along_m = self.along_at(event.position())
        still = pressed is not None and (pressed - event.position()).manhattanLength() <= 3
        if still and along_m is not None:
            self.desk_cursor.move(along_m)

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self.desk_cursor.hover(None)
