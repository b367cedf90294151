"""A sheet as it lies in a file: headers and rows of text, before anybody knows what they mean."""

from collections.abc import Iterable
from dataclasses import dataclass

from lacet.trip.errors import LacetError

MOST_ROWS = 200_000
MOST_COLUMNS = 200
LONGEST_CELL = 32_767
HEADER_WITHIN_ROWS = 20


class SheetRefused(LacetError):
    """A file that is no sheet, is damaged, or is meant to do harm."""


@dataclass(frozen=True, slots=True)
class Formula:
    """A cell that holds a formula: what it comes to is the spreadsheet program's knowledge, not ours."""

    text: str


Cell = str | Formula


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """One sheet.

    Parameters
    ----------
    rows
        Number of the row in the file (from 1) and its cells; empty rows are left out.
    lone_comma
        Whether a lone comma within a number can only be a decimal one.
    merged
        Ranges of merged cells, such as "A3:B3".
    notes
        What a person should know about how the file was read.
    """

    file: str
    sheet: str
    name: str
    rows: Iterable[tuple[int, tuple[Cell, ...]]]
    lone_comma: bool = False
    merged: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


def refuse_long(file: str, number: int, cells: tuple[Cell, ...]) -> None:
    """Refuse what no sheet of a library can be."""
    if number > MOST_ROWS:
        raise SheetRefused(
            "{file} has more than {most_rows:,} rows; split it.", file=file, most_rows=MOST_ROWS
        )
    if len(cells) > MOST_COLUMNS:
        raise SheetRefused(
            "{file}, row {number}: more than {most_columns} columns; is the delimiter right?",
            file=file,
            number=number,
            most_columns=MOST_COLUMNS,
        )
    if any(isinstance(cell, str) and len(cell) > LONGEST_CELL for cell in cells):
        raise SheetRefused(
            "{file}, row {number}: a cell is longer than {longest_cell:,} characters.",
            file=file,
            number=number,
            longest_cell=LONGEST_CELL,
        )
