"""Draws a day of a variant: what is done in ink, and under it, quieter, how it differs from the base."""

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, QSize, Qt
from PySide6.QtGui import QFontMetrics, QPainter, QPen
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem

from lacet.window.theme import Theme

DETAILS_ROLE = Qt.ItemDataRole.UserRole
DIFFERS_ROLE = Qt.ItemDataRole.UserRole + 1
MARGIN = 6
WRAPPED = int(Qt.TextFlag.TextWordWrap) | int(Qt.AlignmentFlag.AlignLeft) | int(Qt.AlignmentFlag.AlignTop)
Index = QModelIndex | QPersistentModelIndex


class DayDelegate(QStyledItemDelegate):
    """Cells as high as their texts need."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.theme = theme

    # --- Qt overrides

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        box: QRect = option.rect
        state: QStyle.StateFlag = option.state
        theme = self.theme
        painter.save()
        chosen = bool(state & QStyle.StateFlag.State_Selected)
        ground = "selected" if chosen else "panel" if index.data(DIFFERS_ROLE) else "paper"
        painter.fillRect(box, theme.color(ground))
        painter.setPen(theme.color("hairline"))
        painter.drawLine(box.bottomLeft(), box.bottomRight())
        inner = box.adjusted(MARGIN, MARGIN // 2, -MARGIN, -MARGIN // 2)
        painter.setPen(theme.color("ink"))
        used = painter.drawText(inner, WRAPPED, str(index.data() or ""))
        details = str(index.data(DETAILS_ROLE) or "")
        if details:
            painter.setPen(theme.color("quiet"))
            painter.drawText(inner.adjusted(0, used.height() + 1, 0, 0), WRAPPED, details)
        if state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(QPen(theme.color("accent"), 2))
            painter.drawRect(box.adjusted(1, 1, -2, -2))
        painter.restore()

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        metrics = QFontMetrics(option.font)
        width: int = option.rect.width()
        room = QRect(0, 0, max(width - 2 * MARGIN, 60), 10_000)
        texts = (str(index.data() or ""), str(index.data(DETAILS_ROLE) or ""))
        high = sum(metrics.boundingRect(room, WRAPPED, text).height() + 1 for text in texts if text)
        return QSize(60, max(high, metrics.height()) + MARGIN + 1)
