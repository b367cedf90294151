"""One field of a form: a line, a list to choose from, a larger text; what is wrong stands beneath."""

from collections.abc import Iterable, Mapping
from datetime import date

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QCompleter,
    QGridLayout,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from lacet.days.holidays import Holidays
from lacet.intake.cells import Word, YesNo
from lacet.intake.columns import Column, SheetKind
from lacet.intake.ground import WaysCell
from lacet.service.library.calendar_words import DayTold, Told, told
from lacet.service.library.fields import LONG, checks_a_calendar, label_of, trouble_with
from lacet.service.library.parts import OneOf
from lacet.window.fields import ComboBox
from lacet.window.parts import label
from lacet.window.theme import current_theme

NOT_SAID = "not said"
LONG_PX = 64
CHOICE_LETTERS = 18
FIXED = Qt.MatchFlag.MatchFixedString
WEEK = 7
Choice = tuple[str, str]


def choices_of(sheet: SheetKind, column: Column, names: Mapping[str, Mapping[str, str]]) -> list[Choice]:
    """What may be chosen in a field, as (text, as shown); nothing where anything may be typed."""
    if column.refers:
        return sorted(names.get(column.refers, {}).items(), key=lambda each: each[1].casefold())
    words: Iterable[str] = ("yes", "no") if isinstance(column.cell, YesNo) else ()
    if isinstance(column.cell, Word | OneOf | WaysCell):
        words = column.cell.words
    return [(str(word), str(word).replace("_", " ")) for word in words]


def empty_is_meant(sheet: SheetKind, column: Column) -> bool:
    """Whether a field may be left empty to say that nobody knows."""
    return not column.required and sheet.default_of(column) in (None, "", ())


class FieldEditor(QWidget):
    """A field and what is said beneath it. `changed` when the person has changed its text."""

    changed = Signal()

    def __init__(self, column: Column, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.column = column
        self.problem = label(name=f"{label_of(column)}: what is wrong")
        self.problem.setObjectName("problem")
        self.problem.setWordWrap(True)
        self.problem.hide()
        self.below = QVBoxLayout(self)
        self.below.setContentsMargins(0, 0, 0, 0)
        self.below.setSpacing(2)
        self.input: QWidget = self
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)

    def hold(self, widget: QWidget) -> None:
        """Take the widget that is edited, named for a screen reader by label and meaning."""
        self.input = widget
        meaning = ". ".join(filter(None, (self.column.says, self.column.cell.expects)))
        widget.setAccessibleName(label_of(self.column))
        widget.setAccessibleDescription(meaning)
        widget.setToolTip(meaning[:1].upper() + meaning[1:])
        self.setFocusProxy(widget)
        self.below.addWidget(widget)
        self.below.addWidget(self.problem)

    def settle(self) -> None:
        """Bring what was typed to its final form; before the form is read."""

    def text(self) -> str:
        """What stands in the field, as a sheet would have it."""
        raise NotImplementedError

    def set_text(self, text: str) -> None:
        """Show a text; nobody has changed anything then."""
        raise NotImplementedError

    def tell_trouble(self, says: str) -> None:
        """Say what is wrong, or that nothing is."""
        self.problem.setText(says)
        self.problem.setVisible(bool(says))

    def check(self) -> None:
        """Judge what stands in the field by itself."""
        self.tell_trouble(trouble_with(self.column, self.text()) if self.text().strip() else "")

    def _on_edited(self) -> None:
        self.check()
        self.changed.emit()


class LineEditor(FieldEditor):
    """A line of text."""

    def __init__(self, column: Column, parent: QWidget | None = None) -> None:
        super().__init__(column, parent)
        self.line = QLineEdit()
        hint = "" if column.cell.expects == "text" else column.cell.expects
        self.line.setPlaceholderText(hint if column.required else f"{NOT_SAID}{f'; {hint}' if hint else ''}")
        self.hold(self.line)
        self.line.textEdited.connect(lambda _: self._on_edited())

    def text(self) -> str:
        return self.line.text()

    def set_text(self, text: str) -> None:
        self.line.setText(text)
        self.line.setCursorPosition(0)
        self.check()


class LongEditor(FieldEditor):
    """Several lines of text; Tab leaves it."""

    def __init__(self, column: Column, parent: QWidget | None = None) -> None:
        super().__init__(column, parent)
        self.area = QPlainTextEdit()
        self.area.setTabChangesFocus(True)
        self.area.setFixedHeight(LONG_PX)
        self.hold(self.area)
        self.area.textChanged.connect(self._on_edited)

    def text(self) -> str:
        return self.area.toPlainText().strip()

    def set_text(self, text: str) -> None:
        with QSignalBlocker(self.area):
            self.area.setPlainText(text)


