"""What all dialogs share: a form, two buttons, and one seam for tests."""

from collections.abc import Iterator
from itertools import pairwise

from PySide6.QtCore import Qt
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QFormLayout, QVBoxLayout, QWidget

from lacet.window.closing import closes_by_keys
from lacet.window.parts import label


class FormDialog(QDialog):
    """A titled form with a button that does it and one that doesn't."""

    def __init__(self, title: str, does: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        closes_by_keys(self, escape=False)
        self.setWindowTitle(title)
        self._shown = False
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

    def _fields_first(self) -> None:
        """The keyboard begins in the first field and comes to the buttons last.

        Qt goes by the order in which widgets were made, and the buttons were made before the fields.
        """
        fields = [each for each in self._chain() if not self.buttons.isAncestorOf(each)]
        if not fields:
            return
        for before, after in pairwise((fields[-1], *self.buttons.buttons())):
            self.setTabOrder(before, after)
        if self.focusWidget() not in fields:
            fields[0].setFocus()

    def _chain(self) -> Iterator[QWidget]:
        """What the Tab key comes to within this dialog, in its order."""
        each = self.nextInFocusChain()
        while each is not None and each is not self:
            if each.focusPolicy() & Qt.FocusPolicy.TabFocus and self.isAncestorOf(each):
                yield each
            each = each.nextInFocusChain()

    # --- Qt overrides

    def showEvent(self, event: QShowEvent) -> None:
        if not self._shown:
            self._shown = True
            self._fields_first()
        super().showEvent(event)


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
