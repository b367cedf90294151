"""From a table's text to rows of values: finds the header, reads each cell, tells what can't be read."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import Any

from lacet.intake.columns import Column, Fields, SheetKind
from lacet.intake.problems import CellRefused, SheetProblem
from lacet.intake.table import HEADER_WITHIN_ROWS, Cell, Formula, Table

MOST_PROBLEMS = 500


@dataclass(slots=True)
class Row:
    """One row: its values by field, and where it stands. An empty cell is a value of None."""

    kind: SheetKind
    file: str
    sheet: str
    number: int
    values: Fields

    def problem(self, says: str, column: str | None = None) -> SheetProblem:
        """A problem of this row."""
        return SheetProblem(file=self.file, sheet=self.sheet, row=self.number, column=column, says=says)

    def header_of(self, field_name: str) -> str:
        """The header of the column that a field is read from."""
        return next((each.name for each in self.kind.columns if each.field == field_name), field_name)


@dataclass(slots=True)
class TableReader:
    """Reads one table of a known kind. `problems` fills while `rows` is run through."""

    table: Table
    kind: SheetKind
    problems: list[SheetProblem] = field(default_factory=list)
    _by_index: dict[int, Column] = field(default_factory=dict)
    _header_row: int = 0

    def rows(self) -> Iterator[Row]:
        """The rows that could be read whole."""
        self.problems += [self._problem(None, None, note, stops=False) for note in self.table.notes]
        begun = False
        for number, cells in self.table.rows:
            if len(self.problems) >= MOST_PROBLEMS:
                self._tell(number, None, "there are more problems further down; mend these first.")
                return
            if begun:
                yield from self._row(number, cells)
            elif self._is_header(cells):
                begun = True
                self._header_row = number
                self._take_header(number, cells)
            elif number > HEADER_WITHIN_ROWS:
                break
        if not begun:
            wanted = ", ".join(column.name for column in self.kind.columns if column.required)
            self._tell(None, None, f"no header was found; one of the first rows must name {wanted}.")

    def _is_header(self, cells: tuple[Cell, ...]) -> bool:
        """Whether a row names the first column and one more; titles and notes above it are passed over."""
        names = {_header(cell) for cell in cells}
        known = {column.name for column in self.kind.columns}
        return self.kind.columns[0].name in names and len(names & known) > 1

    def _take_header(self, number: int, cells: tuple[Cell, ...]) -> None:
        known = {column.name: column for column in self.kind.columns}
        seen: set[str] = set()
        for index, cell in enumerate(cells):
            name = _header(cell)
            if name in seen:
                self._tell(number, name, "this column is there twice; remove one.")
            elif name in known:
                self._by_index[index] = known[name]
            elif name:
                self._tell(number, name, _unknown_column(name, list(known), self.kind.name))
            seen.add(name) if name else None
        self._tell_merged()

    def _tell_merged(self) -> None:
        for span in self.table.merged:
            first, _, last = span.partition(":")
            if _row_of(last or first) > self._header_row:
                says = f"the cells {span} are merged, so it isn't clear which row they mean; unmerge them."
                self._tell(_row_of(first), None, says)

    def _row(self, number: int, cells: tuple[Cell, ...]) -> Iterator[Row]:
        before = len(self.problems)
        values: Fields = {}
        for index, column in self._by_index.items():
            cell = cells[index] if index < len(cells) else ""
            value = self._value(number, column, cell)
            if column.field:
                values[column.field] = value
        for index, cell in enumerate(cells):
            if cell and index not in self._by_index and index >= self._widest():
                self._tell(
                    number, None, f"{_shown(cell)} stands beyond the last column; is a delimiter too many?"
                )
                break
        if len(self.problems) == before:
            yield Row(self.kind, self.table.file, self.table.sheet, number, values)

    def _widest(self) -> int:
        return max(self._by_index, default=0) + 1

    def _value(self, number: int, column: Column, cell: Cell) -> Any:
        if isinstance(cell, Formula):
            if column.field:
                says = f"it holds a formula ({cell.text[:30]}); paste what it comes to as a value."
                self._tell(number, column.name, says)
            return None
        if not cell:
            if column.required:
                self._tell(number, column.name, f"it is empty; write {column.cell.expects}.")
            return None
        if not column.field:
            return None
        try:
            return column.cell.read(cell, self.table.lone_comma)
        except CellRefused as refusal:
            self._tell(number, column.name, str(refusal))
            return None

    def _tell(self, row: int | None, column: str | None, says: str) -> None:
        self.problems.append(self._problem(row, column, says))

    def _problem(self, row: int | None, column: str | None, says: str, stops: bool = True) -> SheetProblem:
        return SheetProblem(
            file=self.table.file, sheet=self.table.sheet, row=row, column=column, says=says, stops=stops
        )


def _header(cell: Cell) -> str:
    return "" if isinstance(cell, Formula) else cell.strip().casefold().replace(" ", "_")


def _unknown_column(name: str, known: list[str], kind: str) -> str:
    near = get_close_matches(name, known, 1)
    meant = f"is '{near[0]}' meant? " if near else ""
    return f"no column of {kind} is called so; {meant}Rename it or take it out."


def _row_of(reference: str) -> int:
    digits = "".join(letter for letter in reference if letter.isdecimal())
    return int(digits or 0)


def _shown(cell: Cell) -> str:
    return f"'{cell.text if isinstance(cell, Formula) else cell}'"[:42]
