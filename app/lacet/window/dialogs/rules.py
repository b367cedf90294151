"""All published rules beside each other for one leg, with their sources."""

from PySide6.QtWidgets import (  # fmt: skip
    QAbstractItemView,
    QDialog,
    QHeaderView,
    QLabel,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from lacet.effort.comparison import RuleRow
from lacet.window.closing import closes_by_keys
from lacet.wording import ENGLISH, Wording

HEADS = ("Rule", "Moving time", "Source", "Note")


class RulesDialog(QDialog):
    """A table to read; nothing can be changed in it."""

    def __init__(
        self, title: str, rows: tuple[RuleRow, ...], wording: Wording = ENGLISH, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        closes_by_keys(self, escape=False)
        self.setWindowTitle(f"Rules beside each other – {title}")
        self.resize(820, 420)
        self.table = QTableWidget(len(rows), len(HEADS))
        self.table.setAccessibleName("Rules beside each other")
        self.table.setHorizontalHeaderLabels(HEADS)
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.verticalHeader().hide()
        self.table.setWordWrap(True)
        for index, row in enumerate(rows):
            texts = (row.name, wording.duration(row.seconds), row.source, row.note)
            for column, text in enumerate(texts):
                self.table.setItem(index, column, QTableWidgetItem(text))
        header = self.table.horizontalHeader()
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(1, QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(2, QHeaderView.ResizeMode.Stretch)
        header.setSectionResizeMode(3, QHeaderView.ResizeMode.Stretch)
        self.table.resizeRowsToContents()
        layout = QVBoxLayout(self)
        layout.addWidget(self.table)
        layout.addWidget(QLabel("Moving times without stops: estimates for planning."))
