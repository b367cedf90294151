"""Workbooks that help whoever fills them in: notes at the headers, drop-downs, a sheet that explains."""

from collections.abc import Iterable
from enum import StrEnum
from typing import Any

from openpyxl import Workbook
from openpyxl.cell import Cell
from openpyxl.comments import Comment
from openpyxl.styles import Font, PatternFill
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation

from lacet.intake.cells import Amount, Day, Number, YesNo
from lacet.intake.columns import Column, SheetKind
from lacet.intake.kinds import KINDS

ROWS_WITH_CHOICES = 2_000
_NARROWEST, _WIDEST = 10, 40
_REQUIRED = PatternFill("solid", fgColor="FFE8D5B0")
_OTHER = PatternFill("solid", fgColor="FFE7ECEA")
# A list written into a cell's rule may have 255 characters.
_LONGEST_LIST = 250


def new_workbook() -> Workbook:
    """A workbook without sheets."""
    book = Workbook()
    for sheet in list(book.worksheets):
        book.remove(sheet)
    return book


def fill(book: Workbook, kind: SheetKind, rows: Iterable[tuple[str, ...]]) -> None:
    """Add a kind's sheet: headers with notes and drop-downs, then rows of text."""
    sheet = book.create_sheet(kind.name)
    sheet.freeze_panes = "A2"
    for index, column in enumerate(kind.written, start=1):
        _head(sheet, index, column)
    for number, row in enumerate(rows, start=2):
        for index, text in enumerate(row, start=1):
            if text:
                _put(sheet.cell(number, index), kind.written[index - 1], text)


def explain(book: Workbook) -> None:
    """Add the sheet that tells what goes where."""
    sheet = book.create_sheet("about")
    sheet.column_dimensions["A"].width = 16
    sheet.column_dimensions["B"].width = 90
    lines = [
        ("How to", "Fill in the sheets you have material for; leave the others empty or delete them."),
        ("", "Dark headers must be filled in. Point at a header to read what belongs below it."),
        ("", "Ids tie the sheets together and never change: reading a sheet again updates by id."),
        ("", "An empty cell clears what the library holds; a column that isn't there leaves it as it is."),
        ("", "Write values, not formulas; don't merge cells."),
        *((kind.name, kind.says) for kind in KINDS),
    ]
    for number, (what, says) in enumerate(lines, start=1):
        sheet.cell(number, 1, what).font = Font(bold=True)
        sheet.cell(number, 2, says)


def choices_of(column: Column) -> tuple[str, ...]:
    """The words a column may hold, where it holds one of a few."""
    if isinstance(column.cell, YesNo):
        return ("yes", "no")
    words = getattr(column.cell, "words", None)
    single = isinstance(words, type) and issubclass(words, StrEnum) and not hasattr(column.cell, "make")
    return tuple(words) if single and words is not None else ()


def _head(sheet: Any, index: int, column: Column) -> None:
    cell = sheet.cell(1, index, column.name)
    cell.font = Font(bold=True)
    cell.fill = _REQUIRED if column.required else _OTHER
    needed = "Needed. " if column.required else ""
    note = f"{needed}{column.cell.expects}" + (f"\n{column.says}" if column.says else "")
    cell.comment = Comment(note, "Lacet", width=280, height=110)
    letter = get_column_letter(index)
    sheet.column_dimensions[letter].width = max(_NARROWEST, min(_WIDEST, len(column.name) + 4))
    _offer(sheet, letter, choices_of(column))
    if isinstance(column.cell, Day):
        # Else a spreadsheet program shows a typed date in whatever way its owner's country writes it.
        for number in range(2, 202):
            sheet.cell(number, index).number_format = "yyyy-mm-dd"


def _offer(sheet: Any, letter: str, choices: tuple[str, ...]) -> None:
    listed = ",".join(choices)
    if not choices or len(listed) > _LONGEST_LIST:
        return
    rule = DataValidation(type="list", formula1=f'"{listed}"', allow_blank=True)
    rule.error = f"Choose one of {listed.replace(',', ', ')}"[:250]
    sheet.add_data_validation(rule)
    rule.add(f"{letter}2:{letter}{ROWS_WITH_CHOICES}")


def _put(cell: Cell, column: Column, text: str) -> None:
    if isinstance(column.cell, Number | Amount) and _is_exact(text):
        cell.value = float(text) if "." in text else int(text)
        return
    cell.value = text
    # A text that begins with '=' would otherwise become a formula.
    cell.data_type = "s"


def _is_exact(text: str) -> bool:
    """Whether a workbook's number gives the text back; fifteen digits are all it keeps."""
    return sum(letter.isdecimal() for letter in text) <= 15
