"""The questions of the desk: history, one field on many, retiring, leaving, newer versions for trips."""

from collections.abc import Sequence
from datetime import date
from typing import Any

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import (
    QAbstractItemView,
    QCheckBox,
    QFrame,
    QHeaderView,
    QScrollArea,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from lacet.days.holidays import Holidays
from lacet.intake.columns import Column
from lacet.service.keeper import Behind
from lacet.service.library.changes import (
    NOBODY_SAID,
    Would,
    differences,
    field_label,
    set_on_many,
    settable,
)
from lacet.service.library.fields import DeskKind, Names
from lacet.window.dialogs.base import FormDialog
from lacet.window.fields import ComboBox
from lacet.window.library.field_editors import FieldEditor, editor_for
from lacet.window.parts import label


def read_only_table(heads: Sequence[str], name: str, stretch: int) -> QTableWidget:
    """A table to read and to choose rows in."""
    table = QTableWidget(0, len(heads))
    table.setHorizontalHeaderLabels(list(heads))
    table.setAccessibleName(name)
    table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
    table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
    table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
    table.setTabKeyNavigation(False)
    table.setShowGrid(False)
    table.verticalHeader().hide()
    table.horizontalHeader().setHighlightSections(False)
    table.horizontalHeader().setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
    table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
    table.horizontalHeader().setSectionResizeMode(stretch, QHeaderView.ResizeMode.Stretch)
    return table


def put_row(table: QTableWidget, row: int, texts: Sequence[str]) -> None:
    """Fill one row; a long text is whole in its tip."""
    for column, text in enumerate(texts):
        item = QTableWidgetItem(text)
        item.setToolTip(text)
        table.setItem(row, column, item)


TYPING_MS = 150


class HistoryDialog(FormDialog):
    """Every version and what it changed; an old one can be taken again, as one more."""

    def __init__(self, kind: DeskKind, versions: Sequence[Any], parent: QWidget | None = None) -> None:
        super().__init__(f"History of {versions[-1].name}", "Take this version again", parent)
        self.resize(760, 420)
        self.versions = list(reversed(versions))
        self.table = read_only_table(("Version", "What it changed"), "Versions, newest first", 1)
        self.table.setMinimumHeight(220)
        self.table.setWordWrap(True)
        self.table.setRowCount(len(self.versions))
        for row, item in enumerate(self.versions):
            before = self.versions[row + 1] if row + 1 < len(self.versions) else None
            said = "; ".join(differences(kind, before, item)) or "nothing that is shown here"
            put_row(self.table, row, (f"{item.version}{' (newest)' if row == 0 else ''}", said))
        self.table.resizeRowsToContents()
        self.table.itemSelectionChanged.connect(self._on_selected)
        self.form.addRow(self.table)
        says = label("Trips keep the version they were planned with; nothing here changes them.", quiet=True)
        self.form.addRow(says)
        self.table.selectRow(0)

    def _on_selected(self) -> None:
        self.does.setEnabled(self.table.currentRow() > 0)

    @classmethod
    def ask(cls, kind: DeskKind, versions: Sequence[Any], parent: QWidget | None = None) -> Any:
        """The version to take again, or None."""
        dialog = cls(kind, versions, parent)
        return dialog.versions[dialog.table.currentRow()] if dialog.said_yes() else None


class ManyDialog(FormDialog):
    """One field for many items, with what it would do to each, or to the first of very many."""

    def __init__(
        self,
        kind: DeskKind,
        items: Sequence[Any],
        names: Names,
        today: date,
        holidays: Holidays,
        parent: QWidget | None = None,
        *,
        of: int | None = None,
    ) -> None:
        self.of = len(items) if of is None else of
        super().__init__(f"One field on {self.of} {kind.name}", "Set", parent)
        self.resize(820, 560)
        self.kind, self.items, self.names = kind, list(items), names
        self._calendar = (today, holidays)
        self.would: list[Would] = []
        self._typing = QTimer(self, singleShot=True, interval=TYPING_MS)
        self._typing.timeout.connect(self.preview)
        self.field = ComboBox()
        self.field.setAccessibleName("Field to set")
        for column in settable(kind):
            self.field.addItem(field_label(kind, column), column)
        self.slot = QVBoxLayout()
        self.editor: FieldEditor | None = None
        self.table = read_only_table(("Name", "Now", "Then", ""), "What it would do to each", 3)
        self.table.setMinimumHeight(240)
        self.summary = label(name="Summary")
        self.summary.setWordWrap(True)
        self.form.addRow("Field", self.field)
        self.form.addRow("Shall be", self.slot)
        self.form.addRow(self.table)
        self.form.addRow(self.summary)
        self.field.currentIndexChanged.connect(lambda _: self._show_field())
        self._show_field()

    def _show_field(self) -> None:
        column: Column = self.field.currentData()
        if self.editor is not None:
            self.slot.removeWidget(self.editor)
            self.editor.deleteLater()
        self.editor = editor_for(self.kind.sheet, column, self.names, *self._calendar)
        self.editor.set_text("")
        self.editor.changed.connect(self._typing.start)
        self.slot.addWidget(self.editor)
        self.preview()

    def preview(self) -> None:
        """Say what each item would become."""
        assert self.editor is not None
        column: Column = self.field.currentData()
        would = set_on_many(self.kind, column, self.editor.text(), self.items, self.names)
        # What changes comes first, then what can't.
        self.would = sorted(would, key=lambda each: (not each.changes, each.after is not None))
        self.table.setRowCount(len(self.would))
        for row, each in enumerate(self.would):
            new = each.new or NOBODY_SAID if each.after is not None else "–"
            says = each.says or ("" if each.changes else "as it is")
            put_row(self.table, row, (each.before.name, each.old or NOBODY_SAID, new, says))
        changed = sum(each.changes for each in self.would)
        refused = sum(each.after is None for each in self.would)
        said = f"{changed} of {len(self.would)} change"
        said = f"{said}; {refused} can't and stay as they are." if refused else f"{said}."
        more = self.of - len(self.would)
        if more:
            said = f"Of the first {len(self.would)}: {said} {more} more likewise."
        self.summary.setText(said)
        self.does.setText("Set on all that can" if more else f"Set on {changed}")
        self.does.setEnabled(changed > 0 or more > 0)

    def answer(self) -> tuple[Column, str]:
        """The field, and what it shall be."""
        assert self.editor is not None
        self.editor.settle()
        return self.field.currentData(), self.editor.text()


SENTENCES_PX = 580
MOST_TOLD_PX = 440


class SentencesDialog(FormDialog):
    """A question with its consequences, one a line."""

    def __init__(
        self, title: str, does: str, says: str, consequences: Sequence[str], parent: QWidget | None = None
    ) -> None:
        super().__init__(title, does, parent)
        # Not in the form: its rows don't give wrapped lines the height they need.
        page = QWidget()
        sentences = QVBoxLayout(page)
        sentences.setContentsMargins(0, 0, 0, 0)
        sentences.setSpacing(8)
        for text in (says, *(f"•  {sentence}" for sentence in consequences)):
            line = label(text)
            line.setWordWrap(True)
            sentences.addWidget(line)
        sentences.addStretch(1)
        # Erasing may have a hundred things to tell; the buttons stay on the screen.
        self.told = QScrollArea(widgetResizable=True)
        self.told.setFrameShape(QFrame.Shape.NoFrame)
        self.told.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.told.setAccessibleName("What is told")
        self.told.setWidget(page)
        margins, bar = self.column.contentsMargins(), self.told.verticalScrollBar().sizeHint()
        width = SENTENCES_PX - margins.left() - margins.right() - bar.width()
        self.told.setMinimumHeight(min(sentences.totalHeightForWidth(width), MOST_TOLD_PX))
        self.column.insertWidget(0, self.told, 1)
        self.setMinimumWidth(SENTENCES_PX)
        self.resize(SENTENCES_PX, 0)

    @classmethod
    def ask(
        cls, title: str, does: str, says: str, consequences: Sequence[str], parent: QWidget | None = None
    ) -> bool:
        return cls(title, does, says, consequences, parent).said_yes()


class NewerDialog(FormDialog):
    """Which trips shall take a newer version; none is chosen unasked."""

    def __init__(self, item: Any, behind: Sequence[Behind], parent: QWidget | None = None) -> None:
        super().__init__(f"Version {item.version} of {item.name}", "Give it to them", parent)
        says = label(
            "These trips were planned with an older version and keep it, unless they are given the new one. "
            "What was sold should stay what was sold."
        )
        says.setWordWrap(True)
        self.form.addRow(says)
        self.boxes: list[tuple[QCheckBox, Behind]] = []
        for trip in behind:
            box = QCheckBox(f"{trip.name} (has version {trip.version})")
            box.toggled.connect(lambda _: self._count())
            self.form.addRow(box)
            self.boxes.append((box, trip))
        self._count()

    def _count(self) -> None:
        self.does.setEnabled(any(box.isChecked() for box, _ in self.boxes))

    def answer(self) -> list[Behind]:
        return [trip for box, trip in self.boxes if box.isChecked()]


SAVE, DROP, STAY = "save", "drop", "stay"


class LeavingDialog(FormDialog):
    """Something was typed and not saved."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__("Not saved yet", "Save", parent)
        says = label(f"{name} was edited and isn't saved yet.")
        says.setWordWrap(True)
        self.form.addRow(says)
        self.chosen = STAY
        drop = self.buttons.addButton("Don't save", self.buttons.ButtonRole.DestructiveRole)
        drop.clicked.connect(lambda _=False: self._choose(DROP))
        cancel = self.buttons.button(self.buttons.StandardButton.Cancel)
        cancel.setText("Stay here")

    def _choose(self, what: str) -> None:
        self.chosen = what
        super().accept()

    # --- Qt overrides

    def accept(self) -> None:
        self._choose(SAVE)

    @classmethod
    def ask(cls, name: str, parent: QWidget | None = None) -> str:
        dialog = cls(name, parent)
        return dialog.chosen if dialog.said_yes() else STAY
