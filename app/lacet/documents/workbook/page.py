"""A workbook being written: safe texts, exact figures, formulas that bring their values along."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Any, TypeAlias

from openpyxl.cell import Cell
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils import get_column_letter, quote_sheetname
from openpyxl.worksheet.datavalidation import DataValidation

from lacet.price.amounts import minor_digits
from lacet.trip.printable import clean

Known: TypeAlias = str | float | int | Decimal

UNKNOWN = "unknown"
DATE_FORMAT = "yyyy-mm-dd"
PLAIN = "General"
SHARE_FORMAT = "0.0 %"
_BEGINS_A_FORMULA = ("=", "+", "-", "@", "\t", "\r")
# XML 1.0, section 2.2, has no other signs; a lone half of a pair has no UTF-8.
_NOT_IN_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_HEAD = PatternFill("solid", fgColor="FFE7ECEA")
_LIVE = PatternFill("solid", fgColor="FFFFF7DC")
_LONGEST_TEXT = 32_767
"""Letters a cell can hold (ECMA-376; the same limit in every spreadsheet program)."""


def in_xml(text: str) -> str:
    """The text with a mark in place of each sign that XML can't hold, without those that aren't printed."""
    # A carriage return is no sign to print, yet a cell holds it and gives it back.
    return "\r".join(map(clean, _NOT_IN_XML.sub("\ufffd", text).split("\r")))


def money_format(currency: str) -> str:
    """A number format with as many decimals as the currency has."""
    digits = minor_digits(currency)
    return "#,##0" + ("." + "0" * digits if digits else "")


@dataclass(slots=True)
class Page:
    """One sheet. Rows and columns count from 1; every writer returns the cell's address within the book."""

    sheet: Any
    values: dict[str, Known] = field(default_factory=dict)

    def text(self, row: int, column: int, says: str, *, bold: bool = False, wrap: bool = False) -> str:
        """A text as it is, whatever it begins with; signs that XML doesn't have are shown as missing."""
        cell = self._cell(row, column)
        cell.value = in_xml(says)[:_LONGEST_TEXT]
        # A text that begins with '=' would otherwise become a formula; and one that begins with a sign
        # would when a person next edits the cell, unless it is marked as quoted.
        cell.data_type = "s"
        if says.startswith(_BEGINS_A_FORMULA):
            cell.quotePrefix = True
        if bold:
            cell.font = Font(bold=True)
        if wrap:
            cell.alignment = Alignment(wrap_text=True, vertical="top")
        return self.address(row, column)

    def number(
        self,
        row: int,
        column: int,
        value: Decimal | float | None,
        shown: str = "General",
        *,
        live: bool = False,
    ) -> str:
        """A figure, or 'unknown' where there is none: never an empty cell that counts as zero.

        `live` marks the cell as one to play with: other cells follow it.
        """
        if value is None:
            return self._unknown(row, column)
        cell = self._cell(row, column)
        cell.value = value
        cell.number_format = shown
        if live:
            cell.fill = _LIVE
        return self.address(row, column)

    def day(self, row: int, column: int, on: date | None) -> str:
        """A date, or nothing."""
        if on is not None:
            self.number(row, column, on, DATE_FORMAT)  # type: ignore[arg-type] # dates are numbers to a sheet
        return self.address(row, column)

    def formula(
        self, row: int, column: int, formula: str, value: Known | None, shown: str = "General"
    ) -> str:
        """A formula (without '=') and what it comes to; None stands for 'unknown'."""
        cell = self._cell(row, column)
        cell.value = f"={formula}"
        cell.number_format = shown
        self.values[cell.coordinate] = UNKNOWN if value is None else value
        return self.address(row, column)

    def offer(self, row: int, column: int, words: Sequence[str]) -> None:
        """Let a cell be one of a few words, and mark it as one to play with."""
        cell = self._cell(row, column)
        cell.fill = _LIVE
        rule = DataValidation(type="list", formula1=f'"{",".join(words)}"', allow_blank=False)
        rule.error = f"Choose {' or '.join(words)}."
        self.sheet.add_data_validation(rule)
        rule.add(cell.coordinate)

    def heads(self, row: int, names: Sequence[str], *, wide: Sequence[float] = ()) -> None:
        """A row of headers, with the widths of their columns."""
        for column, name in enumerate(names, start=1):
            self.text(row, column, name, bold=True)
            self.sheet.cell(row, column).fill = _HEAD
        for column, width in enumerate(wide, start=1):
            self.sheet.column_dimensions[get_column_letter(column)].width = width

    def freeze(self, row: int, column: int = 1) -> None:
        """Keep everything above and left of a cell in sight."""
        self.sheet.freeze_panes = f"{get_column_letter(column)}{row}"

    def address(self, row: int, column: int) -> str:
        """'Lines!$C$7': an address that every sheet of the book understands."""
        return f"{quote_sheetname(self.sheet.title)}!${get_column_letter(column)}${row}"

    def stretch(self, column: int, first: int, last: int) -> str:
        """'Lines!$C$5:$C$30': part of a column."""
        letter = get_column_letter(column)
        return f"{quote_sheetname(self.sheet.title)}!${letter}${first}:${letter}${last}"

    def _unknown(self, row: int, column: int) -> str:
        self.text(row, column, UNKNOWN)
        self.sheet.cell(row, column).alignment = Alignment(horizontal="right")
        return self.address(row, column)

    def _cell(self, row: int, column: int) -> Cell:
        cell: Cell = self.sheet.cell(row, column)
        return cell
