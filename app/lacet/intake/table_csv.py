"""CSV files as people have them: any delimiter, UTF-8, UTF-16 or the old western encoding."""

import csv
import io
import re
from collections.abc import Iterator
from pathlib import Path

from lacet.files import FileRefused, whole
from lacet.intake.kinds import kind_called
from lacet.intake.table import HEADER_WITHIN_ROWS, Cell, Formula, SheetRefused, Table, refuse_long

DELIMITERS = (",", ";", "\t", "|")
LARGEST_BYTES = 100_000_000
_HEAD_SIGNS = 200_000
_MARKS = ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))
# Written by us before a text that a spreadsheet program would take for a formula.
_GUARDED = re.compile(r"'+[=+\-@]")
_MATHS = re.compile(r"=\s*\S")


def csv_table(path: Path) -> Table:
    """Open a CSV file; its rows are read when they are asked for.

    Raises
    ------
    SheetRefused
        When it is too large or no text.
    """
    text, notes = _text_of(path)
    delimiter = _delimiter(text, path.stem)
    return Table(
        file=path.name,
        sheet="",
        name=path.stem,
        rows=_rows(path.name, text, delimiter),
        lone_comma=delimiter != ",",
        notes=notes,
    )


def _text_of(path: Path) -> tuple[str, tuple[str, ...]]:
    try:
        raw = whole(path, LARGEST_BYTES)
    except FileRefused as refusal:
        raise SheetRefused(
            "{name} can't be read: {reason}.", name=path.name, reason=refusal.reason
        ) from refusal
    encoding = next((name for mark, name in _MARKS if raw.startswith(mark)), "utf-8")
    if encoding != "utf-16" and b"\0" in raw:
        raise SheetRefused("{name} isn't a CSV file: it holds bytes that no text has.", name=path.name)
    try:
        text = raw.decode(encoding)
    except UnicodeDecodeError:
        note = "The text isn't UTF-8; it was read as Windows-1252, so look at accents and currency signs."
        return raw.decode("cp1252", errors="replace"), (note,)
    if "\0" in text:
        raise SheetRefused("{name} isn't a CSV file: it holds signs that no text has.", name=path.name)
    return text, ()


def _delimiter(text: str, stem: str) -> str:
    """The delimiter that finds most of the kind's columns in the first lines; a comma when none does."""
    kind = kind_called(stem)
    known = {column.name for column in kind.columns} if kind else set()
    # No more than the head is parted: a list of millions of lines takes many times the file.
    head = text[:_HEAD_SIGNS].splitlines()[:HEADER_WITHIN_ROWS]

    def finds(delimiter: str) -> int:
        return max((_known_in(line, delimiter, known) for line in head), default=0)

    return max(DELIMITERS, key=finds)


def _known_in(line: str, delimiter: str, known: set[str]) -> int:
    return len({part.strip().strip('"').casefold() for part in line.split(delimiter)} & known)


def _rows(file: str, text: str, delimiter: str) -> Iterator[tuple[int, tuple[Cell, ...]]]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    number = 1
    try:
        for cells in reader:
            made = tuple(_cell(cell) for cell in cells)
            refuse_long(file, number, made)
            if any(made):
                yield number, made
            # A quoted cell may run over several lines; a person's program counts rows.
            number += 1
    except csv.Error as error:
        raise SheetRefused(
            "{file}, row {number}: {error}. Is a quotation mark missing there?",
            file=file,
            number=number,
            error=error,
        ) from error


def _cell(text: str) -> Cell:
    plain = text.strip()
    if _MATHS.match(plain):
        return Formula(plain)
    return plain[1:] if _GUARDED.match(plain) else plain
