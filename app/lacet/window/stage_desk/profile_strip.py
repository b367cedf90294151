"""Heights over distance with what lies along: a strip to move the cursor on and to choose a stretch.

Everything it shows or lets the mouse do is in the fields beside it as well; the arrow keys move the cursor
and, with Shift, draw a stretch.
"""

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from lacet.tracks.profile import Profile
from lacet.trip.library import Stage, SurfaceStretch, TrafficStretch
from lacet.trip.words import Surface, Traffic, Way
from lacet.window.stage_desk.cursor import Cursor
from lacet.window.theme import current_theme
from lacet.wording import Wording

LEFT_PX, RIGHT_PX, TOP_PX, BOTTOM_PX = 56.0, 12.0, 20.0, 66.0
BAND_PX = 12.0
LEAST_RISE_M = 60.0
STEP_SHARE = 0.01
FINE_M = 10.0
# From pale to dark as the ground gets rougher or the road busier; the words stand in the tip and the fields.
_SURFACES = dict(zip(Surface, ("stone_fill", "bike_fill", "night_fill", "foot_fill", "stone"), strict=False))
_TRAFFIC = dict(zip(Traffic, ("good_fill", "night_fill", "warn_fill", "stop_fill"), strict=True))


class ProfileStrip(QWidget):
    """Draws a profile; `before` is drawn faintly under it."""

    def __init__(self, cursor: Cursor, wording: Wording, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.desk_cursor = cursor
        self._wording = wording
        self._stage: Stage | None = None
        self._profile: Profile | None = None
        self._before: Profile | None = None
        self.way = Way.WALKING
        self._hover: float | None = None
        self._pressed_m: float | None = None
        self._anchor_m: float | None = None
        self.setAccessibleName("Profile of the stage")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        cursor.moved.connect(lambda _: self._tell())
        cursor.stretched.connect(lambda *_: self._tell())
        cursor.hovered.connect(self._on_hovered)

    def show_stage(self, stage: Stage, found: Profile, before: Profile | None, way: Way) -> None:
        """Draw this stage as it is for a way."""
        self._stage, self._profile, self._before, self.way = stage, found, before, way
        self._tell()

    def _tell(self) -> None:
        from_m, to_m = self.desk_cursor.stretch_m
        says = f"At {self._wording.length(self.desk_cursor.at_m)}"
        if to_m > from_m:
            says += f", stretch from {self._wording.length(from_m)} to {self._wording.length(to_m)}"
        self.setAccessibleDescription(says)
        self.update()

    def _on_hovered(self, at_m: float | None) -> None:
        self._hover = at_m
        self.update()

    # --- pixels and distances

    def _box(self) -> QRectF:
        return QRectF(self.rect()).adjusted(LEFT_PX, TOP_PX, -RIGHT_PX, -BOTTOM_PX)

    def x_of(self, at_m: float) -> float:
        """Where a distance stands."""
        box, length = self._box(), max(self.desk_cursor.length_m, 1.0)
        return box.left() + at_m / length * box.width()

    def metres_at(self, x: float) -> float:
        """The distance at a pixel."""
        box = self._box()
        share = (x - box.left()) / max(box.width(), 1.0)
        return min(max(share, 0.0), 1.0) * self.desk_cursor.length_m

    # --- painting

    def _paint_line(self, painter: QPainter, found: Profile, token: str, low: float, rise: float) -> None:
        box, theme = self._box(), current_theme()
        every = max(1, len(found.distance_m) // max(int(box.width()), 1))
        at = [
            QPointF(self.x_of(x), box.bottom() - (y - low) / rise * box.height())
            for x, y in zip(found.distance_m[::every].tolist(), found.height_m[::every].tolist(), strict=True)
            if y == y
        ]
        if len(at) < 2:
            return
        if token == "stone":
            ground = [QPointF(at[0].x(), box.bottom()), *at, QPointF(at[-1].x(), box.bottom())]
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(theme.color("stone_fill"))
            painter.drawPolygon(QPolygonF(ground))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        solid, dashed = Qt.PenStyle.SolidLine, Qt.PenStyle.DashLine
        new = token == "stone"
        painter.setPen(QPen(theme.color(token), 1.8 if new else 1.4, solid if new else dashed))
        painter.drawPolyline(at)

    def _paint_profiles(self, painter: QPainter) -> None:
        found, before = self._profile, self._before
        known = [each for each in (found, before) if each is not None and each.lowest_m is not None]
        lows = [each.lowest_m for each in known if each.lowest_m is not None]
        highs = [each.highest_m for each in known if each.highest_m is not None]
        box, theme = self._box(), current_theme()
        painter.setPen(theme.color("quiet"))
        if not lows:
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, "No heights are known; see Heights.")
            return
        low, rise = min(lows), max(max(highs) - min(lows), LEAST_RISE_M)
        right = Qt.AlignmentFlag.AlignRight
        for metres, y in ((low, box.bottom()), (low + rise, box.top())):
            painter.drawText(QRectF(0, y - 8, LEFT_PX - 6, 16), right, self._wording.height(metres))
        if found is not None:
            self._paint_line(painter, found, "stone", low, rise)
        if before is not None:
            self._paint_line(painter, before, "stop", low, rise)

    def _paint_bands(self, painter: QPainter) -> None:
        facts = None if self._stage is None else self._stage.on(self.way)
        if facts is None:
            return
        top, theme = self._box().bottom() + 27, current_theme()
        bands: tuple[tuple[str, Sequence[SurfaceStretch | TrafficStretch]], ...] = (
            ("ground", facts.surfaces),
            ("traffic", facts.traffic),
        )
        for number, (name, stretches) in enumerate(bands):
            y = top + number * (BAND_PX + 4)
            painter.setPen(theme.color("quiet"))
            painter.drawText(QRectF(0, y - 2, LEFT_PX - 6, 16), Qt.AlignmentFlag.AlignRight, name)
            painter.setPen(QPen(theme.color("hairline"), 1))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(QRectF(self._box().left(), y, self._box().width(), BAND_PX))
            self._paint_stretches(painter, stretches, y)

    def _paint_stretches(
        self, painter: QPainter, stretches: Sequence[SurfaceStretch | TrafficStretch], y: float
    ) -> None:
        theme = current_theme()
        for each in stretches:
            box = QRectF(self.x_of(each.from_m), y, self.x_of(each.to_m) - self.x_of(each.from_m), BAND_PX)
            token = _SURFACES[each.surface] if isinstance(each, SurfaceStretch) else _TRAFFIC[each.traffic]
            painter.fillRect(box, theme.color(token))
            painter.setPen(theme.color("raised" if token == "stone" else "ink"))
            text = painter.fontMetrics().elidedText(
                _word(each), Qt.TextElideMode.ElideRight, int(box.width()) - 4
            )
            if len(text) > 2:
                painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)

    def _paint_marks(self, painter: QPainter) -> None:
        if self._stage is None:
            return
        box, theme = self._box(), current_theme()
        taken = box.left() - 10.0
        for point in self._stage.points:
            x = self.x_of(point.along_m)
            painter.setPen(QPen(theme.color("accent"), 1.2))
            painter.drawLine(QPointF(x, box.top() - 2), QPointF(x, box.bottom()))
            wide = painter.fontMetrics().horizontalAdvance(point.name)
            left = min(x + 3, self.width() - wide - 4.0)
            if left > taken:
                painter.drawText(QPointF(left, box.top() - 6), point.name)
                taken = left + wide + 8
        painter.setPen(QPen(theme.color("warn"), 2.0))
        for cue in self._stage.cues:
            x = self.x_of(cue.along_m)
            painter.drawLine(QPointF(x, box.bottom() + 2), QPointF(x, box.bottom() + 8))

    # --- Qt overrides

    def sizeHint(self) -> QSize:
        return QSize(700, 220)

    def minimumSizeHint(self) -> QSize:
        return QSize(300, 150)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter, theme, box = QPainter(self), current_theme(), self._box()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), theme.color("raised"))
        self._paint_profiles(painter)
        from_m, to_m = self.desk_cursor.stretch_m
        if to_m > from_m:
            shade = theme.color("warn_fill")
            shade.setAlphaF(0.55)
            painter.fillRect(
                QRectF(self.x_of(from_m), box.top(), self.x_of(to_m) - self.x_of(from_m), box.height()), shade
            )
        self._paint_bands(painter)
        self._paint_marks(painter)
        for at_m, token in ((self._hover, "warn"), (self.desk_cursor.at_m, "stop")):
            if at_m is not None:
                painter.setPen(QPen(theme.color(token), 1.6))
                painter.drawLine(QPointF(self.x_of(at_m), box.top()), QPointF(self.x_of(at_m), box.bottom()))
        painter.setPen(theme.color("quiet"))
        painter.drawText(QPointF(box.left(), box.bottom() + 22), "0")
        whole = self._wording.length(self.desk_cursor.length_m)
        right = box.right() - painter.fontMetrics().horizontalAdvance(whole)
        painter.drawText(QPointF(right, box.bottom() + 22), whole)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(theme.color("accent" if self.hasFocus() else "hairline"), 2))
        painter.drawRect(self.rect())
        painter.end()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self._pressed_m = self.metres_at(event.position().x())
        self.desk_cursor.move(self._pressed_m)
        self.desk_cursor.stretch(0.0, 0.0)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        at_m = self.metres_at(event.position().x())
        if self._pressed_m is not None:
            self.desk_cursor.stretch(self._pressed_m, at_m)
        self.desk_cursor.hover(at_m)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        self._pressed_m = None

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self.desk_cursor.hover(None)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        cursor, key = self.desk_cursor, Qt.Key(event.key())
        fine = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
        step = FINE_M if fine else STEP_SHARE * cursor.length_m
        goals = {
            Qt.Key.Key_Left: cursor.at_m - step,
            Qt.Key.Key_Right: cursor.at_m + step,
            Qt.Key.Key_Home: 0.0,
            Qt.Key.Key_End: cursor.length_m,
        }
        if key not in goals:
            super().keyPressEvent(event)
            return
        if event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
            self._anchor_m = cursor.at_m if self._anchor_m is None else self._anchor_m
            cursor.move(goals[key])
            cursor.stretch(self._anchor_m, cursor.at_m)
        else:
            self._anchor_m = None
            cursor.move(goals[key])


def _word(each: SurfaceStretch | TrafficStretch) -> str:
    value = each.surface if isinstance(each, SurfaceStretch) else each.traffic
    return value.value.replace("_", " ")
