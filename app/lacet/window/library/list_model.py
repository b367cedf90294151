"""A list of the desk as a Qt table model: rows are as the store gave them, looked at when shown."""

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from lacet.service.library.rows import KindList
from lacet.wording import ENGLISH, Wording

Index = QModelIndex | QPersistentModelIndex
ID_ROLE = Qt.ItemDataRole.UserRole
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter


class ListModel(QAbstractTableModel):
    """Rows of one kind; sorting is done here, finding by the store."""

    def __init__(
        self,
        listing: KindList,
        parent: QObject | None = None,
        wording: Callable[[], Wording] = lambda: ENGLISH,
    ) -> None:
        super().__init__(parent)
        self.listing = listing
        self.wording = wording
        self.rows: list[Any] = []
        self._as_kept: list[Any] = []
        self._sorted_by: tuple[int, Qt.SortOrder] | None = None

    def show(self, rows: list[Any]) -> None:
        """Show other rows, sorted as before."""
        self.beginResetModel()
        self.rows = self._as_kept = rows
        self._sort()
        self.endResetModel()

    def id_at(self, row: int) -> str:
        """The id of the item in a row."""
        return str(self.rows[row].id)

    def row_of(self, item_id: str) -> int | None:
        """The row an item stands in, or None."""
        return next((number for number, row in enumerate(self.rows) if row.id == item_id), None)

    def _sort(self) -> None:
        if self._sorted_by is None:
            return
        column, order = self._sorted_by
        if column == 0 and self.listing.by_name:
            # The store gives them by name already.
            up = order is Qt.SortOrder.AscendingOrder
            self.rows = self._as_kept if up else self._as_kept[::-1]
            return
        key = self.listing.columns[column].key
        known = [(key(row), row) for row in self.rows]
        # Unknown is neither much nor little: it comes last either way.
        told = [each for each in known if each[0] is not None]
        told.sort(key=lambda each: each[0], reverse=order is Qt.SortOrder.DescendingOrder)
        self.rows = [row for _, row in told] + [row for value, row in known if value is None]

    # --- Qt overrides

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else len(self.listing.columns)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid() or index.row() >= len(self.rows):
            return None
        row, column = self.rows[index.row()], self.listing.columns[index.column()]
        if role == Qt.ItemDataRole.DisplayRole:
            said = column.show(row, self.wording())
            return f"{said} (retired)" if index.column() == 0 and getattr(row, "retired", False) else said
        if role == Qt.ItemDataRole.ToolTipRole:
            return column.show(row, self.wording())
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return f"{column.title}: {column.show(row, self.wording())}"
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return _RIGHT if column.right else _LEFT
        return row.id if role == ID_ROLE else None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        if orientation is Qt.Orientation.Horizontal and 0 <= section < len(self.listing.columns):
            column = self.listing.columns[section]
            if role == Qt.ItemDataRole.DisplayRole:
                return column.title
            if role == Qt.ItemDataRole.TextAlignmentRole:
                return _RIGHT if column.right else _LEFT
        return None

    def sort(self, column: int, order: Qt.SortOrder = Qt.SortOrder.AscendingOrder) -> None:
        if not 0 <= column < len(self.listing.columns):
            return
        self.layoutAboutToBeChanged.emit()
        held = self.persistentIndexList()
        ids = [(index, self.rows[index.row()].id) for index in held if index.row() < len(self.rows)]
        self._sorted_by = (column, order)
        self._sort()
        now = {row.id: number for number, row in enumerate(self.rows)} if ids else {}
        for index, item_id in ids:
            self.changePersistentIndex(index, self.index(now[item_id], index.column()))
        self.layoutChanged.emit()
