"""What a cell may hold: one small class a sort of value, each of which reads and writes the same text.

Whatever a file gives (text, number, date) becomes text first, so that a date in a workbook and the same
date typed into a CSV file are read by the same code. `read` of what `write` gave returns the same value.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime, time
from decimal import Decimal, InvalidOperation
from enum import StrEnum
from typing import Any

from lacet.days.opening import opening
from lacet.days.seasons import season
from lacet.intake.problems import CellRefused
from lacet.tracks.gpx_words import fit
from lacet.trip.errors import LacetError

LIST_MARK = ";"
_LONGEST_SHOWN = 40
_YES, _NO = frozenset({"yes", "y", "true"}), frozenset({"no", "n", "false"})
_GROUPED = re.compile(r"[+-]?\d{1,3},\d{3}")
_CLOCKS = re.compile(r"([01]?\d|2[0-4]):([0-5]\d)(?:\s*-\s*([01]?\d|2[0-4]):([0-5]\d))?")
_DAY_FIRST = re.compile(r"(\d{1,2})[./](\d{1,2})[./](\d{4})")
_SLUG = re.compile(r"[^\s;|,]+")


def as_text(raw: Any) -> str:
    """What a file gives for a cell as the text a person would have typed."""
    if raw is None:
        return ""
    if isinstance(raw, bool):
        return "yes" if raw else "no"
    if isinstance(raw, float):
        return str(int(raw)) if raw.is_integer() and abs(raw) < 1e15 else repr(raw)
    if isinstance(raw, datetime):
        return raw.date().isoformat() if raw.time() == time() else raw.isoformat(" ", "minutes")
    if isinstance(raw, time):
        return raw.isoformat("minutes")
    return str(raw).strip()


def shown(text: str) -> str:
    """A cell's text as a sentence quotes it."""
    return f"'{text[:_LONGEST_SHOWN]}…'" if len(text) > _LONGEST_SHOWN else f"'{text}'"


@dataclass(frozen=True, slots=True)
class Text:
    """Any text; signs that hide or turn text are left out, as from a GPX file."""

    expects: str = "text"

    def read(self, text: str, comma: bool = False) -> Any:
        return fit(text)

    def write(self, value: Any) -> str:
        return str(value)


@dataclass(frozen=True, slots=True)
class Id:
    """A short name without spaces that never changes: the key by which a row is found again."""

    expects: str = "an id such as quay-house: no spaces, commas or semicolons"

    def read(self, text: str, comma: bool = False) -> str:
        if not _SLUG.fullmatch(text) or fit(text) != text:
            raise CellRefused(f"{shown(fit(text))} can't be an id; write it like quay-house.")
        return text

    def write(self, value: str) -> str:
        return value


@dataclass(frozen=True, slots=True)
class Number:
    """A number within bounds. `scale` is what one in the cell is in the item (1000 = cell in km)."""

    unit: str = ""
    low: float | None = None
    high: float | None = None
    whole: bool = False
    scale: int = 1

    @property
    def expects(self) -> str:
        sort = "a whole number" if self.whole else "a number"
        return f"{sort} of {self.unit}" if self.unit else sort

    def read(self, text: str, comma: bool = False) -> float | int:
        number = decimal_of(text, comma, self.expects)
        self._refuse_outside(text, number)
        if self.whole:
            if number != number.to_integral_value():
                raise CellRefused(f"{shown(text)} isn't a whole number.")
            return int(number)
        return float(number * self.scale)

    def write(self, value: float) -> str:
        number = Decimal(repr(value)) / self.scale
        # A plain form, since programs read 1E+3 in different ways.
        plain = format(number, "f")
        return plain.rstrip("0").rstrip(".") if "." in plain else plain

    def _refuse_outside(self, text: str, number: Decimal) -> None:
        low, high = self.low, self.high
        if (low is None or number >= Decimal(repr(low))) and (high is None or number <= Decimal(repr(high))):
            return
        between = f"between {low:g} and {high:g}" if None not in (low, high) else f"at least {low:g}"
        unit = f" {self.unit}" if self.unit else ""
        raise CellRefused(f"{shown(text)} is outside what can be; it should be {between}{unit}.")


@dataclass(frozen=True, slots=True)
class Amount:
    """A decimal amount of money, exact."""

    expects: str = "an amount without its currency, such as 12.50"

    def read(self, text: str, comma: bool = False) -> Decimal:
        amount = decimal_of(text, comma, self.expects)
        if amount < 0:
            raise CellRefused(f"{shown(text)} is below zero; write what is charged.")
        return amount

    def write(self, value: Decimal) -> str:
        return format(value, "f")


@dataclass(frozen=True, slots=True)
class YesNo:
    """yes or no; an empty cell = nobody has said."""

    expects: str = "yes or no"

    def read(self, text: str, comma: bool = False) -> bool:
        word = text.casefold()
        if word not in _YES | _NO:
            raise CellRefused(f"{shown(text)} isn't yes or no; leave it empty if nobody knows.")
        return word in _YES

    def write(self, value: bool) -> str:
        return "yes" if value else "no"


