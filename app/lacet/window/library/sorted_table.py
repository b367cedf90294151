"""A table of rows that can be sorted and chosen from, as all lists of the desk are set."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractItemView, QTableView

from lacet.window.library.list_model import ListModel

ROW_PX = 24


def sorted_table(model: ListModel, name: str, *, sorts_by: int = 0, many: bool = False) -> QTableView:
    """The view of a model; Tab leaves it, arrows move within it."""
    table = QTableView()
    table.setModel(model)
    table.setAccessibleName(name)
    table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
    mode = QAbstractItemView.SelectionMode
    table.setSelectionMode(mode.ExtendedSelection if many else mode.SingleSelection)
    table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
    table.setTabKeyNavigation(False)
    table.setShowGrid(False)
    table.setWordWrap(False)
    table.setAlternatingRowColors(True)
    table.verticalHeader().hide()
    table.verticalHeader().setDefaultSectionSize(ROW_PX)
    header = table.horizontalHeader()
    header.setHighlightSections(False)
    # Widths are taken from a few rows only; measuring ten thousand would stop the window.
    header.setResizeContentsPrecision(40)
    header.setMinimumSectionSize(44)
    header.setSortIndicator(sorts_by, Qt.SortOrder.AscendingOrder)
    table.setSortingEnabled(True)
    return table
