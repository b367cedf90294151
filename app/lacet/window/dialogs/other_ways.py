"""The editor of a day's other ways: each beside the plan, with its figures as they would be assessed."""

from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from lacet.service.other_ways import Step, WaysDesk
from lacet.service.sheet.reasons import REASONS
from lacet.trip.trip import Alternative, Item
from lacet.trip.words import Reason
from lacet.window.dialogs.base import CheckedDialog
from lacet.window.fields import ComboBox
from lacet.window.parts import label, push_button

HEADS = ("", "What", "Length", "Up", "Moving", "Done by")
WHAT = 1
TABLE_HEIGHT = 112
LIST_HEIGHT = 190
CARDS_HEIGHT = 92


class OtherWaysEditor(QWidget):
    """A table of the plan and its alternatives; add, edit, take out. Nothing is kept before the day is."""

    def __init__(self, desk: WaysDesk) -> None:
        super().__init__()
        self.desk = desk
        self.others = desk.planned.alternatives
        self.table = QTableWidget(0, len(HEADS))
        self.table.setAccessibleName("Ways to spend the day")
        self.table.setHorizontalHeaderLabels(HEADS)
        self.table.verticalHeader().hide()
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setTabKeyNavigation(False)
        self.table.setMinimumHeight(TABLE_HEIGHT)
        header = self.table.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(WHAT, QHeaderView.ResizeMode.Stretch)
        self.table.itemSelectionChanged.connect(self._enable)
        self.table.cellActivated.connect(lambda *_: self.edit())
        add = push_button("Another way…", self.add, "A short way, a way for wet weather")
        self.changes = push_button("Edit…", self.edit)
        self.takes_out = push_button("Take out", self.take_out)
        buttons = QHBoxLayout()
        for button in (add, self.changes, self.takes_out):
            button.setAutoDefault(False)
            buttons.addWidget(button)
        buttons.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.table)
        column.addLayout(buttons)
        self._show()

    @property
    def chosen(self) -> int | None:
        """Which alternative is picked, None for the plan."""
        row = self.table.currentRow()
        return row - 1 if row > 0 else None

    def add(self) -> None:
        """Ask for one more."""
        made = OtherWayDialog.ask(self.desk, Alternative(id="", reason=Reason.SHORTER, items=()), self)
        if made is not None:
            self.others = (*self.others, made)
            self._show(len(self.others))

    def edit(self) -> None:
        """Change the picked one."""
        index = self.chosen
        if index is not None:
            made = OtherWayDialog.ask(self.desk, self.others[index], self)
            if made is not None:
                self.others = (*self.others[:index], made, *self.others[index + 1 :])
                self._show(index + 1)

    def take_out(self) -> None:
        """The picked one goes."""
        index = self.chosen
        if index is not None:
            self.others = (*self.others[:index], *self.others[index + 1 :])
            self._show(index)

    def _show(self, row: int = 0) -> None:
        rows = self.desk.rows(self.others)
        self.table.setRowCount(len(rows))
        for index, way in enumerate(rows):
            tip = self.others[index - 1].says if index else ""
            for column, text in enumerate(
                (way.why, way.what, way.length, way.climb, way.moving, way.done_by)
            ):
                item = QTableWidgetItem(text)
                item.setToolTip(tip or way.what)
                self.table.setItem(index, column, item)
        self.table.setCurrentCell(row, 0)
        self._enable()

    def _enable(self) -> None:
        for button in (self.changes, self.takes_out):
            button.setEnabled(self.chosen is not None)


