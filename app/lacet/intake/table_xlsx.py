"""Workbooks (.xlsx, .xlsm), read without running or fetching anything.

A workbook is a zip of XML: its parts are weighed before they are unpacked, document types are refused,
macros and links are never looked at. A formula is told, not computed.
"""

import re
import zipfile
import zlib
from collections.abc import Iterator
from pathlib import Path
from typing import IO, Any

from lacet.files import FileRefused, need_file
from lacet.intake.cells import as_text
from lacet.intake.table import MOST_COLUMNS, MOST_ROWS, Cell, Formula, SheetRefused, Table, refuse_long

MOST_UNPACKED_BYTES = 400_000_000
MOST_PARTS = 2_000
LARGEST_BYTES = 100_000_000
# What the reader makes whole before the first row: 65,490 cell formats are all that spreadsheets allow.
MOST_STYLE_MARKS = 300_000
MOST_TEXT_MARKS = 4_000_000
_PIECE_BYTES = 1 << 20
_DECLARES = re.compile(rb"<!\s*(?:DOCTYPE|ENTITY)", re.IGNORECASE)
_ROW = re.compile(rb"<(?:\w+:)?row[\s/>]")
_MERGED = re.compile(rb'<(?:\w+:)?mergeCell\s[^>]*?ref="([A-Z0-9:]+)"')


def xlsx_tables(path: Path) -> Iterator[Table]:
    """The sheets of a workbook one after the other; rows are read when they are asked for, before the next.

    Raises
    ------
    SheetRefused
        When it is no workbook, is damaged, protected by a password, or too large unpacked.
    """
    merged = _looked_over(path)
    book = _opened(path)
    try:
        for sheet in book.worksheets:
            if sheet.sheet_state == "visible":
                part = sheet._worksheet_path.lstrip("/")
                yield Table(
                    file=path.name,
                    sheet=sheet.title,
                    name=sheet.title,
                    rows=_rows(path.name, sheet),
                    merged=merged.get(part, ()),
                )
    finally:
        book.close()


def _opened(path: Path) -> Any:
    from openpyxl import load_workbook

    try:
        return load_workbook(path, read_only=True, data_only=False, keep_links=False, keep_vba=False)
    except Exception as error:  # a damaged part shows itself as whatever its reader trips over
        raise SheetRefused(
            "{name} is damaged; save it anew as .xlsx and try again.", name=path.name
        ) from error


def _looked_over(path: Path) -> dict[str, tuple[str, ...]]:
    """Weigh the parts and look at each once, in pieces; returns the merged ranges by part."""
    try:
        need_file(path, LARGEST_BYTES)
        with zipfile.ZipFile(path) as package:
            parts = package.infolist()
            if len(parts) > MOST_PARTS or sum(part.file_size for part in parts) > MOST_UNPACKED_BYTES:
                raise SheetRefused(
                    "{name} would unpack to more than any library holds; it is refused.", name=path.name
                )
            if not any(part.filename == "[Content_Types].xml" for part in parts):
                raise SheetRefused("{name} isn't a workbook; save it as .xlsx or .csv.", name=path.name)
            return {
                part.filename: _merged_in(path, package.open(part))
                for part in parts
                if part.filename.endswith((".xml", ".rels"))
            }
    except (zipfile.BadZipFile, zlib.error, NotImplementedError, RuntimeError, ValueError, EOFError) as error:
        raise SheetRefused(
            "{name} isn't a workbook that can be read (damaged, protected or of an older kind); "
            "save it without a password as .xlsx.",
            name=path.name,
        ) from error
    except FileRefused as refusal:
        raise SheetRefused(
            "{name} can't be read: {reason}.", name=path.name, reason=refusal.reason
        ) from refusal
    except OSError as error:
        raise SheetRefused(
            "{name} can't be read: {strerror}.", name=path.name, strerror=error.strerror or error
        ) from error


def _merged_in(path: Path, part: IO[bytes]) -> tuple[str, ...]:
    found: list[str] = []
    tail = b""
    marks = rows = 0
    most_marks = _most_marks(part.name)
    with part:
        while piece := part.read(_PIECE_BYTES):
            marks += piece.count(b"<")
            rows += len(_ROW.findall(piece))
            if marks > most_marks:
                raise SheetRefused(
                    "{name} holds more formats than any sheet needs; save it as .csv.", name=path.name
                )
            if rows > MOST_ROWS:
                raise SheetRefused(
                    "{name} has more than {most_rows:,} rows; split it.", name=path.name, most_rows=MOST_ROWS
                )
            text = tail + piece
            if _DECLARES.search(text):
                raise SheetRefused(
                    "{name} declares a document type, which no workbook does; refused.", name=path.name
                )
            found += [match[1].decode() for match in _MERGED.finditer(text)]
            tail = text[-100:]
    return tuple(dict.fromkeys(found))


def _most_marks(part: str | None) -> float:
    """How many marks a part may hold, by its name; a sheet's own part is read in a stream."""
    name = (part or "").casefold()
    if "worksheets/" in name:
        return float("inf")
    return MOST_TEXT_MARKS if "sharedstrings" in name else MOST_STYLE_MARKS


def _rows(file: str, sheet: Any) -> Iterator[tuple[int, tuple[Cell, ...]]]:
    # The stated size of a sheet is often wrong and may be meant to harm.
    sheet.reset_dimensions()
    where = f"{file}, sheet {sheet.title}"
    number = 0
    try:
        for number, row in enumerate(
            sheet.iter_rows(max_row=MOST_ROWS + 1, max_col=MOST_COLUMNS + 1), start=1
        ):
            made = tuple(_cell(cell) for cell in row)
            while made and not made[-1]:
                made = made[:-1]
            if made:
                refuse_long(where, number, made)
                yield number, made
    except SheetRefused:
        raise
    except Exception as error:  # a damaged part shows itself as whatever its reader trips over
        raise SheetRefused(
            "{where}: damaged after row {number}; save it anew as .xlsx.", where=where, number=number
        ) from error


def _cell(cell: Any) -> Cell:
    if cell.value is None:
        return ""
    if cell.data_type == "f":
        return Formula(str(cell.value))
    if cell.data_type == "e":
        return Formula(f"error {cell.value}")
    return as_text(cell.value)
