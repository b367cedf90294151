"""The sheet's cells as a Qt table model: a thin adapter, nothing more."""

from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from lacet.service.sheet.cells import Cell
from lacet.service.sheet.reasons import said_as
from lacet.service.sheet.table import RowKind, SheetTable
from lacet.service.sheet.way_rows import leading, way_row

Index = QModelIndex | QPersistentModelIndex
CELL_ROLE = Qt.ItemDataRole.UserRole
ROW_NAMES = {kind: kind.value for kind in RowKind}


class SheetModel(QAbstractTableModel):
    """Shows one `SheetTable` at a time."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.table: SheetTable | None = None

    def show(self, table: SheetTable | None) -> None:
        """Show other cells; keeps the view's place when rows and columns stay the same."""
        before = self.table
        same_shape = (
            before is not None
            and table is not None
            and before.rows == table.rows
            and before.columns == table.columns
        )
        if same_shape:
            self.table = table
            self._tell_changes(before, table)
            return
        self.beginResetModel()
        self.table = table
        self.endResetModel()

    def cell(self, index: Index) -> Cell:
        if self.table is None or not index.isValid():
            return Cell()
        return self.table.cells.get((index.row(), index.column()), Cell())

    def _tell_changes(self, before: SheetTable | None, after: SheetTable | None) -> None:
        if before is None or after is None or not after.columns:
            return
        last = self.index(len(after.rows) - 1, len(after.columns) - 1)
        self.dataChanged.emit(self.index(0, 0), last)
        self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, len(after.columns) - 1)

    # --- Qt overrides

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() or self.table is None else len(self.table.rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() or self.table is None else len(self.table.columns)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        cell = self.cell(index)
        if role == Qt.ItemDataRole.DisplayRole:
            return cell.text
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return (
                f"{self._day_words(index.column())}, {self._row_name(index.row())}: {cell.spoken or 'empty'}"
            )
        if role == Qt.ItemDataRole.ToolTipRole:
            return cell.spoken or None
        if role == CELL_ROLE:
            return cell
        return None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        if role == Qt.ItemDataRole.ToolTipRole and orientation is Qt.Orientation.Horizontal:
            return "\n".join(self._other_ways(section)) or None
        if self.table is None or role not in (
            Qt.ItemDataRole.DisplayRole,
            Qt.ItemDataRole.AccessibleTextRole,
        ):
            return None
        if orientation is Qt.Orientation.Vertical:
            return self._row_name(section)
        return self._day_words(section)

    def flags(self, index: Index) -> Qt.ItemFlag:
        if not index.isValid():
            return Qt.ItemFlag.NoItemFlags
        return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable

    def _row_name(self, row: int) -> str:
        if self.table is None or not 0 <= row < len(self.table.rows):
            return ""
        kind, lane = self.table.rows[row]
        return kind.value if lane == 0 else ""

    def _other_ways(self, column: int) -> list[str]:
        """Each other way of the day with its figures."""
        if self.table is None or not 0 <= column < len(self.table.columns):
            return []
        day, wording = self.table.columns[column].day, self.table.wording
        planned = self.table.shown.variant.days[day].alternatives
        known = self.table.figures(column).alternatives
        rows = (
            way_row(said_as(other), "", leading(figures.groups), wording)
            for other, figures in zip(planned, known, strict=True)
        )
        return [f"{row.why}  ·  {row.figures}" for row in rows]

    def _day_words(self, column: int) -> str:
        if self.table is None or not 0 <= column < len(self.table.columns):
            return ""
        here = self.table.columns[column]
        day = self.table.figures(column)
        on = f" {self.table.wording.day(day.on)}" if day.on else ""
        others = len(self.table.shown.variant.days[here.day].alternatives)
        on += f", {others} other way{'s' if others > 1 else ''}" if others else ""
        if here.groups == 1:
            return f"Day {day.number}{on}"
        group = self.table.group(column)
        names = [self.table.shown.trip.party.name_of(who) for who in group.travellers] if group else []
        return f"Day {day.number}{on}, {' and '.join(names)}"
