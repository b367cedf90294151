"""The table of figures: every variant beside its difference to the base, with a sign, a mark and a colour."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableWidget, QTableWidgetItem

from lacet.compare import Comparison
from lacet.compare.figures import FigureRow
from lacet.compare.saying import difference_text, value_text
from lacet.window.compare.look import swatch
from lacet.window.theme import Theme
from lacet.wording import Wording

BETTER = {True: "better", False: "worse"}


class FiguresTable(QTableWidget):
    """One row a figure; two columns a variant, of which the base needs only one."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(0, 0)
        self.theme = theme
        self.setAccessibleName("Figures of the variants")
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setShowGrid(False)
        self.setStyleSheet(
            f"QTableView::item {{ border-bottom: 1px solid {theme.hairline}; }}"
            f"QTableCornerButton::section {{ background: {theme.paper}; border: none; }}"
        )
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setWordWrap(False)
        self.horizontalHeader().setHighlightSections(False)
        self.horizontalHeader().setMinimumSectionSize(20)
        # All rows are of one line; measuring each of them anew costs a drag more than all the rest.
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.verticalHeader().setDefaultSectionSize(self.fontMetrics().height() + 8)
        self.verticalHeader().setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)

    def whole_width(self) -> int:
        """Pixels that show every column."""
        return self.verticalHeader().sizeHint().width() + self._columns_width() + 2 * self.frameWidth() + 24

    def _columns_width(self) -> int:
        header = self.horizontalHeader()
        return sum(
            max(self.sizeHintForColumn(column), header.sectionSizeHint(column))
            for column in range(self.columnCount())
        )

    def show_comparison(self, found: Comparison | None, letters: list[str], wording: Wording) -> None:
        """Fill it anew."""
        self.clear()
        if found is None:
            self.setRowCount(0)
            self.setColumnCount(0)
            return
        self.setColumnCount(2 * len(letters))
        self.setRowCount(len(found.rows))
        self.setVerticalHeaderLabels([row.name for row in found.rows])
        for index, letter in enumerate(letters):
            head = QTableWidgetItem(letter)
            head.setIcon(swatch(index, self.theme))
            head.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
            self.setHorizontalHeaderItem(2 * index, head)
            said = "base" if index == found.base else f"to {letters[found.base]}"
            change = QTableWidgetItem(said)
            change.setTextAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
            self.setHorizontalHeaderItem(2 * index + 1, change)
            for line, row in enumerate(found.rows):
                self._fill(line, index, row, found, letters, wording)
        header = self.horizontalHeader()
        for index in range(len(letters)):
            header.setSectionResizeMode(2 * index, QHeaderView.ResizeMode.ResizeToContents)
            header.setSectionResizeMode(2 * index + 1, QHeaderView.ResizeMode.ResizeToContents)
        header.setStretchLastSection(True)

    def _fill(
        self, line: int, index: int, row: FigureRow, found: Comparison, letters: list[str], wording: Wording
    ) -> None:
        said = _whole(value_text(row, index, wording))
        value = QTableWidgetItem(said)
        value.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        change_text = _whole(difference_text(row, index, found.base, wording))
        change = QTableWidgetItem(change_text)
        better = row.better(index, found.base)
        if better is not None:
            for item in (value, change):
                item.setForeground(self.theme.color("good" if better else "stop"))
            bold = QFont(self.font())
            bold.setBold(not better)
            change.setFont(bold)
        elif change_text:
            change.setForeground(self.theme.color("quiet"))
        spoken = f"{letters[index]}, {row.name}: {said}"
        if change_text:
            how = f", {BETTER[better]}" if better is not None else ""
            spoken += f", {change_text} to {letters[found.base]}{how}"
        for item in (value, change):
            item.setData(Qt.ItemDataRole.AccessibleTextRole, spoken)
            item.setToolTip(spoken)
        self.setItem(line, 2 * index, value)
        self.setItem(line, 2 * index + 1, change)


def _whole(said: str) -> str:
    """Whole amounts without cents: there are many of them beside each other."""
    return said.replace(".00", "")
