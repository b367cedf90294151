"""How the region reckons: what is said, and beside it what the library's first position proposes."""

from collections.abc import Iterable
from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QCompleter,
    QFormLayout,
    QGridLayout,
    QLineEdit,
    QPlainTextEdit,
    QScrollArea,
    QWidget,
)

from lacet.days.region import (
    checked,
    country_names,
    currency_names,
    emergency_number,
)
from lacet.days.zones import zone_names
from lacet.trip.errors import LacetError
from lacet.trip.region import UNKIND_C, EmergencyNumber, Region
from lacet.window.dialogs.base import CheckedDialog
from lacet.window.parts import label, push_button

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
SHORT_TEXT_PX = 58
EXPLAINS = (
    "What is left empty isn't guessed. Without a time zone there is no sunset and no calendar; without public"
    " holidays, hours that hang on them aren't known; without a currency there is no price, without a number"
    " no emergency line in documents."
)
TYPED = {
    "zone": ("Time zone", "such as Atlantic/Azores"),
    "currency": ("Currency", "such as EUR"),
    "country": ("Country of the public holidays", "such as PT"),
    "subdivision": ("Part of the country", "where it has holidays of its own, such as 20"),
}


class RegionForm(QScrollArea):
    """A line for each thing; lists hold one to a line."""

    def __init__(self, region: Region, offer: Region) -> None:
        super().__init__()
        self._offer = offer
        self._before = region
        inner = QWidget()
        self.rows = QFormLayout(inner)
        self.rows.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.ExpandingFieldsGrow)
        explains = label(EXPLAINS, quiet=True)
        explains.setWordWrap(True)
        self.rows.addRow(explains)
        self.lines = {name: self._line(*TYPED[name]) for name in TYPED}
        self.holidays = self._lines("Own public holidays", "a line each: 05-01 Labour Day")
        self.numbers = self._lines("Emergency numbers", "112, or with what for: 140 mountain rescue")
        self.months = [self._month(name) for name in MONTHS]
        self._lay_months()
        self.height_m = self._line("Measured at", "metres above the sea")
        self._complete()
        self._propose()
        self._show(region)
        self.setWidgetResizable(True)
        self.setWidget(inner)
        self.setFrameShape(QScrollArea.Shape.NoFrame)

    def answer(self) -> Region:
        """The region as it now stands; ValueError says what isn't known."""
        try:
            return checked(self._typed())
        except LacetError as refusal:
            raise ValueError(str(refusal)) from None

    def take_proposed(self) -> None:
        """Write what is proposed into the fields that are empty; it holds once the form is kept."""
        offer = self._offer
        for name, value in (("zone", offer.zone), ("currency", offer.currency)):
            if not self.lines[name].text().strip():
                self.lines[name].setText(value or "")
        if not (self.lines["country"].text().strip() or self.holidays.toPlainText().strip()):
            self.lines["country"].setText(offer.country or "")
        if not self.numbers.toPlainText().strip():
            self.numbers.setPlainText("\n".join(map(_said, offer.emergency_numbers)))

    def _typed(self) -> Region:
        text = {name: line.text().strip() for name, line in self.lines.items()}
        return replace(
            self._before,
            zone=text["zone"] or None,
            currency=text["currency"].upper() or None,
            country=_code(text["country"]),
            subdivision=text["subdivision"],
            holidays=tuple(_each_line(self.holidays)),
            emergency_numbers=tuple(map(emergency_number, _each_line(self.numbers))),
            monthly_temperature_c=self._temperatures(),
            temperature_height_m=_number(self.height_m.text(), "height"),
        )

    def _temperatures(self) -> tuple[float | None, ...]:
        said = tuple(_number(line.text(), name) for line, name in zip(self.months, MONTHS, strict=True))
        return () if all(each is None for each in said) else said

    def _show(self, region: Region) -> None:
        for name, line in self.lines.items():
            line.setText(getattr(region, name) or "")
        self.holidays.setPlainText("\n".join(region.holidays))
        self.numbers.setPlainText("\n".join(map(_said, region.emergency_numbers)))
        for line, value in zip(self.months, region.monthly_temperature_c or (None,) * 12, strict=True):
            line.setText("" if value is None else f"{value:g}")
        height = region.temperature_height_m
        self.height_m.setText("" if height is None else f"{height:g}")

    def _propose(self) -> None:
        """Beside the fields, never in them: a proposal isn't in force."""
        offered = [self._offer.zone, self._offer.currency, self._offer.country]
        offered += [_said(each) for each in self._offer.emergency_numbers]
        said = ", ".join(each for each in offered if each)
        if said:
            told = label(f"The library's first position proposes: {said}.", "What is proposed")
            told.setWordWrap(True)
            take = push_button("Take what is proposed", self.take_proposed, "Fills the fields that are empty")
            self.rows.insertRow(1, told)
            self.rows.insertRow(2, "", take)
        else:
            nothing = "Nothing is proposed: the library has no position on land yet."
            self.rows.insertRow(1, label(nothing, "What is proposed", quiet=True))

    def _line(self, words: str, example: str) -> QLineEdit:
        made = QLineEdit()
        made.setAccessibleName(words)
        made.setPlaceholderText(f"not set, {example}")
        self.rows.addRow(words, made)
        return made

    def _lines(self, words: str, example: str) -> QPlainTextEdit:
        made = QPlainTextEdit()
        made.setAccessibleName(words)
        made.setPlaceholderText(f"not set, {example}")
        made.setTabChangesFocus(True)
        made.setFixedHeight(SHORT_TEXT_PX)
        self.rows.addRow(words, made)
        return made

    def _month(self, name: str) -> QLineEdit:
        made = QLineEdit()
        made.setAccessibleName(f"Daytime temperature in {name}, degrees Celsius")
        made.setPlaceholderText("–")
        return made

    def _lay_months(self) -> None:
        box = QWidget()
        grid = QGridLayout(box)
        grid.setContentsMargins(0, 0, 0, 0)
        for index, (name, line) in enumerate(zip(MONTHS, self.months, strict=True)):
            grid.addWidget(label(name, quiet=True), index // 6 * 2, index % 6)
            grid.addWidget(line, index // 6 * 2 + 1, index % 6)
        self.rows.addRow("Daytime temperature, °C", box)
        why = f"Batteries are reckoned with these; in a month left empty with {UNKIND_C:.0f} °C."
        self.rows.addRow("", label(why, quiet=True))

    def _complete(self) -> None:
        for name, known in (
            ("zone", sorted(zone_names())),
            ("currency", sorted(currency_names())),
            ("country", sorted(country_names())),
        ):
            finder = QCompleter(known, self.lines[name])
            finder.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
            finder.setFilterMode(Qt.MatchFlag.MatchContains)
            self.lines[name].setCompleter(finder)


class RegionDialog(CheckedDialog):
    """Asked for with a new library; what is left for later isn't proved until then."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("Where is the new library?", "Set", parent)
        self.resize(720, 680)
        self.fields = RegionForm(Region(), Region())
        self.fields.setMinimumHeight(440)
        self.form.addRow(self.fields)
        self.buttons.button(self.buttons.StandardButton.Cancel).setText("Later")

    def answer(self) -> Region:
        return self.fields.answer()

    @classmethod
    def ask(cls, parent: QWidget | None = None) -> Region:
        """The region as it was said; nothing set where it was left for later."""
        dialog = cls(parent)
        return dialog.answer() if dialog.said_yes() else Region()


def _code(typed: str) -> str | None:
    return (typed.upper() if len(typed) == 2 else typed) or None


def _each_line(field: QPlainTextEdit) -> Iterable[str]:
    return filter(None, map(str.strip, field.toPlainText().splitlines()))


def _said(number: EmergencyNumber) -> str:
    return f"{number.number} {number.what_for}".strip()


def _number(typed: str, what: str) -> float | None:
    """A number with a point or a comma; None where nothing was typed."""
    plain = typed.strip().replace(",", ".").replace("−", "-")
    if not plain:
        return None
    try:
        found = float(plain)
    except ValueError:
        found = float("nan")
    if not -100 <= found <= 9000:
        raise ValueError(f"{what}: '{typed}' isn't a number; write it as 12 or 12.5.")
    return found
