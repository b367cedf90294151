"""A small picture of one line: where it runs, and its heights. What it shows stands in the table as well."""

import numpy as np
from PySide6.QtCore import QPointF, QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from lacet.intake.proposals import Proposal
from lacet.tracks.geodesy import plane_m
from lacet.tracks.profile import Profile, profile
from lacet.tracks.track import Floats, Track
from lacet.trip.words import Way
from lacet.window.theme import current_theme

MOST_POINTS = 600
PAD_PX = 12.0
LINE_SHARE = 0.42
LEAST_RISE_M = 60.0


class Preview(QWidget):
    """Draws one proposal, north up; nothing when there is none."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("Line and heights")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._line: list[QPointF] = []
        self._profile: Profile | None = None
        self._foot = True
        self._points_m: list[float] = []

    def show_proposal(self, proposal: Proposal | None, says: str = "") -> None:
        """Draw this line."""
        self._line = [] if proposal is None else _thinned(proposal.track)
        self._profile = None if proposal is None else profile(proposal.track)
        self._foot = proposal is None or Way.WALKING in proposal.ways
        self._points_m = [] if proposal is None else [point.along_m for point in proposal.points]
        self.setAccessibleDescription(says)
        self.update()

    def _paint_line(self, painter: QPainter, box: QRectF) -> None:
        polygon = QPolygonF(self._line)
        bounds = polygon.boundingRect()
        longest = max(bounds.width(), bounds.height(), 1.0)
        scale = min(box.width(), box.height()) / longest
        shift = box.center() - bounds.center() * scale
        seen = [QPointF(at.x() * scale, at.y() * scale) + shift for at in self._line]
        theme = current_theme()
        painter.setPen(QPen(theme.color("foot" if self._foot else "bike"), 2.0))
        painter.drawPolyline(seen)
        painter.setPen(QPen(theme.color("raised"), 1.2))
        for at, token in ((seen[-1], "stop"), (seen[0], "good")):
            painter.setBrush(theme.color(token))
            painter.drawEllipse(at, 4.0, 4.0)

    def _paint_profile(self, painter: QPainter, box: QRectF, found: Profile) -> None:
        theme = current_theme()
        height, along = found.height_m, found.distance_m
        if found.lowest_m is None or found.highest_m is None or found.length_m <= 0:
            painter.setPen(theme.color("quiet"))
            painter.drawText(box, "No heights")
            return
        rise = max(found.highest_m - found.lowest_m, LEAST_RISE_M)
        every = max(1, len(along) // MOST_POINTS)
        at = [
            QPointF(
                box.left() + x / found.length_m * box.width(), box.bottom() - (y - low) / rise * box.height()
            )
            for low in (found.lowest_m,)
            for x, y in zip(along[::every].tolist(), height[::every].tolist(), strict=True)
            if y == y
        ]
        painter.setPen(QPen(theme.color("stone"), 1.6))
        painter.drawPolyline(at)
        painter.setPen(QPen(theme.color("accent"), 1.4))
        for point_m in self._points_m:
            x = box.left() + point_m / found.length_m * box.width()
            painter.drawLine(QPointF(x, box.bottom() - 6), QPointF(x, box.bottom() + 4))
        painter.setPen(theme.color("quiet"))
        low, high = f"{found.lowest_m:.0f} m", f"{found.highest_m:.0f} m"
        painter.drawText(QPointF(box.left(), box.top() - 1), high)
        painter.drawText(QPointF(box.left(), box.bottom() + 12), low)

    # --- Qt overrides

    def sizeHint(self) -> QSize:
        return QSize(320, 150)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        box = QRectF(self.rect())
        painter.fillRect(box, current_theme().color("raised"))
        if len(self._line) > 1 and self._profile is not None:
            left = box.adjusted(PAD_PX, PAD_PX, -box.width() * (1 - LINE_SHARE), -PAD_PX)
            self._paint_line(painter, left)
            right = box.adjusted(box.width() * LINE_SHARE + PAD_PX, 22, -PAD_PX, -20)
            self._paint_profile(painter, right, self._profile)
        painter.end()


def _thinned(track: Track) -> list[QPointF]:
    """Metres east and south of the first point; a picture needs no more points than it has pixels."""
    every = max(1, len(track) // MOST_POINTS)
    chosen = np.unique(np.append(np.arange(0, len(track), every), len(track) - 1))
    centre = float(track.latitude_deg[0]), float(track.longitude_deg[0])
    plane: Floats = plane_m(track.latitude_deg[chosen], track.longitude_deg[chosen], centre)
    return [QPointF(east, -north) for east, north in zip(plane[0].tolist(), plane[1].tolist(), strict=True)]
