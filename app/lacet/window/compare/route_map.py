"""The routes of the variants on one small map: relief below, lines by width, letters where they end."""

from math import pi

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFont, QPainter, QPainterPath, QPaintEvent, QPen, QPixmap, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from lacet.figures.route import At
from lacet.service.map_scene import Scene, bounds_of, scene
from lacet.service.shown import Shown
from lacet.tracks.relief import Relief, mercator
from lacet.trip.catalogue import Catalogue
from lacet.window.compare.look import WIDTHS, colour_of, pen_of
from lacet.window.map.panel import cache_folder
from lacet.window.theme import Theme

MARGIN_PX = 16
LETTER_PX = 16
RADIAN_DEG = 180 / pi


class RouteMap(QWidget):
    """A drawing, no page: it needs no engine and follows a drag at once."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.scenes: list[Scene] = []
        self.letters: list[str] = []
        self._ground: list[tuple[QPixmap, Relief]] = []
        self.setAccessibleName("Routes of the variants on one map")
        self.setMinimumSize(220, 120)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def show_ground(self, reliefs: tuple[Relief, ...]) -> None:
        """Lay shaded relief below."""
        folder = cache_folder()
        self._ground = [(QPixmap(str(folder / each.picture)), each) for each in reliefs]
        self.update()

    def show_routes(self, shown: list[Shown], letters: list[str], catalogue: Catalogue) -> None:
        """Draw these variants."""
        self.letters = letters
        self.scenes = [scene(each, catalogue, None) for each in shown]
        stops = [f"{letter}: {_places(each)}" for letter, each in zip(letters, self.scenes, strict=True)]
        self.setAccessibleDescription("; ".join(stops))
        self.update()

    # --- within

    def _bounds(self) -> tuple[At, At] | None:
        """Around the routes; around the ground where there are none."""
        ends = [at for each in self.scenes if each.bounds for at in each.bounds]
        if not ends:
            for _, relief in self._ground:
                ends += [(relief.south, relief.west), (relief.north, relief.east)]
        return bounds_of(ends)

    def _place_all(self) -> None:
        bounds = self._bounds()
        self._scale = 0.0
        if bounds is None:
            return
        (south, west), (north, east) = bounds
        bottom, top = (float(mercator(each)) * RADIAN_DEG for each in (south, north))
        wide, high = max(east - west, 1e-6), max(top - bottom, 1e-6)
        room_x, room_y = self.width() - 2 * MARGIN_PX, self.height() - 2 * MARGIN_PX
        self._scale = min(room_x / wide, room_y / high)
        self._left = self.width() / 2 - (west + wide / 2) * self._scale
        self._top = self.height() / 2 + (bottom + high / 2) * self._scale

    def _point(self, at: At) -> QPointF:
        return QPointF(
            self._left + at[1] * self._scale, self._top - float(mercator(at[0])) * RADIAN_DEG * self._scale
        )

    def _draw_ground(self, painter: QPainter) -> None:
        for picture, relief in self._ground:
            corner = self._point((relief.north, relief.west))
            painter.drawPixmap(
                QRectF(corner, self._point((relief.south, relief.east))), picture, QRectF(picture.rect())
            )

    def _draw_routes(self, painter: QPainter) -> None:
        """All casings first: lines that run together then lie in one another, none under a casing."""
        paths = [self._path(each) for each in self.scenes]
        for index, path in enumerate(paths):
            casing = QPen(self.theme.color("raised"), WIDTHS[index] + 2.4)
            casing.setCapStyle(Qt.PenCapStyle.RoundCap)
            casing.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
            painter.strokePath(path, casing)
        for index, path in enumerate(paths):
            painter.strokePath(path, pen_of(index, self.theme))

    def _path(self, drawn: Scene) -> QPainterPath:
        path = QPainterPath()
        for leg in drawn.legs:
            for segment in drawn.lines[leg.line]:
                path.addPolygon(QPolygonF([self._point(at) for at in segment]))
        return path

    def _draw_letters(self, painter: QPainter) -> None:
        """Each on its variant's own ground where it has some; none on another."""
        font = QFont(self.font())
        font.setBold(True)
        painter.setFont(font)
        taken: list[QPointF] = []
        for index, each in enumerate(self.scenes):
            others = {leg.line for other in self.scenes if other is not each for leg in other.legs}
            own = [leg for leg in each.legs if leg.line not in others] or list(each.legs)
            if not own:
                continue
            leg = own[(index + 1) * len(own) // (len(self.scenes) + 1)]
            line = [at for segment in each.lines[leg.line] for at in segment]
            at = self._point(line[len(line) // 2])
            while any((at - other).manhattanLength() < LETTER_PX for other in taken):
                at += QPointF(LETTER_PX, 0)
            taken.append(at)
            self._draw_letter(painter, index, at)

    def _draw_letter(self, painter: QPainter, index: int, at: QPointF) -> None:
        box = QRectF(at.x() - LETTER_PX / 2, at.y() - LETTER_PX / 2, LETTER_PX, LETTER_PX)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(colour_of(index, self.theme))
        painter.drawEllipse(box)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(self.theme.color("raised"))
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, self.letters[index])

    # --- Qt overrides

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.fillRect(self.rect(), self.theme.color("sea"))
        self._place_all()
        if self._scale:
            self._draw_ground(painter)
            self._draw_routes(painter)
            self._draw_letters(painter)
        painter.end()


def _places(drawn: Scene) -> str:
    return ", ".join(stop.name for stop in drawn.stops if stop.name)
