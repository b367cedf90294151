"""Which stage the desk opens on: chosen by a part of its name."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QCompleter, QWidget

from lacet.trip.library import Stage
from lacet.trip.trip import Leg
from lacet.window.dialogs.base import CheckedDialog
from lacet.window.fields import ComboBox
from lacet.window.qt_session import QtSession


class StageChooser(CheckedDialog):
    """A list that is typed into."""

    def __init__(self, stages: Sequence[Stage], now: str = "", parent: QWidget | None = None) -> None:
        super().__init__("Edit a stage", "Open", parent)
        self.box = ComboBox()
        self.box.setAccessibleName("Stage")
        self.box.setEditable(True)
        self.box.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        self.box.setMinimumWidth(420)
        for stage in sorted(stages, key=lambda each: each.name.casefold()):
            self.box.addItem(stage.name, stage.id)
        self.box.setCurrentIndex(max(self.box.findData(now), 0))
        finder = QCompleter(self.box.model(), self.box)
        finder.setFilterMode(Qt.MatchFlag.MatchContains)
        finder.setCompletionMode(QCompleter.CompletionMode.PopupCompletion)
        finder.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        self.box.setCompleter(finder)
        self.form.addRow("Stage", self.box)

    def answer(self) -> str:
        """ValueError when what was typed is no stage's name."""
        index = self.box.findText(self.box.currentText(), Qt.MatchFlag.MatchFixedString)
        if index < 0:
            raise ValueError(
                f"The library has no stage called '{self.box.currentText()}'; choose one of the list."
            )
        return str(self.box.itemData(index))

    @classmethod
    def ask(cls, stages: Sequence[Stage], now: str = "", parent: QWidget | None = None) -> str | None:
        dialog = cls(stages, now, parent)
        return dialog.answer() if dialog.said_yes() else None


def selected_stage(session: QtSession) -> str:
    """The stage of the selected leg, else of the selected day's first; empty when there is none."""
    opened, selection = session.opened, session.selection
    if opened is None or selection.day is None:
        return ""
    legs = [item for item in opened.variant.days[selection.day].items if isinstance(item, Leg)]
    chosen = next((leg for leg in legs if leg.id == selection.item), legs[0] if legs else None)
    return "" if chosen is None else chosen.stage.id
