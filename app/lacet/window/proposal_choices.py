"""What can be chosen for a proposal: language, units, paper, the office's look, and whether it is a draft."""

from pathlib import Path

from PySide6.QtCore import QSettings, Signal
from PySide6.QtWidgets import QCheckBox, QFormLayout, QHBoxLayout, QWidget

from lacet.documents.language import language, languages
from lacet.documents.typeset.setting import Paper
from lacet.documents.typeset.theme import OURS, Theme, ThemeRefused, read_theme
from lacet.language import Language
from lacet.window.fields import ComboBox
from lacet.window.file_dialogs import ask_file
from lacet.window.parts import ElidedButton, tool_button

UNITS = (("metric", "Kilometres and metres"), ("imperial", "Miles and feet"))
PAPERS = ((Paper.A4, "A4"), (Paper.LETTER, "US Letter"))
_THEME = "documents/theme"


class ProposalChoices(QWidget):
    """A form; `changed` whenever a choice does, `refused` with a sentence when a look can't be used."""

    changed = Signal()
    refused = Signal(str)

    def __init__(self, *, imperial: bool, may_be_offered: bool) -> None:
        super().__init__()
        self.language = ComboBox()
        for tag, name in languages():
            self.language.addItem(name, tag)
        self.language.setCurrentIndex(max(self.language.findData("en"), 0))
        self.units = ComboBox()
        for key, says in UNITS:
            self.units.addItem(says, key)
        self.units.setCurrentIndex(1 if imperial else 0)
        self.papers = ComboBox()
        for each, says in PAPERS:
            self.papers.addItem(says, each)
        self.theme: Theme = OURS
        self.look = ElidedButton(self.choose_look)
        self.look.setFlat(False)
        self.draft = QCheckBox("Mark it as a draft")
        if not may_be_offered:
            self.draft.setChecked(True)
            self.draft.setEnabled(False)
            self.draft.setText("A draft: something still stops it")
        self._lay_out()
        kept = str(QSettings().value(_THEME, ""))
        if kept:
            self._try(Path(kept))
        self._name_look()
        for box in (self.language, self.units):
            box.currentIndexChanged.connect(lambda _: self.changed.emit())
        self.draft.toggled.connect(lambda _: self.changed.emit())

    def _lay_out(self) -> None:
        form = QFormLayout(self)
        form.setContentsMargins(0, 0, 0, 0)
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.ExpandingFieldsGrow)
        form.addRow("Language", self.language)
        form.addRow("Units", self.units)
        form.addRow("Paper", self.papers)
        row = QHBoxLayout()
        row.addWidget(self.look, 1)
        row.addWidget(tool_button("Reset", "Take the look that Lacet brings", self.take_ours))
        form.addRow("Look", row)
        form.addRow("", self.draft)

    @property
    def speech(self) -> Language:
        """Language and units as chosen."""
        imperial = self.units.currentData() == "imperial"
        return language(str(self.language.currentData()), imperial=imperial)

    @property
    def paper(self) -> Paper:
        """The size of the PDF's pages."""
        return Paper(self.papers.currentData())

    def choose_look(self) -> None:
        """Ask for a theme's file."""
        chosen = ask_file(self, "The office's look", "Themes (*.toml)")
        if chosen is not None:
            self.take_look(chosen)

    def take_look(self, path: Path) -> bool:
        """Use a theme's file from now on; a refusal is told and changes nothing."""
        if not self._try(path):
            return False
        QSettings().setValue(_THEME, str(path))
        self._name_look(path)
        self.changed.emit()
        return True

    def take_ours(self) -> None:
        """Back to the look that Lacet brings."""
        QSettings().remove(_THEME)
        self.theme = OURS
        self._name_look()
        self.changed.emit()

    def _try(self, path: Path) -> bool:
        try:
            self.theme = read_theme(path)
        except ThemeRefused as refusal:
            self.refused.emit(str(refusal))
            return False
        return True

    def _name_look(self, path: Path | None = None) -> None:
        kept = str(QSettings().value(_THEME, ""))
        named = path.name if path is not None else Path(kept).name if kept and self.theme is not OURS else ""
        self.look.show_text(named or "Lacet's own…")
        self.look.setAccessibleName(f"Look: {named or 'the one that Lacet brings'}; choose another")
