"""What all dialogs share: a form, two buttons, and one seam for tests."""

from PySide6.QtWidgets import QDialog, QDialogButtonBox, QFormLayout, QVBoxLayout, QWidget


class FormDialog(QDialog):
    """A titled form with a button that does it and one that doesn't."""

    def __init__(self, title: str, does: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        self.form = QFormLayout()
        self.form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.ExpandingFieldsGrow)
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel)
        self.does = self.buttons.addButton(does, QDialogButtonBox.ButtonRole.AcceptRole)
        self.does.setObjectName("primary")
        self.does.setDefault(True)
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 14, 16, 12)
        column.addLayout(self.form)
        column.addWidget(self.buttons)

    def said_yes(self) -> bool:
        """Show it and wait; tests replace this."""
        return bool(self.exec())
