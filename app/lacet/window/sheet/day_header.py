"""The head of the columns."""

from PySide6.QtCore import QPoint, QRect, Qt, Signal
from PySide6.QtGui import QFont, QFontMetrics, QMouseEvent, QPainter, QPen
from PySide6.QtWidgets import QApplication, QHeaderView, QWidget

from lacet.service.sheet.table import Column
from lacet.window.sheet.dragging import moved_enough
from lacet.window.theme import Theme

HEADER_HEIGHT = 30


class DayHeader(QHeaderView):
    """The head of the columns: number and date of each day, once for the halves of a parted day.

    `day_dragged` sends the column whose day is being pulled away by its head.
    """

    day_dragged = Signal(int)
    day_pressed = Signal(int)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self.theme = theme
        self.columns: tuple[Column, ...] = ()
        self.labels: tuple[tuple[str, str], ...] = ()
        self.signs: tuple[str, ...] = ()
        self.day_width = 140
        self.selected_day: int | None = None
        self.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.setFixedHeight(HEADER_HEIGHT)
        self.setSectionsClickable(True)
        self.setAccessibleName("Days")
        self._pressed: QPoint | None = None

    # --- Qt overrides

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self._pressed = event.position().toPoint()
        column = self.logicalIndexAt(self._pressed)
        if column >= 0:
            self.day_pressed.emit(column)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        start = self._pressed
        if start and moved_enough(start, event.position(), QApplication.startDragDistance()):
            self._pressed = None
            if (column := self.logicalIndexAt(start)) >= 0:
                self.day_dragged.emit(column)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        self._pressed = None

    def paintSection(self, painter: QPainter, rect: QRect, section: int) -> None:
        if section >= len(self.columns):
            return
        column = self.columns[section]
        theme = self.theme
        painter.save()
        painter.setClipRect(rect)
        painter.fillRect(rect, theme.color("selected" if column.day == self.selected_day else "paper"))
        left = rect.left() - self.day_width * column.group // column.groups
        whole = QRect(left, rect.top(), self.day_width, rect.height())
        self._paint_label(painter, whole, self.labels[section], self.signs[section])
        painter.setPen(QPen(theme.color("hairline"), 1))
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        if column.group == column.groups - 1:
            painter.drawLine(rect.topRight(), rect.bottomRight())
        painter.restore()

    def _paint_label(self, painter: QPainter, whole: QRect, label: tuple[str, str], sign: str) -> None:
        number, on = label
        bold = QFont(self.font())
        bold.setWeight(QFont.Weight.DemiBold)
        bold.setPointSizeF(self.font().pointSizeF() * 1.2)
        painter.setFont(bold)
        painter.setPen(self.theme.color("ink"))
        inner = whole.adjusted(8, 0, -8, 0)
        painter.drawText(inner, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, number)
        painter.setFont(self.font())
        painter.setPen(self.theme.color("quiet"))
        taken = QFontMetrics(bold).horizontalAdvance(number) + 6
        if sign:
            beside = inner.adjusted(taken - 3, 0, 0, 0)
            painter.drawText(beside, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, sign)
            taken += QFontMetrics(self.font()).horizontalAdvance(sign) + 3
        room = inner.width() - taken
        # 'Sat 8' says enough under a month's other days, and '8' where text is large.
        forms = (on, on.rpartition(" ")[0], on.rpartition(" ")[0].rpartition(" ")[2], "")
        on = next(form for form in forms if QFontMetrics(self.font()).horizontalAdvance(form) <= max(room, 0))
        painter.drawText(inner, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, on)
