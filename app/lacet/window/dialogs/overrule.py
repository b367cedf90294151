"""Letting a finding stand: by a named person, with a reason."""

from PySide6.QtWidgets import QLabel, QLineEdit, QPlainTextEdit, QWidget

from lacet.trip.finding import Finding
from lacet.window.dialogs.base import FormDialog


class OverruleDialog(FormDialog):
    """Asks for name and reason; both must be given."""

    def __init__(self, finding: Finding, name: str = "", parent: QWidget | None = None) -> None:
        super().__init__("Let it stand", "Let it stand", parent)
        says = QLabel(str(finding.says))
        says.setWordWrap(True)
        self.name = QLineEdit(name)
        self.name.setAccessibleName("Your name")
        self.reason = QPlainTextEdit()
        self.reason.setAccessibleName("Reason")
        self.reason.setMaximumHeight(80)
        self.form.addRow(says)
        self.form.addRow("Your name", self.name)
        self.form.addRow("Reason", self.reason)
        self.form.addRow(QLabel("It comes back when the figure gets worse."))
        self.name.textChanged.connect(self._complete)
        self.reason.textChanged.connect(self._complete)
        self._complete()

    def _complete(self) -> None:
        self.does.setEnabled(bool(self.name.text().strip() and self.reason.toPlainText().strip()))

    @classmethod
    def ask(cls, finding: Finding, name: str = "", parent: QWidget | None = None) -> tuple[str, str] | None:
        """(name, reason), or None when put away."""
        dialog = cls(finding, name, parent)
        if not dialog.said_yes():
            return None
        return dialog.name.text().strip(), dialog.reason.toPlainText().strip()
