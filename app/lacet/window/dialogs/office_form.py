"""How the operator is named in documents: a form made from the fields of `Office`, and its standing texts."""

from dataclasses import fields, replace
from typing import Any

from PySide6.QtWidgets import (
    QCheckBox,
    QFormLayout,
    QLineEdit,
    QPlainTextEdit,
    QScrollArea,
    QWidget,
)

from lacet.trip.catalogue import Office
from lacet.window.fields import ComboBox
from lacet.window.parts import label

TEXTS = "texts"
LONG = frozenset(("address",))
LONG_HEIGHT = 64
TEXT_HEIGHT = 130
# What a proposal asks for, as its reader would call it; more stand in whatever the office wrote already.
KINDS = {
    "welcome": "Welcome",
    "included": "What is included",
    "not_included": "What is not included",
    "say_yes": "How to book",
    "price": "Taxes and fees in the price",
    "payment": "Payment",
    "terms": "Terms",
    "cancellation": "If guests withdraw",
    "insurance": "Insurance",
    "organiser_guarantee": "Guarantee against insolvency",
    "passport": "Passport and visa",
    "health": "Health",
    "mobility": "Reduced mobility",
    "minimum": "Number of guests",
    "group": "Travelling in a group",
    "language": "Language",
    "baggage": "Baggage",
    "cautions": "Cautions",
}


class OfficeForm(QScrollArea):
    """A line for each plain field; one box for all texts, of which one is shown at a time."""

    def __init__(self, office: Office) -> None:
        super().__init__()
        self.office = office
        self.editors: dict[str, QLineEdit | QPlainTextEdit | QCheckBox] = {}
        self.texts = dict(office.texts)
        inner = QWidget()
        self.rows = QFormLayout(inner)
        self.rows.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.ExpandingFieldsGrow)
        for each in fields(Office):
            value = getattr(office, each.name)
            if isinstance(value, str | bool):
                self._add(each.name, str(each.metadata.get("says", "")), value)
        self._add_texts()
        self.setWidgetResizable(True)
        self.setWidget(inner)
        self.setFrameShape(QScrollArea.Shape.NoFrame)

    def answer(self) -> Office:
        """The office as it now stands."""
        self._keep_text()
        changed: dict[str, Any] = {name: _value(editor) for name, editor in self.editors.items()}
        known = dict(self.office.texts)
        texts = tuple((kind, text) for kind, text in self.texts.items() if text or kind in known)
        return replace(self.office, texts=texts, **changed)

    def _add(self, name: str, says: str, value: str | bool) -> None:
        editor: QLineEdit | QPlainTextEdit | QCheckBox
        if isinstance(value, bool):
            editor = QCheckBox()
            editor.setChecked(value)
        elif name in LONG:
            editor = QPlainTextEdit(value)
            editor.setTabChangesFocus(True)
            editor.setFixedHeight(LONG_HEIGHT)
        else:
            editor = QLineEdit(value)
        words = says or name.replace("_", " ").capitalize()
        editor.setAccessibleName(words)
        self.editors[name] = editor
        self.rows.addRow(words, editor)

    def _add_texts(self) -> None:
        self.kind = ComboBox()
        self.kind.setAccessibleName("Which text")
        kinds = _kinds()
        for kind, says in kinds.items():
            self.kind.addItem(says, kind)
        for kind in self.texts:
            if kind not in kinds:
                self.kind.addItem(kind.replace("_", " ").capitalize(), kind)
        self.text = QPlainTextEdit()
        self.text.setAccessibleName("The text")
        self.text.setTabChangesFocus(True)
        self.text.setMinimumHeight(TEXT_HEIGHT)
        self._shown = str(self.kind.currentData())
        self.text.setPlainText(self.texts.get(self._shown, ""))
        self.kind.currentIndexChanged.connect(lambda _: self._show_text())
        self.rows.addRow("Text for proposals", self.kind)
        self.rows.addRow("", self.text)
        self.rows.addRow("", label("Left empty, a text is left out; nothing is invented.", quiet=True))

    def _show_text(self) -> None:
        self._keep_text()
        self._shown = str(self.kind.currentData())
        self.text.setPlainText(self.texts.get(self._shown, ""))

    def _keep_text(self) -> None:
        self.texts[self._shown] = self.text.toPlainText().strip()


def _kinds() -> dict[str, str]:
    """Every text by its key, then each again for readers of the other languages of documents."""
    # Babel, which knows the languages, is no part of what every dialog needs.
    from lacet.documents.language import languages
    from lacet.language.language import SOURCE_LANGUAGE

    others = [(tag, name) for tag, name in languages() if tag != SOURCE_LANGUAGE]
    translated = {f"{kind}.{tag}": f"{says} ({name})" for tag, name in others for kind, says in KINDS.items()}
    return KINDS | translated


def _value(editor: QLineEdit | QPlainTextEdit | QCheckBox) -> str | bool:
    if isinstance(editor, QCheckBox):
        return editor.isChecked()
    return (editor.text() if isinstance(editor, QLineEdit) else editor.toPlainText()).strip()
