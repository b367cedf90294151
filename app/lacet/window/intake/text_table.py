"""A table of texts that nobody edits: problems, changes, refusals. Any number of rows."""

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt
from PySide6.QtWidgets import QAbstractItemView, QTableView

Index = QModelIndex | QPersistentModelIndex
_ROLE = Qt.ItemDataRole
_ROOT = QModelIndex()


class TextModel(QAbstractTableModel):
    """Rows of texts under heads."""

    def __init__(self, heads: Sequence[str], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.heads = tuple(heads)
        self.rows: tuple[tuple[str, ...], ...] = ()

    def show_rows(self, rows: Sequence[tuple[str, ...]]) -> None:
        self.beginResetModel()
        self.rows = tuple(rows)
        self.endResetModel()

    # --- Qt overrides

    def rowCount(self, parent: Index = _ROOT) -> int:
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = _ROOT) -> int:
        return 0 if parent.isValid() else len(self.heads)

    def headerData(self, section: int, side: Qt.Orientation, role: int = _ROLE.DisplayRole) -> Any:
        if role == _ROLE.DisplayRole and side is Qt.Orientation.Horizontal:
            return self.heads[section]
        return None

    def data(self, index: Index, role: int = _ROLE.DisplayRole) -> Any:
        if role in (_ROLE.DisplayRole, _ROLE.ToolTipRole):
            return self.rows[index.row()][index.column()]
        if role == _ROLE.AccessibleTextRole:
            return f"{self.heads[index.column()]}: {self.rows[index.row()][index.column()]}"
        return None


def text_table(model: TextModel, name: str) -> QTableView:
    """The view of such a model; the last column takes what is left."""
    table = QTableView()
    table.setModel(model)
    table.setAccessibleName(name)
    table.setTabKeyNavigation(False)
    table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
    table.setAlternatingRowColors(True)
    table.setShowGrid(False)
    table.verticalHeader().hide()
    table.horizontalHeader().setStretchLastSection(True)
    table.horizontalHeader().setResizeContentsPrecision(40)
    return table
