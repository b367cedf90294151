"""The settings: how figures are said, office, base map, house rules, region; one page each."""

from dataclasses import dataclass
from datetime import date
from enum import IntEnum
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QCompleter,
    QFormLayout,
    QHBoxLayout,
    QLineEdit,
    QRadioButton,
    QVBoxLayout,
    QWidget,
)

from lacet.trip.catalogue import Office
from lacet.trip.errors import LacetError
from lacet.trip.house_rules import HouseRules
from lacet.trip.money import Money
from lacet.trip.region import UNSET, Region
from lacet.window.dialogs.base import CheckedDialog
from lacet.window.dialogs.house_rules import HouseRulesForm
from lacet.window.dialogs.office_form import OfficeForm
from lacet.window.dialogs.region_form import RegionForm
from lacet.window.fields import ComboBox, TabWidget
from lacet.window.file_dialogs import ask_file
from lacet.window.map.base_map import open_base_map
from lacet.window.map.tiles import TileLayer
from lacet.window.parts import label, push_button
from lacet.window.preferences import languages
from lacet.wording import Wording

MAP_FILES = "Maps (*.mbtiles *.tif *.tiff);;All files (*)"
NO_MAP = (
    "Off, the map shows the library's relief and asks the network for nothing. On, it also asks the address "
    "below for pictures of where the map stands, whenever there is a network."
)


class Page(IntEnum):
    """The pages, from the left."""

    FIGURES = 0
    OFFICE = 1
    MAP = 2
    RULES = 3
    REGION = 4


@dataclass(frozen=True, slots=True)
class Settings:
    """All that can be set. `layer` is what was last named, `layer_on` whether it is used.

    `map_file` is a base map on this disk, empty for none; it goes before the layer. `offer` is
    what the library's first position proposes for its region.
    """

    wording: Wording
    office: Office
    layer: TileLayer
    layer_on: bool
    rules: HouseRules
    map_file: str = ""
    region: Region = UNSET
    offer: Region = UNSET


class SettingsDialog(CheckedDialog):
    """Five pages; what can't be kept is told before anything is."""

    def __init__(
        self, now: Settings, example: Money, page: Page = Page.FIGURES, parent: QWidget | None = None
    ) -> None:
        super().__init__("Settings", "Keep", parent)
        self.resize(700, 640)
        self.figures = FiguresPage(now.wording, example)
        self.office = OfficeForm(now.office)
        self.map = MapPage(now.layer, now.layer_on, now.map_file)
        self.rules = HouseRulesForm(now.rules, imperial=now.wording.imperial)
        self.region = RegionForm(now.region, now.offer)
        self._offer = now.offer
        self.pages = TabWidget()
        self.pages.setAccessibleName("Pages")
        for widget, name in (
            (self.figures, "Units and language"),
            (self.office, "Office"),
            (self.map, "Base map"),
            (self.rules, "House rules"),
            (self.region, "Region"),
        ):
            self.pages.addTab(widget, name)
        self.pages.setCurrentIndex(page)
        self.pages.setMinimumHeight(480)
        self.form.addRow(self.pages)

    def answer(self) -> Settings:
        return Settings(
            self.figures.answer(),
            self.office.answer(),
            *self.map.answer(),
            rules=self.rules.answer(),
            map_file=self.map.file_answer(),
            region=self.region.answer(),
            offer=self._offer,
        )

    @classmethod
    def ask(
        cls, now: Settings, example: Money, page: Page = Page.FIGURES, parent: QWidget | None = None
    ) -> Settings | None:
        dialog = cls(now, example, page, parent)
        return dialog.answer() if dialog.said_yes() else None


