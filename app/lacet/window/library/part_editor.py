"""A small table within a form: cells are text, checked as typed; closed vocabularies offer their words."""

from collections.abc import Mapping
from typing import Any

from PySide6.QtCore import (
    QAbstractItemModel,
    QAbstractTableModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    Qt,
    Signal,
)
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QHBoxLayout,
    QHeaderView,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from lacet.service.library.fields import Row, Trouble, head_of, label_of, trouble_with
from lacet.service.library.parts import Part
from lacet.window.fields import ComboBox
from lacet.window.library.field_editors import choices_of, empty_is_meant
from lacet.window.parts import label, tool_button
from lacet.window.theme import current_theme

Index = QModelIndex | QPersistentModelIndex
Names = Mapping[str, Mapping[str, str]]
ROW_PX = 26
MOST_ROWS_SHOWN = 7


class PartModel(QAbstractTableModel):
    """Rows of texts. `edited` when the person has changed something."""

    edited = Signal()

    def __init__(self, part: Part, names: Names, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.part = part
        self.names = names
        self.currency = ""
        self.rows: list[list[str]] = []
        self.troubles: dict[tuple[int, str], str] = {}

    def show(self, rows: tuple[Row, ...]) -> None:
        """Show other rows."""
        self.beginResetModel()
        self.rows = [list(row) for row in rows]
        self.troubles = {}
        self.endResetModel()

    def add(self) -> int:
        """One empty row more, at the end; returns its number."""
        at = len(self.rows)
        self.beginInsertRows(QModelIndex(), at, at)
        self.rows.append([self._begun(column.name) for column in self.part.columns])
        self.endInsertRows()
        self.edited.emit()
        return at

    def take_out(self, row: int) -> None:
        """A row less."""
        self.beginRemoveRows(QModelIndex(), row, row)
        del self.rows[row]
        self.endRemoveRows()
        self.troubles = {}
        self.edited.emit()

    def move(self, row: int, by: int) -> int:
        """A row up or down; returns where it is now."""
        to = row + by
        if not 0 <= to < len(self.rows):
            return row
        self.beginMoveRows(QModelIndex(), row, row, QModelIndex(), to + 1 if by > 0 else to)
        self.rows.insert(to, self.rows.pop(row))
        self.endMoveRows()
        self.troubles = {}
        self.edited.emit()
        return to

    def tell_troubles(self, troubles: list[Trouble]) -> None:
        """What is wrong, by cell."""
        self.troubles = {(each.row, each.column): each.says for each in troubles if each.row is not None}
        if self.rows:
            last = self.index(len(self.rows) - 1, len(self.part.columns) - 1)
            self.dataChanged.emit(self.index(0, 0), last)

    def _begun(self, name: str) -> str:
        """What a new row begins with: the currency of the row above, else of the region."""
        if name != "currency":
            return ""
        place = [column.name for column in self.part.columns].index(name)
        return self.rows[-1][place] if self.rows else self.currency

    def _shown(self, column: int, text: str) -> str:
        refers = self.part.columns[column].refers
        if refers:
            return self.names.get(refers, {}).get(text, text)
        words = getattr(self.part.columns[column].cell, "words", None)
        return text.replace("_", " ") if words else text

    # --- Qt overrides

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else len(self.part.columns)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid() or index.row() >= len(self.rows):
            return None
        column = self.part.columns[index.column()]
        text = self.rows[index.row()][index.column()]
        trouble = self.troubles.get((index.row(), column.name), "")
        if role == Qt.ItemDataRole.DisplayRole:
            return self._shown(index.column(), text)
        if role == Qt.ItemDataRole.EditRole:
            return text
        if role == Qt.ItemDataRole.ToolTipRole:
            return trouble or column.cell.expects
        if role == Qt.ItemDataRole.BackgroundRole and trouble:
            return current_theme().color("stop_fill")
        if role == Qt.ItemDataRole.AccessibleDescriptionRole and trouble:
            return trouble
        return None

    def setData(self, index: Index, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:
        if role != Qt.ItemDataRole.EditRole or not index.isValid():
            return False
        text = str(value).strip()
        column = self.part.columns[index.column()]
        if text != self.rows[index.row()][index.column()]:
            self.rows[index.row()][index.column()] = text
            says = trouble_with(column, text)
            key = (index.row(), column.name)
            if says:
                self.troubles[key] = says
            else:
                self.troubles.pop(key, None)
            self.dataChanged.emit(index, index)
            self.edited.emit()
        return True

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        if orientation is not Qt.Orientation.Horizontal or not 0 <= section < len(self.part.columns):
            return None
        column = self.part.columns[section]
        if role == Qt.ItemDataRole.DisplayRole:
            return head_of(column)
        return (
            f"{column.says}. {column.cell.expects}".strip(". ")
            if role == Qt.ItemDataRole.ToolTipRole
            else None
        )

    def flags(self, index: Index) -> Qt.ItemFlag:
        return (
            super().flags(index) | Qt.ItemFlag.ItemIsEditable if index.isValid() else Qt.ItemFlag.NoItemFlags
        )


class WordDelegate(QStyledItemDelegate):
    """Offers the words of a closed vocabulary, or the names of what may be pointed at."""

    def __init__(self, part: Part, names: Names, parent: QObject) -> None:
        super().__init__(parent)
        self.part = part
        self.names = names

    # --- Qt overrides

    def createEditor(self, parent: QWidget, option: QStyleOptionViewItem, index: Index) -> QWidget:
        column = self.part.columns[index.column()]
        choices = choices_of(self.part.sheet, column, self.names)
        if not choices:
            made = super().createEditor(parent, option, index)
            made.setAccessibleName(label_of(column))
            return made
        box = ComboBox(parent)
        box.setAccessibleName(label_of(column))
        if empty_is_meant(self.part.sheet, column):
            box.addItem("", "")
        for text, shown in choices:
            box.addItem(shown, text)
        box.activated.connect(lambda _: self._take(box))
        return box

    def _take(self, box: QComboBox) -> None:
        """What is picked from the list stands at once, without a key more."""
        self.commitData.emit(box)
        self.closeEditor.emit(box)

    def setEditorData(self, editor: QWidget, index: Index) -> None:
        if isinstance(editor, QComboBox):
            editor.setCurrentIndex(max(editor.findData(index.data(Qt.ItemDataRole.EditRole)), 0))
            return
        super().setEditorData(editor, index)

    def setModelData(self, editor: QWidget, model: QAbstractItemModel, index: Index) -> None:
        if isinstance(editor, QComboBox):
            model.setData(index, editor.currentData())
            return
        super().setModelData(editor, model, index)


class PartEditor(QWidget):
    """The table with its buttons. `changed` when the person has changed something."""

    changed = Signal()

    def __init__(self, part: Part, names: Names, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.part = part
        self.model = PartModel(part, names, self)
        self.table = QTableView()
        self.problem = label(name=f"{part.title}: what is wrong")
        self.problem.setObjectName("problem")
        self.problem.setWordWrap(True)
        self.problem.hide()
        self._lay_out(names)
        self.model.edited.connect(self._on_edited)

    def rows(self) -> tuple[Row, ...]:
        """The rows as they stand."""
        return tuple(tuple(row) for row in self.model.rows)

    def set_rows(self, rows: tuple[Row, ...]) -> None:
        """Show rows; nobody has changed anything then."""
        self.model.show(rows)
        self.problem.hide()
        self._fit()

    def offer(self, names: Names) -> None:
        """Other things to point at."""
        self.model.names = names
        self.delegate.names = names

    def tell_troubles(self, troubles: list[Trouble]) -> None:
        """Say what is wrong, cell by cell, and the first of it in words."""
        self.model.tell_troubles(troubles)
        self._tell_first([self._said(each) for each in troubles])

    def add(self) -> None:
        """A row more, ready to be typed into."""
        row = self.model.add()
        self._fit()
        first = self.model.index(row, 0)
        self.table.setCurrentIndex(first)
        self.table.scrollTo(first)
        self.table.edit(first)

    def _take_out(self) -> None:
        row = self.table.currentIndex().row()
        if 0 <= row < len(self.model.rows):
            self.model.take_out(row)
            self._fit()

    def _move(self, by: int) -> None:
        index = self.table.currentIndex()
        if index.isValid():
            row = self.model.move(index.row(), by)
            self.table.setCurrentIndex(self.model.index(row, index.column()))

    def _on_edited(self) -> None:
        found = [f"Row {row + 1}: {says}" for (row, _), says in sorted(self.model.troubles.items())]
        self._tell_first(found)
        self.changed.emit()

    def _tell_first(self, said: list[str]) -> None:
        more = f" ({len(said) - 1} more)" if len(said) > 1 else ""
        self.problem.setText(f"{said[0]}{more}" if said else "")
        self.problem.setVisible(bool(said))

    def _said(self, trouble: Trouble) -> str:
        if trouble.row is None:
            return trouble.says
        column = next(each for each in self.part.columns if each.name == trouble.column)
        return f"Row {trouble.row + 1}, {head_of(column).lower()}: {trouble.says}"

    def _fit(self) -> None:
        """As high as its rows, up to a few; more can be scrolled."""
        rows = min(max(len(self.model.rows), 1), MOST_ROWS_SHOWN)
        self.table.setFixedHeight(self.table.horizontalHeader().sizeHint().height() + rows * ROW_PX + 14)
        self.table.resizeColumnsToContents()

    def _lay_out(self, names: Names) -> None:
        table = self.table
        table.setModel(self.model)
        self.delegate = WordDelegate(self.part, names, self)
        table.setItemDelegate(self.delegate)
        table.setAccessibleName(self.part.title)
        table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        table.setTabKeyNavigation(False)
        table.verticalHeader().hide()
        table.verticalHeader().setDefaultSectionSize(ROW_PX)
        header = table.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        header.setStretchLastSection(True)
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        one = self.part.one
        buttons = QHBoxLayout()
        buttons.setSpacing(4)
        buttons.addWidget(label(self.part.title))
        buttons.addStretch(1)
        buttons.addWidget(tool_button("+ add", f"One {one} more", self.add, f"Add a {one}"))
        take_out = f"Take out this {one}"
        buttons.addWidget(tool_button("take out", take_out, self._take_out, take_out))
        buttons.addWidget(tool_button("↑", "Move it up", lambda: self._move(-1), f"Move this {one} up"))
        buttons.addWidget(tool_button("↓", "Move it down", lambda: self._move(1), f"Move this {one} down"))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 6, 0, 0)
        column.setSpacing(3)
        column.addLayout(buttons)
        column.addWidget(table)
        column.addWidget(self.problem)
