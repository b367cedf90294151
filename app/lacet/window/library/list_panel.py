"""One kind's list: a finder, a switch for what is retired, and the table."""

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtCore import QItemSelection, QItemSelectionModel, Qt, QTimer, Signal
from PySide6.QtGui import QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import (
    QCheckBox,
    QHBoxLayout,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from lacet.service.library.fields import DeskKind
from lacet.service.library.rows import LISTS, rows_of
from lacet.window.commands.listed import Where, command
from lacet.window.library.list_model import ListModel
from lacet.window.library.sorted_table import sorted_table
from lacet.window.parts import label, push_button
from lacet.window.qt_session import QtSession

TYPING_MS = 120
NEW = command("new", Where.LIBRARY).keys[0]
NARROWEST_NAME_PX = 150
WIDEST_PX = 190
FRAME_PX = 4


class ListPanel(QWidget):
    """`chosen` tells the ids that are selected; `wants_new` that a new item is wanted.

    `wants_form` when the person goes on from the list to the form of what is chosen.
    """

    chosen = Signal(list)
    wants_new = Signal()
    wants_form = Signal()

    def __init__(self, session: QtSession, kind: DeskKind, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.kind = kind
        self.model = ListModel(LISTS[kind.name], self, lambda: session.wording)
        self.finder = QLineEdit(clearButtonEnabled=True)
        self.finder.setPlaceholderText("Find by words, or by position: 44.21 -24.55")
        self.finder.setAccessibleName(f"Find {kind.name} by words or position")
        self.retired = QCheckBox("retired too")
        self.count = label("", f"Number of {kind.name} listed", quiet=True)
        self.table = sorted_table(self.model, f"List of {kind.name}", many=True)
        self._typing = QTimer(self, singleShot=True, interval=TYPING_MS)
        self._lay_out()
        self._typing.timeout.connect(self.refresh)
        self.finder.returnPressed.connect(self.go_to_first)
        down = QShortcut(QKeySequence(Qt.Key.Key_Down), self.finder)
        down.setContext(Qt.ShortcutContext.WidgetShortcut)
        down.activated.connect(self.go_to_first)
        self.table.activated.connect(lambda _: self.wants_form.emit())
        self.finder.textChanged.connect(lambda _: self._typing.start())
        self.retired.toggled.connect(lambda _: self.refresh())
        self._holding = False
        self.table.selectionModel().selectionChanged.connect(lambda *_: self._on_selection_changed())

    def refresh(self) -> None:
        """Ask the store again; what was selected stays so where it is still listed."""
        self._typing.stop()
        held = self.chosen_ids()
        with self.session.session.project.reading() as unit:
            rows = rows_of(unit, self.kind, self.finder.text(), retired=self.retired.isChecked())
        self._holding = True
        self.model.show(rows)
        self.count.setText(self._counted(len(rows)))
        self._select(held)
        self._holding = False
        # One that is no longer listed stays in its form: whoever looks for something else hasn't left it yet.
        if len(held) > 1 and self.chosen_ids() != held:
            self.chosen.emit(self.chosen_ids())

    def _counted(self, number: int) -> str:
        if number or self.finder.text().strip():
            return f"{number} {self.kind.name if number != 1 else self.kind.one}"
        how = self.new.text().rstrip("…")
        return f"No {self.kind.name} yet: press {how}, or drop spreadsheets or GPX files on this window."

    def let_bring_in(self, bring_in: Callable[[Sequence[Path]], None]) -> None:
        """A stage comes with its line: instead of an empty form, a table for GPX files opens."""
        self.new.setText("Bring in…")
        self.new.setToolTip(f"GPX files become stages; dropping them on this window does the same ({NEW})")
        self.wants_new.disconnect()
        self.wants_new.connect(lambda: bring_in(()))

    def chosen_ids(self) -> list[str]:
        """The selected items, in the order listed."""
        # By runs of rows: asked for one by one, ten thousand would stop the window.
        runs = self.table.selectionModel().selection().toList()
        rows = sorted({row for run in runs for row in range(run.top(), run.bottom() + 1)})
        return [self.model.id_at(row) for row in rows]

    def show_item(self, item_id: str) -> bool:
        """Select one item and bring it into view; the finder is emptied when it hides it."""
        if self.model.row_of(item_id) is None:
            self.finder.blockSignals(True)
            self.finder.clear()
            self.finder.blockSignals(False)
            self.refresh()
        if self.model.row_of(item_id) is None:
            self.retired.setChecked(True)
        row = self.model.row_of(item_id)
        if row is None:
            return False
        self.table.selectRow(row)
        self.table.scrollTo(self.model.index(row, 0))
        return True

    def go_to_first(self) -> None:
        """From the finder into the list, onto what was found first."""
        if self._typing.isActive():
            self.refresh()
        if self.model.rows:
            self.table.setFocus()
            self.table.selectRow(0)

    def choose(self, ids: list[str]) -> None:
        """Select these items again, without telling anybody."""
        self._holding = True
        self.table.clearSelection()
        self._select(ids)
        self._holding = False

    def _on_selection_changed(self) -> None:
        """While the list is filled anew, the selection goes and comes back; that is no choice."""
        if not self._holding:
            self.chosen.emit(self.chosen_ids())

    def _select(self, ids: list[str]) -> None:
        if not ids:
            return
        wanted = set(ids)
        rows = [number for number, row in enumerate(self.model.rows) if row.id in wanted]
        if not rows:
            return
        # Runs of rows are selected as one; one by one, ten thousand would stop the window.
        chosen, first = QItemSelection(), rows[0]
        for row, following in zip(rows, [*rows[1:], -1], strict=True):
            if following != row + 1:
                chosen.select(self.model.index(first, 0), self.model.index(row, 0))
                first = following
        selection, flag = self.table.selectionModel(), QItemSelectionModel.SelectionFlag
        selection.select(chosen, flag.Select | flag.Rows)
        selection.setCurrentIndex(self.model.index(rows[0], 0), flag.NoUpdate)

    def _lay_out(self) -> None:
        top = QHBoxLayout()
        top.addWidget(self.finder, 1)
        top.addWidget(self.retired)
        self.new = push_button("New…", self.wants_new.emit, f"A new {self.kind.one} ({NEW})")
        top.addWidget(self.new)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 8, 4, 6)
        column.addLayout(top)
        column.addWidget(self.table, 1)
        column.addWidget(self.count)

    def fit_columns(self) -> None:
        """Give columns what their first rows need, and the name what is left."""
        for number in range(1, self.model.columnCount()):
            self.table.resizeColumnToContents(number)
            self.table.setColumnWidth(number, min(self.table.columnWidth(number), WIDEST_PX))
        # A turn later it is known whether there is a scroll bar.
        QTimer.singleShot(0, self, self._fit_name)

    def _fit_name(self) -> None:
        others = sum(self.table.columnWidth(number) for number in range(1, self.model.columnCount()))
        # Room for the scroll bar is kept, so that its coming and going moves nothing.
        room = self.table.width() - self.table.verticalScrollBar().sizeHint().width() - others - FRAME_PX
        self.table.setColumnWidth(0, max(room, NARROWEST_NAME_PX))

    # --- Qt overrides

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        # The table within has its new width a turn later.
        QTimer.singleShot(0, self, self._fit_name)
