"""How shelf entries are painted: stages with their little profile, headings, plain cards."""

import numpy as np
from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QFont, QFontMetrics, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem

from lacet.service.ranking import ShelfStage
from lacet.tracks.packing import sparkline_heights_m
from lacet.trip.words import Way
from lacet.window.parts import USUAL_TEXT_PX
from lacet.window.shelf.model import ENTRY_ROLE, Entry
from lacet.window.theme import Theme

Index = QModelIndex | QPersistentModelIndex
STAGE_HEIGHT = 62
CARD_HEIGHT = 34
HEADING_HEIGHT = 26
SPARK_HEIGHT = 15
LEAST_RISE_M = 60.0


class ShelfDelegate(QStyledItemDelegate):
    """Paints entries in the window's theme."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.theme = theme

    def _paint_heading(self, painter: QPainter, rect: QRect, entry: Entry) -> None:
        painter.setPen(self.theme.color("quiet"))
        inner = rect.adjusted(8, 0, -8, -2)
        painter.drawText(inner, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignBottom, entry.text)

    def _paint_card(self, painter: QPainter, option: QStyleOptionViewItem, entry: Entry) -> None:
        theme = self.theme
        box = QRectF(option.rect.adjusted(8, 3, -8, -3))
        focused = bool(option.state & QStyle.StateFlag.State_Selected)
        pen = QPen(theme.color("accent" if focused else "hairline"), 2 if focused else 1)
        pen.setStyle(Qt.PenStyle.SolidLine if entry.stage else Qt.PenStyle.DashLine)
        painter.setPen(pen)
        painter.setBrush(theme.color("raised"))
        painter.drawRoundedRect(box, 4, 4)
        bold = QFont(option.font)
        bold.setWeight(QFont.Weight.DemiBold)
        text = box.adjusted(14, 3, -8, 0).toRect()
        self._line(painter, text, entry.text, bold, "ink")
        if entry.sub:
            text.translate(0, QFontMetrics(bold).height() + 1)
            self._line(painter, text, entry.sub, option.font, "quiet")
        if entry.stage is not None:
            self._paint_way(painter, box, entry.stage.way)
            self._paint_spark(painter, box, entry.stage)

    def _line(self, painter: QPainter, rect: QRect, text: str, font: QFont, token: str) -> None:
        painter.setFont(font)
        painter.setPen(self.theme.color(token))
        said = QFontMetrics(font).elidedText(text, Qt.TextElideMode.ElideRight, rect.width())
        painter.drawText(rect, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop, said)

    def _paint_way(self, painter: QPainter, box: QRectF, way: Way) -> None:
        on_foot = way is Way.WALKING
        pen = QPen(self.theme.color("foot" if on_foot else "bike"), 3)
        pen.setStyle(Qt.PenStyle.DotLine if on_foot else Qt.PenStyle.SolidLine)
        pen.setCapStyle(Qt.PenCapStyle.RoundCap if on_foot else Qt.PenCapStyle.FlatCap)
        painter.setPen(pen)
        painter.drawLine(QPointF(box.left() + 6, box.top() + 6), QPointF(box.left() + 6, box.bottom() - 6))

    def _paint_spark(self, painter: QPainter, box: QRectF, offered: ShelfStage) -> None:
        if offered.row.sparkline is None:
            return
        heights = sparkline_heights_m(offered.row.sparkline)
        heights = heights[::-1] if offered.backward else heights
        if not np.isfinite(heights).any():
            return
        low = float(np.nanmin(heights))
        span = max(float(np.nanmax(heights)) - low, LEAST_RISE_M)
        area = QRectF(box.left() + 14, box.bottom() - SPARK_HEIGHT - 4, box.width() - 24, SPARK_HEIGHT)
        x = np.linspace(area.left(), area.right(), len(heights))
        y = area.bottom() - (heights - low) / span * area.height()
        line = QPolygonF([QPointF(a, b) for a, b in zip(x, y, strict=True) if np.isfinite(b)])
        on_foot = offered.way is Way.WALKING
        pen = QPen(self.theme.color("foot" if on_foot else "bike"), 1.4)
        pen.setStyle(Qt.PenStyle.DotLine if on_foot else Qt.PenStyle.SolidLine)
        painter.setPen(pen)
        painter.drawPolyline(line)

    # --- Qt overrides

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        entry: Entry = index.data(ENTRY_ROLE)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if entry.kind == "heading":
            self._paint_heading(painter, option.rect, entry)
        else:
            self._paint_card(painter, option, entry)
        painter.restore()

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        entry: Entry = index.data(ENTRY_ROLE)
        heights = {"heading": HEADING_HEIGHT, "stage": STAGE_HEIGHT}
        high = heights.get(entry.kind, CARD_HEIGHT + (14 if entry.sub else 0))
        return QSize(180, round(high * max(1.0, option.fontMetrics.height() / USUAL_TEXT_PX)))
