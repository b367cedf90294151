"""Settings: the house rules, made from their own descriptions."""

from dataclasses import fields, replace
from typing import Any

from PySide6.QtWidgets import QCheckBox, QFormLayout, QLineEdit, QScrollArea, QWidget

from lacet.trip.house_rules import HouseRules
from lacet.window.dialogs.base import CheckedDialog
from lacet.window.parts import label

EDITOR_WIDTH = 110
LABEL_WIDTH = 500
Editable = int | float | str | bool | None


class HouseRulesDialog(CheckedDialog):
    """One field a rule, with its unit and meaning; a rule out of its bounds is told before it is kept."""

    def __init__(self, rules: HouseRules, parent: QWidget | None = None) -> None:
        super().__init__("House rules", "Keep", parent)
        self.resize(700, 620)
        self.rules = rules
        self.editors: dict[str, QWidget] = {}
        inner = QWidget()
        form = QFormLayout(inner)
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.FieldsStayAtSizeHint)
        for rule in fields(HouseRules):
            value = getattr(rules, rule.name)
            if not isinstance(value, int | float | str | bool | None):
                continue
            unit = rule.metadata["unit"]
            editor: QWidget = QCheckBox() if isinstance(value, bool) else QLineEdit(_text(value))
            if isinstance(editor, QCheckBox):
                editor.setChecked(bool(value))
            editor.setFixedWidth(EDITOR_WIDTH)
            editor.setAccessibleName(rule.metadata["says"])
            self.editors[rule.name] = editor
            says = label(f"{rule.metadata['says']}{f' [{unit}]' if unit else ''}")
            says.setWordWrap(True)
            says.setFixedWidth(LABEL_WIDTH)
            form.addRow(says, editor)
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setWidget(inner)
        scroll.setMinimumHeight(460)
        self.form.addRow(scroll)

    def answer(self) -> HouseRules:
        """The rules as they now stand.

        Raises
        ------
        ValueError
            When a field can't be read or is out of its bounds; the sentence says which.
        """
        changed: dict[str, Any] = {name: self._read(name, editor) for name, editor in self.editors.items()}
        return replace(self.rules, **changed)

    def _read(self, name: str, editor: QWidget) -> Editable:
        before: Any = getattr(self.rules, name)
        rule = next(rule for rule in fields(HouseRules) if rule.name == name)
        says = rule.metadata["says"]
        if isinstance(editor, QCheckBox):
            return editor.isChecked()
        assert isinstance(editor, QLineEdit)
        text = editor.text().strip()
        if isinstance(before, str):
            return text
        if not text and "None" in str(rule.type):
            return None
        try:
            value = float(text.replace(",", "."))
        except ValueError:
            raise ValueError(f"{says}: '{text}' is not a number.") from None
        low, high = rule.metadata["low"], rule.metadata["high"]
        if (low is not None and value < low) or (high is not None and value > high):
            raise ValueError(f"{says}: {text} is not between {low} and {high}.")
        return int(value) if isinstance(before, int) else value

    @classmethod
    def ask(cls, rules: HouseRules, parent: QWidget | None = None) -> HouseRules | None:
        dialog = cls(rules, parent)
        return dialog.answer() if dialog.said_yes() else None


def _text(value: Editable) -> str:
    return "" if value is None else f"{value:g}" if isinstance(value, float) else str(value)