class FiguresPage(QWidget):
    """Units and language, with an example that follows them."""

    def __init__(self, wording: Wording, example: Money) -> None:
        super().__init__()
        self._example = example
        self.in_metric = QRadioButton("Kilometres and metres")
        self.in_imperial = QRadioButton("Miles and feet")
        (self.in_imperial if wording.imperial else self.in_metric).setChecked(True)
        self.language = ComboBox()
        self.language.setAccessibleName("Language of numbers and dates")
        self.language.setEditable(True)
        self.language.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        for code, name in languages():
            self.language.addItem(name, code)
        self.language.setCurrentIndex(max(self.language.findData(wording.language), 0))
        finder = QCompleter(self.language.model(), self.language)
        self.language.setCompleter(finder)
        finder.setFilterMode(Qt.MatchFlag.MatchContains)
        finder.setCompletionMode(QCompleter.CompletionMode.PopupCompletion)
        self.sample = label(name="Example")
        rows = QFormLayout(self)
        rows.setContentsMargins(12, 12, 12, 12)
        rows.addRow("Units", self.in_metric)
        rows.addRow("", self.in_imperial)
        rows.addRow("Numbers and dates", self.language)
        rows.addRow("Example", self.sample)
        rows.addRow("", label("A proposal has a language of its own; this is for the window.", quiet=True))
        self.in_metric.toggled.connect(lambda _: self._show_example())
        self.language.currentIndexChanged.connect(lambda _: self._show_example())
        self._show_example()

    def answer(self) -> Wording:
        """ValueError when what was typed is no language of the list."""
        index = self.language.findText(self.language.currentText(), Qt.MatchFlag.MatchFixedString)
        if index < 0:
            raise ValueError(f"'{self.language.currentText()}' is none of the languages in the list.")
        return Wording(str(self.language.itemData(index)), imperial=self.in_imperial.isChecked())

    def _show_example(self) -> None:
        said = Wording(str(self.language.currentData()), imperial=self.in_imperial.isChecked())
        parts = (said.day(date(2027, 5, 8)), said.length(13_600), f"↑ {said.height(540)}",
                 said.money(self._example))  # fmt: skip
        self.sample.setText("  ·  ".join(parts))


class MapPage(QWidget):
    """A map file on this disk, and a tile layer by name, address and attribution; off until switched on."""

    def __init__(self, layer: TileLayer, on: bool, file: str = "") -> None:
        super().__init__()
        # A file that was fine and has gone must not keep a person from setting something else.
        self._known = file
        self.file = QLineEdit(file)
        self.file.setAccessibleName("Map file on this disk")
        self.file.setPlaceholderText("none: the map shows the relief")
        self.file.setClearButtonEnabled(True)
        file_row = QHBoxLayout()
        file_row.addWidget(self.file, 1)
        file_row.addWidget(push_button("Choose…", self._choose, "An MBTiles file of pictures, or a GeoTIFF"))
        self.on = QCheckBox("Ask the network for a base map")
        self.on.setChecked(on)
        self.lines = {
            "Name": QLineEdit(layer.name),
            "Address": QLineEdit(layer.url),
            "Attribution": QLineEdit(layer.attribution),
        }
        self.lines["Address"].setPlaceholderText("https://…/{z}/{x}/{y}.png")
        self.lines["Attribution"].setPlaceholderText("as the provider asks to be named")
        explains = label(NO_MAP, quiet=True)
        explains.setWordWrap(True)
        rows = QFormLayout()
        rows.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.ExpandingFieldsGrow)
        rows.addRow("Map file", file_row)
        rows.addRow(self.on)
        for name, line in self.lines.items():
            line.setAccessibleName(name)
            rows.addRow(name, line)
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 12, 12, 12)
        column.addWidget(explains)
        column.addLayout(rows)
        column.addStretch(1)

    def answer(self) -> tuple[TileLayer, bool]:
        """ValueError when it is switched on and can't be used."""
        layer = TileLayer(*(line.text().strip() for line in self.lines.values()))
        if self.on.isChecked() and not layer.usable:
            raise ValueError(
                "The base map needs an address with {z}, {x} and {y} that begins with https:// or http://, "
                "and the provider's attribution."
            )
        return layer, self.on.isChecked()

    def file_answer(self) -> str:
        """The map file; ValueError when it can't be used."""
        named = self.file.text().strip()
        if named and named != self._known:
            try:
                open_base_map(Path(named)).close()
            except LacetError as refusal:
                raise ValueError(str(refusal)) from None
        return named

    def _choose(self) -> None:
        chosen = ask_file(self, "A base map", MAP_FILES)
        if chosen is not None:
            self.file.setText(str(chosen))
