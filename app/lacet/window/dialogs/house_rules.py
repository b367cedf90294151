"""The house rules as a form, made from their own descriptions, in the units a person uses."""

from dataclasses import Field, fields, replace
from typing import Any

from PySide6.QtWidgets import QCheckBox, QComboBox, QFormLayout, QLineEdit, QScrollArea, QWidget

from lacet.service.rule_units import Measure, measure_of
from lacet.trip.house_rules import HouseRules
from lacet.window.dialogs.base import CheckedDialog
from lacet.window.fields import ComboBox
from lacet.window.parts import label

EDITOR_WIDTH = 110
LABEL_WIDTH = 430
WALKING_RULE = "walking_rule"
Editable = int | float | str | bool | None


class HouseRulesForm(QScrollArea):
    """One field a rule, with its unit and meaning."""

    def __init__(self, rules: HouseRules, *, imperial: bool = False) -> None:
        super().__init__()
        self.rules = rules
        self.imperial = imperial
        self.editors: dict[str, QWidget] = {}
        self.source = label(name="Where the walking rule is from", quiet=True)
        self.source.setWordWrap(True)
        inner = QWidget()
        self.rows = QFormLayout(inner)
        self.rows.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.FieldsStayAtSizeHint)
        self.rows.setRowWrapPolicy(QFormLayout.RowWrapPolicy.DontWrapRows)
        for rule in fields(HouseRules):
            if isinstance(getattr(rules, rule.name), int | float | str | bool | None):
                self._add(rule)
        self.setWidgetResizable(True)
        self.setWidget(inner)
        self.setFrameShape(QScrollArea.Shape.NoFrame)

    def answer(self) -> HouseRules:
        """The rules as they now stand.

        Raises
        ------
        ValueError
            When a field can't be read or is out of its bounds; the sentence says which.
        """
        rules = {rule.name: rule for rule in fields(HouseRules)}
        changed: dict[str, Any] = {
            name: self._read(rules[name], editor) for name, editor in self.editors.items()
        }
        return replace(self.rules, **changed)

    def _add(self, rule: Field[Any]) -> None:
        value, says = getattr(self.rules, rule.name), _begun(rule.metadata["says"])
        unit = self._measure(rule).said
        editor = self._editor(rule.name, value, self._measure(rule))
        editor.setAccessibleName(f"{says} [{unit}]" if unit else says)
        self.editors[rule.name] = editor
        told = label(f"{says} [{unit}]" if unit else says)
        told.setWordWrap(True)
        told.setFixedWidth(LABEL_WIDTH)
        if rule.name == WALKING_RULE:
            self.rows.addRow(told)
            self.rows.addRow(editor)
            self.rows.addRow(self.source)
        else:
            self.rows.addRow(told, editor)

    def _editor(self, name: str, value: Editable, measure: Measure) -> QWidget:
        if name == WALKING_RULE:
            return self._walking_rules(str(value))
        if isinstance(value, bool):
            box = QCheckBox()
            box.setChecked(value)
            return box
        line = QLineEdit(_text(value, measure))
        line.setFixedWidth(EDITOR_WIDTH)
        return line

    def _walking_rules(self, chosen: str) -> QComboBox:
        """Every published rule by its name; its source and range stand under the list."""
        # Late: the rules bring numpy's heavier parts, and few starts ask for this form.
        from lacet.effort import walking

        box = ComboBox()
        for rule in walking.RULES:
            box.addItem(rule.name, rule.id)

        def tell(index: int) -> None:
            rule = walking.walking_rule(box.itemData(index))
            self.source.setText(f"{rule.source} – {rule.note}")

        box.currentIndexChanged.connect(tell)
        box.setCurrentIndex(max(box.findData(chosen), 0))
        tell(box.currentIndex())
        return box

    def _measure(self, rule: Field[Any]) -> Measure:
        return measure_of(rule, imperial=self.imperial)

    def _read(self, rule: Field[Any], editor: QWidget) -> Editable:
        before: Editable = getattr(self.rules, rule.name)
        if isinstance(editor, QComboBox):
            return str(editor.currentData())
        if isinstance(editor, QCheckBox):
            return editor.isChecked()
        assert isinstance(editor, QLineEdit)
        text, measure = editor.text().strip(), self._measure(rule)
        # What nobody touched stays exactly as it was, whatever it was rounded to.
        if isinstance(before, str) or text == _text(before, measure):
            return text if isinstance(before, str) else before
        if not text and "None" in str(rule.type):
            return None
        value = _within_bounds(rule, measure, text)
        return round(value) if isinstance(before, int) else value


class HouseRulesDialog(CheckedDialog):
    """The form with its two buttons; a rule out of its bounds is told before it is kept."""

    def __init__(self, rules: HouseRules, *, imperial: bool = False, parent: QWidget | None = None) -> None:
        super().__init__("House rules", "Keep", parent)
        self.resize(640, 620)
        self.rules = HouseRulesForm(rules, imperial=imperial)
        self.rules.setMinimumHeight(460)
        self.form.addRow(self.rules)

    def answer(self) -> HouseRules:
        return self.rules.answer()


def _within_bounds(rule: Field[Any], measure: Measure, text: str) -> float:
    says, low, high = (rule.metadata[key] for key in ("says", "low", "high"))
    try:
        value = measure.read(text)
    except ValueError:
        what = "a time such as 9:30" if measure.said == "h:mm" else "a number"
        raise ValueError(f"{says}: '{text}' is not {what}.") from None
    if (low is not None and value < low) or (high is not None and value > high):
        bounds = [None if end is None else f"{measure.show(end)}" for end in (low, high)]
        unit = "" if measure.said == "h:mm" else f" {measure.said}"
        raise ValueError(f"{says}: {text} is not {_between(*bounds)}{unit}.")
    return value


def _between(low: str | None, high: str | None) -> str:
    if low is None or high is None:
        return f"at least {low}" if high is None else f"at most {high}"
    return f"between {low} and {high}"


def _text(value: Editable, measure: Measure) -> str:
    return "" if value is None else value if isinstance(value, str) else measure.show(value)


def _begun(text: str) -> str:
    """A text that begins a line: its first letter large."""
    return text[:1].upper() + text[1:]
