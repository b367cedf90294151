"""Whose packages Lacet stands on, and the texts of their licences, to be read."""

from PySide6.QtGui import QFontDatabase
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QHBoxLayout,
    QListWidget,
    QPlainTextEdit,
    QVBoxLayout,
    QWidget,
)

from lacet.licences import licences
from lacet.window.closing import closes_by_keys
from lacet.window.parts import label

ABOUT = "Lacet itself is under the MIT licence. It stands on these packages, each under its own."
LIST_WIDTH = 240
SIZE = (900, 560)


class LicencesDialog(QDialog):
    """Packages on the left; of the chosen one, its licence and where it is to be had on the right."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        closes_by_keys(self, escape=False)
        self.setWindowTitle("Licences")
        self.resize(*SIZE)
        self.held = licences()
        self.packages = QListWidget()
        self.packages.setAccessibleName("Packages")
        self.packages.setFixedWidth(LIST_WIDTH)
        self.packages.addItems([each.package for each in self.held])
        self.text = QPlainTextEdit(readOnly=True)
        self.text.setAccessibleName("Licence")
        self.text.setTabChangesFocus(True)
        self.text.setFont(QFontDatabase.systemFont(QFontDatabase.SystemFont.FixedFont))
        self.packages.currentRowChanged.connect(lambda row: self.text.setPlainText(self.held[row].text))
        self._lay_out()
        self.packages.setCurrentRow(0)

    def _lay_out(self) -> None:
        row = QHBoxLayout()
        row.addWidget(self.packages)
        row.addWidget(self.text, 1)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 14, 16, 12)
        column.addWidget(label(ABOUT, "About"))
        column.addLayout(row, 1)
        column.addWidget(buttons)