class OtherWayDialog(CheckedDialog):
    """One alternative: why, in which words, and its cards one after the other."""

    def __init__(self, desk: WaysDesk, other: Alternative, parent: QWidget | None = None) -> None:
        super().__init__(f"Another way, day {desk.day + 1}", "Keep", parent)
        self.resize(560, 620)
        self.desk = desk
        self.other = other
        self.items: list[Item] = list(other.items)
        self.steps: list[Step] = []
        self.reason = ComboBox()
        for reason, words in REASONS.items():
            self.reason.addItem(words, reason.value)
        self.reason.setCurrentIndex(self.reason.findData(other.reason.value))
        self.says = QLineEdit(other.says)
        self.says.setPlaceholderText("in your words, for the guests")
        self.cards = QListWidget()
        self.cards.setFixedHeight(CARDS_HEIGHT)
        self.finder = QLineEdit()
        self.finder.setPlaceholderText("Find a stage or transfer")
        self.finder.setClearButtonEnabled(True)
        self.next = QListWidget()
        self.next.setMinimumHeight(LIST_HEIGHT)
        self.figures = label(name="Figures")
        for widget, name in (
            (self.reason, "Why"), (self.says, "In words"), (self.cards, "Cards of this way"),
            (self.finder, "Find what comes next"), (self.next, "What comes next"),
        ):  # fmt: skip
            widget.setAccessibleName(name)
        self.finder.textChanged.connect(lambda _: self._offer())
        self.next.itemActivated.connect(lambda _: self.take_next())
        for keys in (QKeySequence.StandardKey.Delete, QKeySequence(Qt.Key.Key_Backspace)):
            QShortcut(keys, self.cards, context=Qt.ShortcutContext.WidgetShortcut).activated.connect(
                self.take_out
            )
        self._lay_out()
        self._show()

    def _lay_out(self) -> None:
        adds = push_button("Add it", self.take_next, "Enter on the list does the same")
        drops = push_button("Take the card out", self.take_out, "Delete on the list does the same")
        copies = push_button("Begin as planned", self.take_planned, "The day's own cards, to change them")
        for button in (adds, drops, copies):
            button.setAutoDefault(False)
        beside = QHBoxLayout()
        for button in (copies, drops):
            beside.addWidget(button)
        beside.addStretch(1)
        below = QHBoxLayout()
        below.addWidget(adds)
        below.addStretch(1)
        self.form.addRow("Why", self.reason)
        self.form.addRow("In words", self.says)
        self.form.addRow("Cards", self.cards)
        self.form.addRow("", beside)
        self.form.addRow("Next", self.finder)
        self.form.addRow("", self.next)
        self.form.addRow("", below)
        self.form.addRow("Figures", self.figures)

    def take_next(self) -> None:
        """The picked stage or transfer is added after the cards there are."""
        row = self.next.currentRow()
        if 0 <= row < len(self.steps):
            self.items.append(self.steps[row].item)
            self.finder.clear()
            self._show()

    def take_out(self) -> None:
        """The picked card goes."""
        row = self.cards.currentRow()
        if 0 <= row < len(self.items):
            del self.items[row]
            self._show()

    def take_planned(self) -> None:
        """Start from the day's own cards; they get ids of their own when they are kept."""
        self.items = [replace(item, id="") for item in self.desk.planned.items]
        self._show()

    def answer(self) -> Alternative:
        """ValueError while it has no card."""
        made = self._draft()
        if not made.items:
            raise ValueError("Another way needs at least one card: pick a stage or a transfer and add it.")
        return made

    def _draft(self) -> Alternative:
        says = self.says.text().strip()
        return replace(
            self.other, reason=Reason(self.reason.currentData()), says=says, items=tuple(self.items)
        )

    def _show(self) -> None:
        self.cards.clear()
        self.cards.addItems([self.desk.title(item) for item in self.items])
        self.cards.setCurrentRow(len(self.items) - 1)
        # Tried out as one more of the day's: whether it is new or changed makes no difference to its figures.
        plan, tried = self.desk.rows((replace(self._draft(), id=""),))
        self.figures.setText(f"{tried.figures}\nas planned {plan.figures}" if self.items else plan.figures)
        self._offer()

    def _offer(self) -> None:
        wanted = self.finder.text().strip().casefold()
        offered = self.desk.steps(self.items)
        self.steps = [step for step in offered if wanted in f"{step.title} {step.sub}".casefold()]
        self.next.clear()
        for step in self.steps:
            self.next.addItem(QListWidgetItem(f"{step.title}   {step.sub}"))
        self.next.setCurrentRow(0)

    @classmethod
    def ask(cls, desk: WaysDesk, other: Alternative, parent: QWidget | None = None) -> Alternative | None:
        dialog = cls(desk, other, parent)
        return dialog.answer() if dialog.said_yes() else None
