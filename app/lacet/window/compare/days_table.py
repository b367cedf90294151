"""Day by day, lined up by where the party is; days are taken from one column into another here.

By mouse: drag a day, or a run of them, onto a day of another variant (it takes its place) or between two (it
is put in). By keyboard: choose days with Shift and the arrows, then Return. Both come to the same edit.
"""

from PySide6.QtCore import QMimeData, QModelIndex, QPoint, QRect, Qt, Signal
from PySide6.QtGui import (
    QContextMenuEvent,
    QDrag,
    QDragEnterEvent,
    QDragLeaveEvent,
    QDragMoveEvent,
    QDropEvent,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QMenu, QTableWidget, QTableWidgetItem

from lacet.compare import Comparison
from lacet.compare.differences import DROPPED, Difference, day_words
from lacet.service.taking import MIME, TakenDays, Taking, days_of, taken_from, taking
from lacet.trip.catalogue import Catalogue
from lacet.trip.errors import LacetError
from lacet.window.compare.day_cell import DETAILS_ROLE, DIFFERS_ROLE, DayDelegate
from lacet.window.compare.look import swatch
from lacet.window.theme import Theme

EDGE_PX = 7
HELD_PX = 36
ADDED = "added"
MENU_KEYS = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Menu)


class DaysTable(QTableWidget):
    """`tried(Taking | None)` while something is held over it, `let_go(Taking)`, `pointed(side, day)`."""

    tried = Signal(object)
    let_go = Signal(object)
    pointed = Signal(int, int)

    def __init__(self, theme: Theme) -> None:
        super().__init__(0, 0)
        self.theme = theme
        self.found: Comparison | None = None
        self.letters: list[str] = []
        self._mark: QRect | None = None
        self.setAccessibleName("Day by day, lined up by where the party is")
        self.setAccessibleDescription("Choose days and press Return to take them into another variant")
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setDragEnabled(True)
        self.setAcceptDrops(True)
        self.setDragDropMode(QAbstractItemView.DragDropMode.DragDrop)
        self.setDropIndicatorShown(False)
        self.setShowGrid(False)
        self.setWordWrap(True)
        self.setItemDelegate(DayDelegate(theme))
        self.verticalHeader().hide()
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self.horizontalHeader().setHighlightSections(False)
        self.horizontalHeader().sectionResized.connect(lambda *_: self.resizeRowsToContents())
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.currentCellChanged.connect(lambda *_: self._on_current_changed())

    @property
    def sides(self) -> int:
        return len(self.letters)

    def show_comparison(self, found: Comparison | None, letters: list[str], catalogue: Catalogue) -> None:
        """Fill it anew; the cell that was current stays so."""
        held = self.currentRow(), self.currentColumn()
        self.blockSignals(True)
        self.clear()
        self.found, self.letters = found, letters if found else []
        self.setColumnCount(self.sides)
        self.setRowCount(len(found.lined_up) + 1 if found else 0)
        if found is not None:
            self._fill_heads(found)
            for line, row in enumerate(found.lined_up):
                self._fill_line(found, line, row, catalogue)
            self._fill_whole(found)
            if 0 <= held[0] < self.rowCount() and 0 <= held[1] < self.columnCount():
                self.setCurrentCell(*held)
        self.blockSignals(False)

    def choices(self, side: int, lines: tuple[int, ...]) -> list[Taking]:
        """What can be done with these days of a variant: in place of what stands beside them, or put in."""
        held = None if self.found is None else days_of(self.found, side, lines)
        if held is None or self.found is None:
            return []
        found = [
            taking(self.found, self.letters, held, other, held.lines[0], instead=instead)
            for other in range(self.sides)
            for instead in (True, False)
        ]
        return list({each.says: each for each in found if each is not None}.values())

    def held(self) -> TakenDays | None:
        """The chosen days of the current column."""
        side = self.currentColumn()
        lines = tuple(each.row() for each in self.selectedIndexes() if each.column() == side)
        return self._days_of(side, lines)

    def open_menu(self, at: QPoint) -> None:
        """Where the chosen days can go."""
        side = self.currentColumn()
        lines = tuple(each.row() for each in self.selectedIndexes() if each.column() == side)
        choices = self.choices(side, self._inside(side, lines))
        menu = QMenu(self)
        for each in choices:
            action = menu.addAction(f"{each.says[0].upper()}{each.says[1:]}")
            action.hovered.connect(lambda each=each: self.tried.emit(each))
            action.triggered.connect(lambda _=False, each=each: self.let_go.emit(each))
        if choices:
            menu.aboutToHide.connect(lambda: self.tried.emit(None))
            menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
            menu.popup(at)

    def taking_at(self, data: QMimeData, at: QPoint) -> Taking | None:
        """What letting go there would come to; marks the place."""
        self._mark = None
        index = self.indexAt(at)
        if self.found is None or not 0 <= index.column() < self.sides:
            return None
        taken = taken_from(bytes(data.data(MIME).data()))
        box = self.visualRect(index)
        line, instead = self._line_at(index, box, at)
        found = taking(self.found, self.letters, taken, index.column(), line, instead=instead)
        if found is not None:
            self._mark = self._marked(index.column(), line, taken if instead else None)
        return found

    # --- within

    def _inside(self, side: int, lines: tuple[int, ...]) -> tuple[int, ...]:
        count = 0 if self.found is None else len(self.found.lined_up)
        return tuple(line for line in lines if line < count) if 0 <= side < self.sides else ()

    def _days_of(self, side: int, lines: tuple[int, ...]) -> TakenDays | None:
        inside = self._inside(side, lines)
        return None if self.found is None or not inside else days_of(self.found, side, inside)

    def _line_at(self, index: QModelIndex, box: QRect, at: QPoint) -> tuple[int, bool]:
        """The line under the mouse; near its edges the gap before or after it is meant."""
        assert self.found is not None
        count = len(self.found.lined_up)
        if index.row() >= count:
            return count, False
        if at.y() - box.top() < EDGE_PX:
            return index.row(), False
        if box.bottom() - at.y() < EDGE_PX:
            return index.row() + 1, False
        return index.row(), self.found.lined_up[index.row()][index.column()] is not None

    def _marked(self, side: int, line: int, taken: TakenDays | None) -> QRect:
        last = len(self.found.lined_up) if self.found else 0
        first = self.visualRect(self.model().index(min(line, last), side))
        if taken is None:
            return QRect(first.left(), first.top() - 1, first.width(), 3)
        span = max(taken.lines) - min(taken.lines)
        final = self.visualRect(self.model().index(min(line + span, last - 1), side))
        return first.united(final)

    def _fill_heads(self, found: Comparison) -> None:
        for index, letter in enumerate(self.letters):
            head = QTableWidgetItem(letter + (" (base)" if index == found.base else ""))
            head.setIcon(swatch(index, self.theme))
            head.setToolTip(found.sides[index].variant.name)
            self.setHorizontalHeaderItem(index, head)
        header = self.horizontalHeader()
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        header.setSectionResizeMode(QHeaderView.ResizeMode.Stretch)

    def _fill_line(
        self, found: Comparison, line: int, row: tuple[int | None, ...], catalogue: Catalogue
    ) -> None:
        texts = [_day_text(found, side, day, catalogue) for side, day in enumerate(row)]
        for side, text in enumerate(texts):
            told = [each for each in found.differences if each.side == side and _stands_in(each, row, found)]
            words = text.partition("  ")[2]
            differs = words != texts[found.base].partition("  ")[2]
            item = self._put(line, side, text, [_shortened(each, words) for each in told], differs=differs)
            whole = "; ".join([text, *(each.says for each in told)])
            item.setToolTip("\n".join([text, *(each.says for each in told)]))
            item.setData(Qt.ItemDataRole.AccessibleTextRole, f"{self.letters[side]}, day {whole}")

    def _fill_whole(self, found: Comparison) -> None:
        line = len(found.lined_up)
        for side in range(self.sides):
            told = [each.says for each in found.differences if each.side == side and each.day is None]
            says = told or (["the base"] if side == found.base else ["same price"])
            item = self._put(line, side, "in all", says, differs=False)
            item.setFlags(Qt.ItemFlag.ItemIsEnabled)

    def _put(self, line: int, side: int, text: str, details: list[str], *, differs: bool) -> QTableWidgetItem:
        item = QTableWidgetItem(text)
        item.setData(DETAILS_ROLE, "\n".join(details))
        item.setData(DIFFERS_ROLE, differs)
        self.setItem(line, side, item)
        return item

    def _on_current_changed(self) -> None:
        side, line = self.currentColumn(), self.currentRow()
        if self.found is not None and self._inside(side, (line,)) and line >= 0:
            day = self.found.lined_up[line][side]
            if day is not None:
                self.pointed.emit(side, day)

    def _end_drag(self) -> None:
        self._mark = None
        self.viewport().update()
        self.tried.emit(None)

    # --- Qt overrides

    def startDrag(self, actions: Qt.DropAction) -> None:
        held = self.held()
        if held is not None:
            drag = QDrag(self)
            data = QMimeData()
            data.setData(MIME, held.to_bytes())
            drag.setMimeData(data)
            box = self.visualRect(self.currentIndex())
            box.setHeight(min(box.height(), HELD_PX))
            drag.setPixmap(self.viewport().grab(box))
            drag.exec(Qt.DropAction.CopyAction)
            self._end_drag()

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if event.mimeData().hasFormat(MIME):
            event.acceptProposedAction()

    def dragMoveEvent(self, event: QDragMoveEvent) -> None:
        try:
            found = self.taking_at(event.mimeData(), event.position().toPoint())
        except LacetError:
            found = None
        self.viewport().update()
        self.tried.emit(found)
        if found is None:
            event.ignore()
        else:
            event.setDropAction(Qt.DropAction.CopyAction)
            event.accept()

    def dragLeaveEvent(self, event: QDragLeaveEvent) -> None:
        self._end_drag()

    def dropEvent(self, event: QDropEvent) -> None:
        try:
            found = self.taking_at(event.mimeData(), event.position().toPoint())
        except LacetError:
            found = None
        self._end_drag()
        if found is not None:
            event.setDropAction(Qt.DropAction.CopyAction)
            event.accept()
            self.let_go.emit(found)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in MENU_KEYS and self.currentItem() is not None:
            box = self.visualRect(self.currentIndex())
            self.open_menu(self.viewport().mapToGlobal(box.bottomLeft()))
            return
        super().keyPressEvent(event)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        self.open_menu(event.globalPos())

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if self._mark is not None:
            painter = QPainter(self.viewport())
            painter.setPen(QPen(self.theme.color("accent"), 2))
            painter.drawRect(self._mark.adjusted(1, 1, -1, -1))
            painter.end()


def _day_text(found: Comparison, side: int, day: int | None, catalogue: Catalogue) -> str:
    """'4  by e-bike, Over the Range': the number is the variant's own."""
    if day is None:
        return "–"
    here = found.sides[side]
    return f"{day + 1}  {day_words(here.variant.days[day], here.assessment.figures.days[day], catalogue)}"


def _stands_in(difference: Difference, row: tuple[int | None, ...], found: Comparison) -> bool:
    """A dropped day is numbered as in the base, all others as in the variant itself."""
    day = row[found.base if difference.kind == DROPPED else difference.side]
    gone = row[difference.side] is None
    return day is not None and difference.day == day + 1 and gone is (difference.kind == DROPPED)


def _shortened(difference: Difference, words: str) -> str:
    """The sentence without what the cells beside and above it say already."""
    if difference.kind == DROPPED:
        return "without this day"
    if difference.kind == ADDED:
        return "one day more"
    return difference.says.removeprefix(words).strip()
