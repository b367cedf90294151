"""Variants side by side as a workbook: figures with live differences, days lined up, sentences."""

from decimal import Decimal

from lacet.compare.comparison import Comparison
from lacet.compare.figures import Figure, FigureRow
from lacet.documents.side_by_side.values import SideBySide
from lacet.documents.workbook.book import Book
from lacet.documents.workbook.page import UNKNOWN, Page, money_format

_UNITS: dict[str, tuple[str, float, str]] = {
    "count": ("", 1, "0"),
    "length": ("km", 1000, "0.0"),
    "height": ("m", 1, "0"),
    # Not as a clock has it: spreadsheets show a time below zero as a row of hashes.
    "duration": ("h", 3600, "0.0"),
    "share": ("", 1, "0 %"),
}
_FIRST = 5


def comparison_workbook(found: Comparison, told: SideBySide, creator: str) -> bytes:
    """The comparison as a workbook (.xlsx).

    Parameters
    ----------
    told
        The same comparison as documents tell it; rows it leaves out (of the office) are left out here, too.
    """
    book = Book(title=f"{told.title}: variants side by side", creator=creator)
    shown = {figure.name for figure in told.figures}
    rows = tuple(row for row in found.rows if row.name in shown)
    _figures(book.page("Figures"), found, rows, told)
    _days(book.page("Day by day"), told)
    _differences(book.page("Differences"), found, told)
    return book.to_bytes()


def _figures(page: Page, found: Comparison, rows: tuple[FigureRow, ...], told: SideBySide) -> None:
    page.text(1, 1, f"{told.title}: variants side by side, as of {told.as_of}", bold=True)
    page.text(2, 1, told.office or f"Differences are to {told.base}.", bold=bool(told.office))
    names = [f"{column.letter} {column.name}" for column in told.columns]
    others = [index for index in range(len(names)) if index != found.base]
    changes = [f"{told.columns[index].letter} less {told.base}" for index in others]
    verdicts = [f"{told.columns[index].letter} is" for index in others]
    heads = ("Figure", "Unit", *names, *changes, *verdicts)
    page.heads(_FIRST - 1, heads, wide=(24, 9, *(22 for _ in names), *(14 for _ in (*changes, *verdicts))))
    page.freeze(_FIRST, 3)
    for row, figure in enumerate(rows, start=_FIRST):
        _figure(page, row, figure, found, others)
    for number, note in enumerate(told.notes, start=_FIRST + len(rows) + 1):
        page.text(number, 1, note)


def _figure(page: Page, row: int, figure: FigureRow, found: Comparison, others: list[int]) -> None:
    page.text(row, 1, figure.name)
    page.text(row, 2, _unit(figure))
    cells = [
        page.number(row, 3 + index, _in_unit(figure, value), _format(figure, index))
        for index, value in enumerate(figure.values)
    ]
    first = 3 + len(cells)
    for number, index in enumerate(others):
        change, base = _change(figure, index, found.base), cells[found.base]
        formula = f'IF(COUNT({cells[index]},{base})=2,{cells[index]}-{base},"{UNKNOWN}")'
        if figure.currencies and figure.currencies[index] != figure.currencies[found.base]:
            page.text(row, first + number, "another currency")
        else:
            page.formula(row, first + number, formula, change, _format(figure, index))
        better = figure.better(index, found.base)
        if better is not None:
            page.text(row, first + len(others) + number, "better" if better else "worse")


def _days(page: Page, told: SideBySide) -> None:
    heads = [f"{column.letter} {column.name}" for column in told.columns]
    page.heads(1, heads, wide=[48 for _ in heads])
    page.freeze(2)
    for row, cells in enumerate(told.days, start=2):
        for column, cell in enumerate(cells, start=1):
            day = " ".join(part for part in (f"Day {cell.number}", cell.date) if part)
            first = "No day here" if cell.number is None else f"{day}: {cell.says}"
            page.text(row, column, "\n".join((first, *cell.differences)), wrap=True)


def _differences(page: Page, found: Comparison, told: SideBySide) -> None:
    page.heads(1, ("Variant", "Day", "Kind", "What differs"), wide=(30, 8, 12, 110))
    page.freeze(2)
    for row, each in enumerate(found.differences, start=2):
        column = told.columns[each.side]
        page.text(row, 1, f"{column.letter} {column.name}")
        if each.day is not None:
            page.number(row, 2, each.day)
        page.text(row, 3, each.kind)
        page.text(row, 4, each.says)


def _unit(figure: FigureRow) -> str:
    if figure.kind == "money":
        return "/".join(dict.fromkeys(figure.currencies))
    return _UNITS[figure.kind][0]


def _format(figure: FigureRow, index: int) -> str:
    return money_format(figure.currencies[index]) if figure.kind == "money" else _UNITS[figure.kind][2]


def _in_unit(figure: FigureRow, value: Figure | None) -> Decimal | float | None:
    if value is None or figure.kind == "money":
        return value
    return float(value) / _UNITS[figure.kind][1]


def _change(figure: FigureRow, index: int, base: int) -> float | None:
    """What the formula comes to: zero where the two are equal, unknown where one is."""
    value, first = (_in_unit(figure, figure.values[each]) for each in (index, base))
    return None if value is None or first is None else float(value) - float(first)
