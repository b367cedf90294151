"""How cells are painted: cards, figures, stays that straddle the lines between days, checks."""

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPen
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem

from lacet.service.sheet.cells import Cell, Pill
from lacet.service.sheet.table import Column, RowKind, SheetTable
from lacet.window.sheet.model import CELL_ROLE, SheetModel
from lacet.window.theme import Theme

Index = QModelIndex | QPersistentModelIndex

CARD_HEIGHT = 42
ROW_HEIGHT = 22
PILL_MARGIN = 3
PILL_ROW = 26
MARGIN = 3


class SheetDelegate(QStyledItemDelegate):
    """Paints every cell of the sheet in the window's theme. `day_width` is the width of one day [px]."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.theme = theme
        self.day_width = 140
        self.target_column: int | None = None

    def _paint_ground(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        theme = self.theme
        if option.state & QStyle.StateFlag.State_Selected or index.column() == self.target_column:
            painter.fillRect(option.rect, theme.color("selected"))

    def _paint_focus(self, painter: QPainter, option: QStyleOptionViewItem) -> None:
        if option.state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(QPen(self.theme.color("accent"), 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(option.rect.adjusted(1, 1, -2, -2))

    def _paint_card(self, painter: QPainter, rect: QRect, cell: Cell, font: QFont) -> None:
        theme = self.theme
        box = QRectF(rect.adjusted(MARGIN, MARGIN, -MARGIN, -MARGIN))
        edge = {"walking": "foot", "cycling": "bike"}.get(cell.card, "stone")
        planned = cell.card in ("walking", "cycling")
        painter.setPen(QPen(theme.color("hairline"), 1))
        painter.setBrush(theme.color("raised" if planned else "stone_fill"))
        painter.drawRoundedRect(box, 4, 4)
        self._paint_edge(painter, box, theme.color(edge), cell.card)
        text = QRect(rect.left() + MARGIN + 12, rect.top() + MARGIN + 1, rect.width() - 2 * MARGIN - 15, 0)
        self._two_lines(painter, text, box, cell, font)

    def _paint_edge(self, painter: QPainter, box: QRectF, color: QColor, card: str) -> None:
        """The way as a line at the card's left: dotted on foot, unbroken by bike, dashed for the rest."""
        style = {"walking": Qt.PenStyle.DotLine, "cycling": Qt.PenStyle.SolidLine}.get(
            card, Qt.PenStyle.DashLine
        )
        pen = QPen(color, 3, style)
        pen.setCapStyle(Qt.PenCapStyle.RoundCap if card == "walking" else Qt.PenCapStyle.FlatCap)
        painter.setPen(pen)
        painter.drawLine(int(box.left()) + 5, int(box.top()) + 6, int(box.left()) + 5, int(box.bottom()) - 5)

    def _two_lines(self, painter: QPainter, text: QRect, box: QRectF, cell: Cell, font: QFont) -> None:
        bold = QFont(font)
        bold.setWeight(QFont.Weight.DemiBold)
        high = QFontMetrics(bold).height()
        painter.setFont(bold)
        painter.setPen(self.theme.color("stop" if cell.tone == "stop" else "ink"))
        line = QRect(text.left(), text.top(), text.width(), high)
        painter.drawText(line, Qt.AlignmentFlag.AlignLeft, _fitting(cell, bold, text.width()))
        painter.setFont(font)
        painter.setPen(self.theme.color("quiet"))
        line.translate(0, high + 1)
        painter.drawText(line, Qt.AlignmentFlag.AlignLeft, _elided(cell.sub, font, text.width()))

    def _paint_text(self, painter: QPainter, rect: QRect, cell: Cell, font: QFont) -> None:
        painter.setFont(font)
        painter.setPen(self.theme.color(cell.tone))
        inner = rect.adjusted(4, 0, -4, 0)
        painter.drawText(inner, Qt.AlignmentFlag.AlignCenter, _fitting(cell, font, inner.width()))

    def _paint_check(self, painter: QPainter, rect: QRect, cell: Cell, font: QFont) -> None:
        """A word on its tone's ground; the mark before it tells the tone without colour."""
        mark = {"good": "✓ ", "warn": "! ", "stop": "■ "}.get(cell.tone, "")
        box = QRectF(rect.adjusted(6, 2, -6, -2))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self.theme.color(f"{cell.tone}_fill") if mark else self.theme.color("panel"))
        painter.drawRoundedRect(box, 3, 3)
        bold = QFont(font)
        bold.setWeight(QFont.Weight.DemiBold)
        painter.setFont(bold)
        painter.setPen(self.theme.color(cell.tone))
        said = _fitting(cell, bold, int(box.width()) - 6, mark)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, said)

    def _paint_pills(self, painter: QPainter, rect: QRect, cell: Cell, font: QFont, column: Column) -> None:
        """The parts of stays that this cell shows: each is drawn whole, and the cell clips it."""
        day_left = rect.left() - self.day_width * column.group // column.groups
        middle = day_left + self.day_width // 2
        for pill in cell.pills:
            shown = QRect(rect.left(), rect.top(), middle - rect.left(), rect.height())
            if pill.part == "right":
                left = max(middle, rect.left())
                shown = QRect(left, rect.top(), rect.right() - left + 1, rect.height())
            whole = QRect(
                middle - (column.day - pill.first) * self.day_width + 4,
                rect.top() + PILL_MARGIN,
                pill.nights * self.day_width - 8,
                rect.height() - 2 * PILL_MARGIN,
            )
            painter.save()
            painter.setClipRect(shown.intersected(rect))
            self._paint_pill(painter, whole, pill, font)
            painter.restore()

    def _paint_pill(self, painter: QPainter, whole: QRect, pill: Pill, font: QFont) -> None:
        theme = self.theme
        style = Qt.PenStyle.SolidLine if pill.state == "confirmed" else Qt.PenStyle.DashLine
        painter.setPen(QPen(theme.color("good" if pill.state == "confirmed" else "stone"), 1, style))
        painter.setBrush(theme.color("stop_fill" if pill.state in ("refused", "cancelled") else "night_fill"))
        painter.drawRoundedRect(QRectF(whole), 5, 5)
        painter.setFont(font)
        painter.setPen(theme.color("ink"))
        inner = whole.adjusted(6, 0, -6, 0)
        painter.drawText(inner, Qt.AlignmentFlag.AlignCenter, _elided(pill.text, font, inner.width()))

    # --- Qt overrides

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        cell: Cell = index.data(CELL_ROLE)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._paint_ground(painter, option, index)
        if cell.card:
            self._paint_card(painter, option.rect, cell, option.font)
        elif cell.pills:
            column = _table(index).columns[index.column()]
            self._paint_pills(painter, option.rect, cell, option.font, column)
        elif cell.tone in ("good", "warn", "stop") and self._is_check(index):
            self._paint_check(painter, option.rect, cell, option.font)
        elif cell.text:
            self._paint_text(painter, option.rect, cell, option.font)
        self._paint_focus(painter, option)
        painter.restore()

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        return QSize(self.day_width, ROW_HEIGHT)

    def _is_check(self, index: Index) -> bool:
        return _table(index).rows[index.row()][0] is RowKind.CHECKS


def _table(index: Index) -> SheetTable:
    model = index.model()
    assert isinstance(model, SheetModel), "the sheet's delegate serves the sheet's model"
    assert model.table is not None, "cells are painted only while there are some"
    return model.table


def _fitting(cell: Cell, font: QFont, width: int, mark: str = "") -> str:
    """The cell's text, else its short form where it has one, cut off where even that is too long."""
    whole = mark + cell.text
    said = _elided(whole, font, width)
    return said if said == whole or not cell.short else _elided(mark + cell.short, font, width)


def _elided(text: str, font: QFont, width: int) -> str:
    return QFontMetrics(font).elidedText(text, Qt.TextElideMode.ElideRight, max(width, 0))
