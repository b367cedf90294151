"""What is wrong with a sheet, said so that a person finds the cell and knows what to do."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetProblem:
    """One thing about a file, a row or a cell.

    Parameters
    ----------
    file, sheet
        The file's name, and the sheet's in a workbook ("" in a CSV file).
    row
        As the person's program counts it (the header has one too); None = the whole sheet.
    column
        The header as written, or None.
    says
        What is wrong and what to do, one or two sentences.
    stops
        Whether nothing can be taken in until it is mended.
    """

    file: str
    sheet: str = ""
    row: int | None = None
    column: str | None = None
    says: str
    stops: bool = True

    @property
    def place(self) -> str:
        """Where it is, as in "hotels.xlsx, sheet lodgings, row 7, column check_in"."""
        parts = [self.file]
        parts += [f"sheet {self.sheet}"] if self.sheet else []
        parts += [f"row {self.row}"] if self.row is not None else []
        parts += [f"column {self.column}"] if self.column else []
        return ", ".join(parts)

    def __str__(self) -> str:
        return f"{self.place}: {self.says}"


class CellRefused(Exception):
    """A cell that can't be read; the text says what it should be. Caught where the cell's place is known."""
