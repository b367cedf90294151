"""The table of the sheet: fixed row names, days as columns, the profile laid over its row.

The view decides sizes and turns mouse and keys into gestures; what a gesture does is for `panel` and the
session.
"""

from PySide6.QtCore import QEvent, QMimeData, QPoint, Qt, Signal
from PySide6.QtGui import (
    QContextMenuEvent,
    QDrag,
    QDragEnterEvent,
    QDragLeaveEvent,
    QDragMoveEvent,
    QDropEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import QAbstractItemView, QApplication, QHeaderView, QTableView, QWidget

from lacet.service.sheet.reasons import OTHER_WAY
from lacet.service.sheet.table import RowKind, SheetTable
from lacet.trip.drop import DayPayload, ItemPayload, Payload, to_json
from lacet.window.carrying import MIME, is_ours, payload_of
from lacet.window.parts import text_scale
from lacet.window.sheet.day_header import HEADER_HEIGHT, DayHeader
from lacet.window.sheet.delegate import CARD_HEIGHT, PILL_ROW, ROW_HEIGHT, SheetDelegate
from lacet.window.sheet.dragging import (
    Ground,
    StayPull,
    moved_enough,
    stay_pull_at,
)
from lacet.window.sheet.geometry import SheetGeometry, column_widths, fitting_width, geometry_of
from lacet.window.sheet.keys import pressed
from lacet.window.sheet.model import SheetModel
from lacet.window.sheet.profile_row import ProfileRow
from lacet.window.theme import Theme

PROFILE_HEIGHT, LEAST_PROFILE_HEIGHT = 112, 84
EMPTY_LANE_HEIGHT = 14
ROW_NAMES_WIDTH = 124
WIDEST_DAY = 900


class SheetView(QTableView):
    """Shows the sheet. Signals carry what the person did, in the sheet's own terms."""

    zoomed = Signal(int)
    dragged_over = Signal(object, object)
    dropped = Signal(object, object)
    drag_left = Signal()
    picked = Signal(object, str)
    card_removed = Signal(str)
    card_menu_wanted = Signal(str, QPoint)
    day_menu_wanted = Signal(int, QPoint)
    day_opened = Signal(int)
    carried_key = Signal(int)
    stay_pulled = Signal(object)
    stay_let_go = Signal(object)

    def __init__(self, model: SheetModel, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.setModel(model)
        self.sheet = model
        self.painter_of_cells = SheetDelegate(theme)
        self.setItemDelegate(self.painter_of_cells)
        self.days = DayHeader(theme, self)
        self.setHorizontalHeader(self.days)
        self.profile = ProfileRow(theme, self.viewport())
        self.day_width: int | None = None
        self._ground: Ground | None = None
        self._pressed: QPoint | None = None
        self._pulled: StayPull | None = None
        self.carrying = False
        self._shape_view()
        self.setAcceptDrops(True)
        self.viewport().setAcceptDrops(True)
        self.profile.setAcceptDrops(False)
        self.days.day_dragged.connect(self._on_day_dragged)
        model.modelReset.connect(self.lay_out)
        self.horizontalScrollBar().valueChanged.connect(lambda _: self.place_profile())
        self.verticalScrollBar().valueChanged.connect(lambda _: self.place_profile())

    def _shape_view(self) -> None:
        self.setAccessibleName("Journey sheet")
        self.setShowGrid(False)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectItems)
        self.setTabKeyNavigation(False)
        self.setCornerButtonEnabled(False)
        self.setMouseTracking(True)
        names = self.verticalHeader()
        names.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        names.setFixedWidth(ROW_NAMES_WIDTH)
        names.setDefaultAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        names.setHighlightSections(False)
        names.setMinimumSectionSize(4)
        self.days.setMinimumSectionSize(8)

    @property
    def table(self) -> SheetTable | None:
        return self.sheet.table

    @property
    def width_of_day(self) -> int:
        """Pixels a day takes: as chosen, else so that the whole trip is in view; unchanged during a drag."""
        if self._ground is not None:
            return round(self._ground.days.width(0)) if self._ground.days.days else 200
        count = self.table.columns[-1].day + 1 if self.table and self.table.columns else 0
        return self.day_width or fitting_width(count, self.viewport().width())

    def geometry_of_days(self) -> SheetGeometry:
        """Days in the view's own pixels, scrolled as they are."""
        columns = self.table.columns if self.table else ()
        offset = float(self.days.offset())
        plain = geometry_of(columns, self.width_of_day)
        return SheetGeometry(tuple(edge - offset for edge in plain.edges))

    def zoom_to(self, width: int | None) -> None:
        """Let a day take so many pixels; None shows the whole trip."""
        self.day_width = None if width is None else max(60, min(WIDEST_DAY, width))
        self.lay_out()
        self.zoomed.emit(self.width_of_day)

    def zoom_by(self, factor: float) -> None:
        """Make days wider or narrower."""
        self.zoom_to(round(self.width_of_day * factor))

    def lay_out(self) -> None:
        """Set all sizes from the table that is shown."""
        table = self.table
        self.profile.setVisible(bool(table and table.columns))
        if table is None:
            return
        self.verticalHeader().setFixedWidth(self._scaled(ROW_NAMES_WIDTH))
        width = self.width_of_day
        self.painter_of_cells.day_width = self.days.day_width = width
        self.days.columns = table.columns
        self._label_days(table)
        for index, each in enumerate(column_widths(table.columns, width)):
            self.setColumnWidth(index, each)
        for row, (kind, lane) in enumerate(table.rows):
            self.setRowHeight(row, self._height(kind, lane, table))
        self.place_profile()

    def refresh(self) -> None:
        """The cells changed but not their number."""
        if self.table is not None:
            self._label_days(self.table)
            self.days.viewport().update()
        self.place_profile()

    def _label_days(self, table: SheetTable) -> None:
        self.days.labels = tuple(_label(table, index) for index in range(len(table.columns)))
        days = table.shown.variant.days
        self.days.signs = tuple(OTHER_WAY * bool(days[each.day].alternatives) for each in table.columns)

    def _height(self, kind: RowKind, lane: int, table: SheetTable) -> int:
        if kind is RowKind.CARD:
            last = sum(each is RowKind.CARD for each, _ in table.rows) - 1
            empty_last = lane == last and last > 0
            return EMPTY_LANE_HEIGHT if empty_last else self._scaled(CARD_HEIGHT)
        if kind is RowKind.PROFILE:
            return self._profile_height(table)
        return self._scaled(PILL_ROW if kind in (RowKind.NIGHT, RowKind.CHECKS) else ROW_HEIGHT)

    def _scaled(self, pixels: int) -> int:
        return round(pixels * text_scale(self))

    def least_height(self) -> int:
        """Pixels that show every row with the profile at its least, and the scroll bar of a long trip."""
        if self.table is None:
            return HEADER_HEIGHT
        others = [row for row in self.table.rows if row[0] is not RowKind.PROFILE]
        heights = sum(self._height(*row, self.table) for row in others)
        days = self.table.columns[-1].day + 1 if self.table.columns else 0
        scrolls = days * self.width_of_day > self.viewport().width()
        bar = self.horizontalScrollBar().sizeHint().height() if scrolls else 0
        return HEADER_HEIGHT + LEAST_PROFILE_HEIGHT + heights + bar + 2 * self.frameWidth()

    def _profile_height(self, table: SheetTable) -> int:
        """What is left over in the view goes to the profile, up to twice its usual height."""
        others = sum(self._height(*row, table) for row in table.rows if row[0] is not RowKind.PROFILE)
        spare = self.viewport().height() - others - PROFILE_HEIGHT
        return PROFILE_HEIGHT + max(LEAST_PROFILE_HEIGHT - PROFILE_HEIGHT, min(spare, PROFILE_HEIGHT))

    def place_profile(self) -> None:
        """Lay the plot over its row and show the columns that are in view."""
        table = self.table
        if table is None or not table.columns:
            return
        row = table.row_of(RowKind.PROFILE)
        top = self.rowViewportPosition(row)
        offset, width = self.days.offset(), self.width_of_day
        days = table.columns[-1].day + 1
        seen = min(self.viewport().width(), days * width - offset)
        self.profile.setGeometry(0, top, max(seen, 1), self.rowHeight(row))
        self.profile.show_range(offset / width, (offset + max(seen, 1)) / width)

    def select_day(self, day: int | None) -> None:
        """Mark a day's column; the current cell moves there and keeps its row."""
        self.days.selected_day = day
        self.days.viewport().update()
        table = self.table
        if table is None or day is None:
            return
        columns = table.columns_of_day(day)
        here = self.currentIndex()
        if columns and here.column() not in columns:
            row = max(here.row(), 0)
            self.setCurrentIndex(self.sheet.index(row, columns[0]))

    def _on_day_dragged(self, column: int) -> None:
        if self.table is not None:
            day = self.table.figures(column)
            self._start_drag(DayPayload(day.id), f"Day {day.number}")

    def take_ground(self) -> None:
        """Remember the sheet as it is, for the targets of a drag that begins."""
        if self._ground is None and self.table is not None:
            self._ground = Ground(
                self.table, self.geometry_of_days(), self.rowViewportPosition(0), self._scaled(CARD_HEIGHT)
            )

    def drag_ended(self) -> None:
        """A drag is over; one that was called off over the sheet tells it nothing, so this does."""
        if self._ground is not None:
            self.let_ground()
            self.drag_left.emit()

    def let_ground(self) -> None:
        """The drag is over."""
        self._ground = None
        self.lay_out()

    def stay_edge(self, day: int) -> QPoint:
        """The right edge of the stay that the night after a day belongs to, in the viewport."""
        table = self.table
        assert table is not None, "stays are shown only with a trip"
        row, column = table.row_of(RowKind.NIGHT), table.columns_of_day(day)[-1]
        pill = next(pill for pill in table.cells[row, column].pills if pill.part == "right")
        x = self.geometry_of_days().edges[pill.first] + (pill.nights + 0.5) * self.width_of_day
        return QPoint(int(x) - 6, self.rowViewportPosition(row) + self.rowHeight(row) // 2)

    def _stay_at(self, position: QPoint) -> StayPull | None:
        """The stay whose right edge is under the mouse."""
        table = self.table
        if table is None or not table.columns or self._ground is not None:
            return None
        if self.rowAt(position.y()) != table.row_of(RowKind.NIGHT):
            return None
        return stay_pull_at(table, self.geometry_of_days(), float(position.x()))

    def _show_pull_cursor(self, event: QMouseEvent) -> None:
        over = self._stay_at(event.position().toPoint()) is not None
        self.viewport().setCursor(Qt.CursorShape.SizeHorCursor if over else Qt.CursorShape.ArrowCursor)

    def _start_drag(self, payload: Payload, text: str) -> None:
        data = QMimeData()
        data.setData(MIME, to_json(payload).encode())
        data.setText(text)
        drag = QDrag(self)
        drag.setMimeData(data)
        drag.exec(Qt.DropAction.MoveAction)
        self.drag_ended()

    # --- Qt overrides

    def mousePressEvent(self, event: QMouseEvent) -> None:
        position = event.position().toPoint()
        left = event.button() is Qt.MouseButton.LeftButton
        self._pulled = self._stay_at(position) if left else None
        if self._pulled is not None:
            self.take_ground()
            return
        self._pressed = position if left else None
        super().mousePressEvent(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._pulled is not None:
            self.stay_pulled.emit(self._pulled.payload_at(event.position().x(), self.width_of_day))
            return
        self._show_pull_cursor(event)
        start, held = self._pressed, event.buttons() & Qt.MouseButton.LeftButton
        if start is None or not held:
            super().mouseMoveEvent(event)
            return
        if not moved_enough(start, event.position(), QApplication.startDragDistance()):
            return
        cell = self.sheet.cell(self.indexAt(start))
        self._pressed = None
        if cell.item_id:
            self._start_drag(ItemPayload(cell.item_id), cell.text)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        self._pressed = None
        pulled, self._pulled = self._pulled, None
        if pulled is not None:
            payload = pulled.payload_at(event.position().x(), self.width_of_day)
            self.let_ground()
            self.stay_let_go.emit(payload)
            return
        super().mouseReleaseEvent(event)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        index = self.indexAt(event.position().toPoint())
        if index.isValid() and self.table is not None:
            self.day_opened.emit(self.table.columns[index.column()].day)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        by_key = event.reason() is QContextMenuEvent.Reason.Keyboard
        index = self.currentIndex() if by_key else self.indexAt(event.pos())
        at = self.viewport().mapToGlobal(self.visualRect(index).bottomLeft()) if by_key else event.globalPos()
        cell = self.sheet.cell(index)
        if cell.item_id:
            self.card_menu_wanted.emit(cell.item_id, at)
        elif index.isValid() and self.table is not None:
            self.day_menu_wanted.emit(self.table.columns[index.column()].day, at)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if is_ours(payload_of(event.mimeData())):
            self.take_ground()
            event.acceptProposedAction()
        else:
            event.ignore()

    def dragMoveEvent(self, event: QDragMoveEvent) -> None:
        payload = payload_of(event.mimeData())
        if payload is None or self._ground is None:
            event.ignore()
            return
        self.dragged_over.emit(payload, self._ground.target_at(event.position().toPoint(), payload))
        event.acceptProposedAction()

    def dragLeaveEvent(self, event: QDragLeaveEvent) -> None:
        self.let_ground()
        self.drag_left.emit()

    def dropEvent(self, event: QDropEvent) -> None:
        payload, ground = payload_of(event.mimeData()), self._ground
        self.let_ground()
        if payload is None or ground is None:
            event.ignore()
            return
        event.acceptProposedAction()
        self.dropped.emit(payload, ground.target_at(event.position().toPoint(), payload))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.lay_out()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() is QEvent.Type.FontChange:
            self.lay_out()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not pressed(self, event):
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        self._paint_lines()

    def _paint_lines(self) -> None:
        """Hairlines between days from top to bottom, and under every row but within the cards."""
        table = self.table
        if table is None or not table.columns:
            return
        painter = QPainter(self.viewport())
        painter.setPen(QPen(self.theme.color("hairline"), 1))
        days = self.geometry_of_days()
        bottom = self.rowViewportPosition(len(table.rows) - 1) + self.rowHeight(len(table.rows) - 1)
        night = table.row_of(RowKind.NIGHT)
        stays = self.rowViewportPosition(night)
        for edge in days.edges[1:]:
            # Stays straddle the lines between days, so there is no line in their row.
            painter.drawLine(int(edge) - 1, 0, int(edge) - 1, stays - 1)
            painter.drawLine(int(edge) - 1, stays + self.rowHeight(night), int(edge) - 1, bottom)
        right = int(days.edges[-1])
        for row, (kind, _) in enumerate(table.rows):
            if kind is not RowKind.CARD or (row + 1 < len(table.rows) and table.rows[row + 1][0] is not kind):
                y = self.rowViewportPosition(row) + self.rowHeight(row) - 1
                painter.drawLine(0, y, right, y)
        painter.end()


def _label(table: SheetTable, column: int) -> tuple[str, str]:
    day = table.figures(column)
    return str(day.number), table.wording.day(day.on)
