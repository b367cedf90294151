"""All commands of a window, found by words and run from the list; and the page of all keys."""

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QDialog,
    QHeaderView,
    QLineEdit,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from lacet.window.closing import closes_by_keys
from lacet.window.commands.given import Commands
from lacet.window.commands.listed import COMMANDS, SHEET_KEYS, Command, Where
from lacet.window.parts import label

MOVES: dict[int, int] = {
    Qt.Key.Key_Up: -1,
    Qt.Key.Key_Down: 1,
    Qt.Key.Key_PageUp: -10,
    Qt.Key.Key_PageDown: 10,
}
"""Keys that move the choice while words are typed, and by how many rows."""


class CommandList(QDialog):
    """Words on top, what fits below; Enter runs the chosen one. What can't be used now says why instead."""

    def __init__(self, commands: Commands, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        closes_by_keys(self, escape=False)
        self.setWindowTitle("Find a command")
        self.commands = commands
        self.shown: tuple[Command, ...] = ()
        self.finder = QLineEdit(clearButtonEnabled=True)
        self.finder.setPlaceholderText("Words of what you want to do")
        self.finder.setAccessibleName("Words of a command")
        self.table = _table("Commands", ("Command", "What it does", "Keys"))
        self.nothing = label("No command has these words.", "Nothing found", quiet=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 12, 14, 12)
        column.addWidget(self.finder)
        column.addWidget(self.table, 1)
        column.addWidget(self.nothing)
        self.resize(760, 460)
        self.finder.installEventFilter(self)
        self.finder.textChanged.connect(self.show_fitting)
        self.finder.returnPressed.connect(self.run_chosen)
        self.table.itemActivated.connect(lambda _: self.run_chosen())
        self.show_fitting("")

    def show_fitting(self, typed: str) -> None:
        """List the commands that have all the words typed."""
        self.shown = tuple(each for each in self.commands.listed if each.fits(typed))
        rows = [
            (each.name, self.commands.refusal(each) or each.says, ", ".join(each.keys)) for each in self.shown
        ]
        _fill(self.table, rows)
        for row, each in enumerate(self.shown):
            if self.commands.refusal(each):
                for column in range(self.table.columnCount()):
                    item = self.table.item(row, column)
                    assert item is not None
                    item.setForeground(self.palette().placeholderText())
        self.table.setCurrentCell(0 if rows else -1, 0)
        self.nothing.setVisible(not rows)

    def run_chosen(self) -> None:
        """Close, then run it: what it opens stands over the window, not over the list."""
        row = self.table.currentRow()
        if 0 <= row < len(self.shown):
            chosen = self.shown[row].id
            self.accept()
            self.commands.run(chosen)

    # --- Qt overrides

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if isinstance(event, QKeyEvent) and event.type() is QEvent.Type.KeyPress and event.key() in MOVES:
            row = self.table.currentRow() + MOVES[event.key()]
            self.table.setCurrentCell(max(0, min(row, self.table.rowCount() - 1)), 0)
            return True
        return super().eventFilter(watched, event)


class KeysPage(QDialog):
    """Every key of every window, and those of the sheet's cells."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        closes_by_keys(self, escape=False)
        self.setWindowTitle("Keys")
        self.table = _table("Keys", ("Where", "Keys", "What they do"))
        _fill(self.table, rows_of_keys())
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 12, 14, 12)
        column.addWidget(self.table)
        self.resize(760, 620)


def rows_of_keys() -> list[tuple[str, str, str]]:
    """Window, keys and what they do; a window's name stands in its first row only."""
    groups = [(str(where), [_keys_of(each) for each in COMMANDS if each.where is where]) for where in Where]
    groups.insert(1, ("On the sheet", list(SHEET_KEYS)))
    return [
        ("" if number else name, keys, says)
        for name, rows in groups
        for number, (keys, says) in enumerate(row for row in rows if row[0])
    ]


def _keys_of(it: Command) -> tuple[str, str]:
    return ", ".join(it.keys), f"{it.name}: {it.says}"


def _table(name: str, heads: tuple[str, ...]) -> QTableWidget:
    made = QTableWidget(0, len(heads))
    made.setAccessibleName(name)
    made.setHorizontalHeaderLabels(heads)
    made.verticalHeader().hide()
    made.setShowGrid(False)
    made.setWordWrap(False)
    made.setEditTriggers(QTableWidget.EditTrigger.NoEditTriggers)
    made.setSelectionBehavior(QTableWidget.SelectionBehavior.SelectRows)
    made.setSelectionMode(QTableWidget.SelectionMode.SingleSelection)
    made.setTabKeyNavigation(False)
    made.horizontalHeader().setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
    made.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
    made.horizontalHeader().setStretchLastSection(True)
    return made


def _fill(table: QTableWidget, rows: list[tuple[str, str, str]]) -> None:
    table.setRowCount(len(rows))
    for row, texts in enumerate(rows):
        for column, text in enumerate(texts):
            table.setItem(row, column, QTableWidgetItem(text))
