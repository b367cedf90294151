"""Workbooks reckoned anew by a library that knows spreadsheets and nothing of this program."""

import io
import warnings
from datetime import timedelta
from pathlib import Path
from typing import Any

from openpyxl import load_workbook

with warnings.catch_warnings():
    # The evaluator compares with `is` where `==` is meant; Python says so while compiling it the first time.
    warnings.simplefilter("ignore", SyntaxWarning)
    import formulas  # type: ignore[import-untyped] # it ships no types
    from formulas.functions import get_functions  # type: ignore[import-untyped] # the same

    get_functions()

Cells = dict[tuple[str, str], Any]


def stored(content: bytes) -> Cells:
    """The value that stands beside every formula."""
    shown = load_workbook(io.BytesIO(content), data_only=True)
    return {(sheet, at): _number(shown[sheet][at].value) for sheet, at in formulas_in(content)}


def _number(value: Any) -> Any:
    """Durations are fractions of a day to a sheet."""
    return value / timedelta(days=1) if isinstance(value, timedelta) else value


def formulas_in(content: bytes) -> dict[tuple[str, str], str]:
    """Every formula, by sheet and address."""
    book = load_workbook(io.BytesIO(content))
    return {
        (sheet.title, cell.coordinate): str(cell.value)
        for sheet in book.worksheets
        for row in sheet.iter_rows()
        for cell in row
        if cell.data_type == "f"
    }


def recomputed(content: bytes, folder: Path, changes: dict[tuple[str, str], Any] | None = None) -> Cells:
    """What the formulas come to, with some cells changed first."""
    book = load_workbook(io.BytesIO(content))
    for (sheet, at), value in (changes or {}).items():
        book[sheet][at].value = value
    file = folder / "recomputed.xlsx"
    book.save(file)
    model = formulas.ExcelModel().loads(str(file)).finish()
    solution = model.calculate()
    found = {}
    for sheet, at in formulas_in(content):
        value = solution[f"'[{file.name}]{sheet.upper()}'!{at}"].value[0, 0]
        found[sheet, at] = value if isinstance(value, str) else float(value)
    return found


def rows(content: bytes, sheet: str) -> list[list[Any]]:
    """All rows as a program without formulas shows them."""
    shown = load_workbook(io.BytesIO(content), data_only=True)[sheet]
    return [[cell.value for cell in row] for row in shown.iter_rows()]


def labelled(content: bytes, sheet: str) -> dict[str, str]:
    """Where the first cell beside every label of the first column stands."""
    found: dict[str, str] = {}
    for number, row in enumerate(rows(content, sheet), start=1):
        found.setdefault(str(row[0]), f"B{number}")
    return found


def differences(content: bytes, folder: Path) -> list[Any]:
    """Formulas whose value isn't the one that stands beside them (to a millionth of a coin)."""
    kept, anew = stored(content), recomputed(content, folder)
    assert kept.keys() == anew.keys()
    return [(at, value, anew[at]) for at, value in kept.items() if not same(value, anew[at])]


def same(value: str | float | None, other: str | float | None) -> bool:
    """Whether two values are one, to a millionth of a coin; an empty cell is an empty text."""
    one, two = ("" if each is None else each for each in (value, other))
    if isinstance(one, str) or isinstance(two, str):
        return one == two
    return abs(one - two) < 1e-6