@dataclass(frozen=True, slots=True)
class Word:
    """One word of a closed vocabulary."""

    words: type[StrEnum]

    @property
    def expects(self) -> str:
        return f"one of {', '.join(self.words)}"

    def read(self, text: str, comma: bool = False) -> StrEnum:
        try:
            return self.words(re.sub(r"[\s-]+", "_", text.casefold()))
        except ValueError:
            raise CellRefused(f"{shown(text)} isn't {self.expects}.") from None

    def write(self, value: StrEnum) -> str:
        return value.value


@dataclass(frozen=True, slots=True)
class Day:
    """A date."""

    expects: str = "a date such as 2027-05-08"

    def read(self, text: str, comma: bool = False) -> date:
        try:
            return date.fromisoformat(text)
        except ValueError:
            pass
        found = _DAY_FIRST.fullmatch(text)
        if found is None:
            raise CellRefused(f"{shown(text)} isn't a date; write it as 2027-05-08.")
        first, second, year = (int(part) for part in found.groups())
        # With dots the day comes first everywhere; with slashes it depends on who wrote it.
        if "/" in text and first <= 12 and second <= 12 and first != second:
            raise CellRefused(f"{shown(text)} may be read in two ways; write it as 2027-05-08.")
        day, month = (first, second) if second <= 12 else (second, first)
        try:
            return date(year, month, day)
        except ValueError:
            raise CellRefused(f"There is no day {shown(text)}; write it as 2027-05-08.") from None

    def write(self, value: date) -> str:
        return value.isoformat()


@dataclass(frozen=True, slots=True)
class Clocks:
    """A clock time or two, kept as text: 15:00-21:00, or 15:00 for 'from then on'."""

    expects: str = "clock times such as 15:00-21:00"

    def read(self, text: str, comma: bool = False) -> str:
        plain = text.replace("–", "-").replace("—", "-")
        found = _CLOCKS.fullmatch(plain)
        if found is None:
            raise CellRefused(f"{shown(text)} isn't {self.expects}.")
        parts = [part for part in found.groups() if part is not None]
        clocks = [f"{int(hour):02}:{minute}" for hour, minute in zip(parts[::2], parts[1::2], strict=True)]
        return "-".join(clocks)

    def write(self, value: str) -> str:
        return value


@dataclass(frozen=True, slots=True)
class Checked:
    """A text in a small language of its own, kept as typed after its reader has understood it."""

    expects: str
    understand: Callable[[str], object]

    def read(self, text: str, comma: bool = False) -> str:
        try:
            self.understand(text)
        except LacetError as refusal:
            raise CellRefused(str(refusal)) from refusal
        return text

    def write(self, value: str) -> str:
        return value


@dataclass(frozen=True, slots=True)
class Many:
    """Several values of one sort in one cell."""

    each: Any
    mark: str = LIST_MARK

    @property
    def expects(self) -> str:
        return f"{self.each.expects}; several with '{self.mark}' between"

    def read(self, text: str, comma: bool = False) -> tuple[Any, ...]:
        parts = (part.strip() for part in text.split(self.mark))
        return tuple(self.each.read(part, comma) for part in parts if part)

    def write(self, value: tuple[Any, ...]) -> str:
        return f"{self.mark} ".join(self.each.write(part) for part in value)


SEASON = Checked("a season such as 11-01..03-15, 2027-04-10..2027-05-02 or Mo", season)
SEASONS = Many(SEASON, "|")
OPENING = Checked("opening hours in the OpenStreetMap form, such as Tu-Su 18:00-22:00; PH off", opening)


def decimal_of(text: str, comma: bool, expects: str) -> Decimal:
    """The number a person typed, with a decimal point or comma and perhaps groups of thousands.

    Parameters
    ----------
    comma
        Whether a lone comma can only be a decimal one (in a file that doesn't use it between cells).

    Raises
    ------
    CellRefused
    """
    plain = re.sub(r"(?<=\d)[\s\u00a0\u202f'](?=\d{3})", "", text).replace("−", "-")
    if "," in plain and "." in plain:
        grouping, point = (",", ".") if plain.rindex(".") > plain.rindex(",") else (".", ",")
        plain = plain.replace(grouping, "").replace(point, ".")
    elif _GROUPED.fullmatch(plain) and not comma:
        raise CellRefused(
            f"{shown(text)} may be read in two ways; write {plain.replace(',', '')} or "
            f"{plain.replace(',', '.')}."
        )
    else:
        plain = plain.replace(",", ".")
    try:
        number = Decimal(plain)
    except InvalidOperation:
        raise CellRefused(f"{shown(text)} isn't {expects}; write the figure alone.") from None
    if not number.is_finite() or number.adjusted() > 30:
        raise CellRefused(f"{shown(text)} isn't {expects}; write the figure alone.")
    return number