class ChoiceEditor(FieldEditor):
    """A closed list; a long one can be typed into, and offers what contains what was typed."""

    def __init__(
        self, column: Column, choices: list[Choice], *, may_be_empty: bool, parent: QWidget | None = None
    ) -> None:
        super().__init__(column, parent)
        self.may_be_empty = may_be_empty
        self.box = ComboBox()
        self.box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.box.setMinimumContentsLength(CHOICE_LETTERS)
        self.hold(self.box)
        self.below.setAlignment(self.box, Qt.AlignmentFlag.AlignLeft)
        if column.refers or column.name == "subject":
            self._let_type()
        self.set_choices(choices)
        self.box.activated.connect(lambda _: self._on_edited())

    def set_choices(self, choices: list[Choice]) -> None:
        """Offer other things; what is chosen stays, even if it isn't offered."""
        held = self.text() if self.box.count() else ""
        with QSignalBlocker(self.box):
            self.box.clear()
            if self.may_be_empty or self.box.isEditable():
                self.box.addItem("" if self.box.isEditable() else NOT_SAID, "")
            for text, shown in choices:
                self.box.addItem(shown, text)
        self.set_text(held)

    def text(self) -> str:
        typed = self.box.currentText()
        if self.box.isEditable() and typed != self.box.itemText(self.box.currentIndex()):
            found = self.box.findText(typed, FIXED)
            return str(self.box.itemData(found)) if found >= 0 else typed.strip()
        return str(self.box.currentData() or "")

    def set_text(self, text: str) -> None:
        with QSignalBlocker(self.box):
            found = self.box.findData(text)
            self.box.setCurrentIndex(found if found >= 0 or not self.box.isEditable() else -1)
            if found < 0 and self.box.isEditable():
                self.box.setEditText(text)
        self.tell_trouble("")

    def settle(self) -> None:
        """The beginning or a part of a name stands for it when there is only one such."""
        typed = self.box.currentText().strip().casefold()
        if not self.box.isEditable() or not typed or self.box.findText(typed, FIXED) >= 0:
            return
        rows = [row for row in range(self.box.count()) if typed in self.box.itemText(row).casefold()]
        if len(rows) == 1:
            self.box.setCurrentIndex(rows[0])

    def check(self) -> None:
        """A name that is being typed isn't wrong yet; the whole form judges it."""
        self.tell_trouble("")

    def _let_type(self) -> None:
        self.box.setEditable(True)
        self.box.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        completer = self.box.completer()
        assert isinstance(completer, QCompleter)
        completer.setFilterMode(Qt.MatchFlag.MatchContains)
        completer.setCompletionMode(QCompleter.CompletionMode.PopupCompletion)
        line = self.box.lineEdit()
        assert line is not None
        line.textEdited.connect(lambda _: self._on_edited())
        line.editingFinished.connect(self.settle)
        line.setPlaceholderText("type a name")
        line.setAccessibleName(label_of(self.column))


class CalendarEditor(LineEditor):
    """Opening hours or a season: told back as a sentence, and for the next two weeks."""

    def __init__(
        self, column: Column, today: date, holidays: Holidays, parent: QWidget | None = None
    ) -> None:
        super().__init__(column, parent)
        self._today, self._holidays = today, holidays
        self.sentence = label(name=f"{label_of(column)} in words", quiet=True)
        self.sentence.setWordWrap(True)
        self.weeks = TwoWeeks(f"{label_of(column)}: the next two weeks")
        self.below.addWidget(self.sentence)
        self.below.addWidget(self.weeks)

    def check(self) -> None:
        super().check()
        found = told(self.column, self.text(), self._today, self._holidays)
        found = Told("") if self.problem.text() or not self.text().strip() else found
        self.sentence.setText(found.says)
        self.sentence.setVisible(bool(found.says))
        self.weeks.show_days(found.days)


class TwoWeeks(QWidget):
    """Fourteen small fields, a week a row; colour and word say whether a day is open, shut or unknown."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 2, 0, 2)
        grid.setSpacing(2)
        self.cells: list[QLabel] = []
        for number in range(2 * WEEK):
            cell = label()
            cell.setAlignment(Qt.AlignmentFlag.AlignCenter)
            cell.setMinimumWidth(20)
            grid.addWidget(cell, number // WEEK, number % WEEK)
            grid.setColumnStretch(number % WEEK, 1)
            self.cells.append(cell)
        self.hide()

    def show_days(self, days: tuple[DayTold, ...]) -> None:
        """Show these days, or nothing."""
        self.setVisible(bool(days))
        theme = current_theme()
        for cell, day in zip(self.cells, days, strict=False):
            # Narrow, so the month is left to the tip and a span stands in two lines.
            short = day.says.replace(" to ", "–\n").replace(" and ", "\n")
            cell.setText(f"{' '.join(day.day.split()[:2])}\n{short}")
            cell.setToolTip(f"{day.day}: {day.says}")
            cell.setAccessibleName(f"{day.day}: {day.says}")
            token = {True: "good", False: "stone", None: "warn"}[day.open]
            cell.setStyleSheet(
                f"background: {getattr(theme, token + '_fill')}; color: {theme.ink}; "
                "border-radius: 3px; padding: 2px; font-size: 8pt;"
            )


def editor_for(
    sheet: SheetKind,
    column: Column,
    names: Mapping[str, Mapping[str, str]],
    today: date,
    holidays: Holidays,
) -> FieldEditor:
    """The editor that suits a field."""
    choices = choices_of(sheet, column, names)
    if choices or column.refers or column.name == "subject":
        return ChoiceEditor(column, choices, may_be_empty=empty_is_meant(sheet, column))
    if checks_a_calendar(column):
        return CalendarEditor(column, today, holidays)
    return LongEditor(column) if column.name in LONG else LineEditor(column)
