"""What all dialogs share: a form, two buttons, and one seam for tests."""

from PySide6.QtWidgets import QDialog, QDialogButtonBox, QFormLayout, QVBoxLayout, QWidget

from lacet.window.parts import label


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
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(16, 14, 16, 12)
        self.column.addLayout(self.form)
        self.column.addWidget(self.buttons)

    def said_yes(self) -> bool:
        """Show it and wait; tests replace this."""
        return bool(self.exec())


class CheckedDialog(FormDialog):
    """A form whose answer may be refused; it stays open then, and says why above its buttons."""

    def __init__(self, title: str, does: str, parent: QWidget | None = None) -> None:
        super().__init__(title, does, parent)
        self.problem = label(name="What is wrong")
        self.problem.setObjectName("problem")
        self.problem.setWordWrap(True)
        self.problem.hide()
        self.column.insertWidget(1, self.problem)

    def answer(self) -> object:
        """What was filled in; ValueError says what is wrong with it."""
        raise NotImplementedError

    # --- Qt overrides

    def accept(self) -> None:
        try:
            self.answer()
        except ValueError as problem:
            self.problem.setText(str(problem))
            self.problem.show()
            return
        super().accept()
