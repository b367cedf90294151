"""Writes a library as sheets: CSV files in a folder, or one workbook. Read in again, nothing changes.

Texts that a spreadsheet program would take for a formula get an apostrophe before them in CSV files (taken
off again when read) and are marked as text in workbooks.
"""

import csv
import io
import os
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any
from urllib.parse import quote

from lacet.files import harmless
from lacet.intake.columns import SheetKind
from lacet.intake.ground import PLACES
from lacet.intake.kinds import BY_NAME, KINDS
from lacet.intake.table import MOST_ROWS
from lacet.passing import OthersThere, passing_folder, put_in_place
from lacet.tracks.gpx_document import GpxLine
from lacet.tracks.gpx_write import GpxDocument, write_gpx
from lacet.trip.catalogue import Catalogue
from lacet.trip.errors import LacetError
from lacet.trip.library import Stage

WORKBOOK = ".xlsx"
_TAKEN_FOR_FORMULA = re.compile(r"'*[=+\-@]")
_OF_NO_NAME = re.compile(r"[^\w.-]")
_HARMLESS = re.compile(r"[+-]?[\d\s()/.,-]+")
# What no workbook can hold, what terminals obey, and turns of the reading direction.
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")


class NotGivenOut(LacetError):
    """Sheets that can't be written where they were asked for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenSheet:
    """One sheet as text: headers, and rows of cells."""

    kind: SheetKind
    headers: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def sheets_of(catalogue: Catalogue, tracks_beside: bool = False) -> tuple[WrittenSheet, ...]:
    """A sheet for each kind; retired items are written too, and marked.

    Parameters
    ----------
    tracks_beside
        Whether the stages' GPX files go out too, so that the sheet may name them.
    """
    return tuple(_sheet(kind, catalogue, tracks_beside) for kind in KINDS)


def write_csv_folder(catalogue: Catalogue, folder: Path) -> tuple[Path, ...]:
    """Write every kind as a CSV file, and the stages' lines as GPX in `tracks`; returns the files.

    The sheets of before are replaced, all of them at once.

    Raises
    ------
    NotGivenOut
        When the folder holds other files, or the disk refuses.
    """
    try:
        folder.parent.mkdir(parents=True, exist_ok=True)
        # Beside what a link leads to, where it can be exchanged.
        with passing_folder(Path(os.path.realpath(folder)).parent) as passing:
            made = passing / folder.name
            made.mkdir()
            names = []
            for name, content in _files(catalogue):
                _written(made / name, content)
                names.append(name)
            put_in_place(made, folder, _former_parts(folder))
        return tuple(folder / name for name in names)
    except OthersThere as others:
        more = len(others.names) - 1
        named = harmless(others.names[0]) + (f" and {more} more" if more else "")
        raise NotGivenOut(
            "{folder} holds what this export would not replace ({named}); move it away or choose "
            "another folder.",
            folder=harmless(str(folder)),
            named=named,
        ) from None
    except OSError as error:
        raise _refused(folder, error) from error


def _files(catalogue: Catalogue) -> Iterator[tuple[str, bytes]]:
    """Names within the folder and contents, one after the other: lines may be many."""
    for sheet in sheets_of(catalogue, tracks_beside=True):
        for number, part in enumerate(_parts_of(sheet), start=1):
            yield _part_name(sheet.kind, number), csv_bytes(part)
    for stage in catalogue.newest(Stage):
        if stage.track_id in catalogue.tracks:
            line = GpxLine(stage.name, "", "track", catalogue.tracks[stage.track_id])
            yield _track_name(stage), write_gpx(GpxDocument(name=stage.name, lines=(line,)))


def _parts_of(sheet: WrittenSheet) -> Iterator[WrittenSheet]:
    """A sheet in parts none of which is longer than what is read in again; nothing of an empty one."""
    # The headers are a row too.
    for begin in range(0, len(sheet.rows), MOST_ROWS - 1):
        yield replace(sheet, rows=sheet.rows[begin : begin + MOST_ROWS - 1])


def _part_name(kind: SheetKind, number: int) -> str:
    return f"{kind.name}.csv" if number == 1 else f"{kind.name} {number}.csv"


def _former_parts(folder: Path) -> list[str]:
    """Parts of longer sheets of before, which would bring back what is gone."""
    found = []
    for kind in KINDS:
        number = 2
        while (folder / (name := _part_name(kind, number))).is_file():
            found.append(name)
            number += 1
    return found


def _track_name(stage: Stage) -> str:
    """An id may hold any sign but spaces; what could lead out of the folder is written as in addresses."""
    return f"tracks/{_OF_NO_NAME.sub(lambda sign: quote(sign[0], safe=''), stage.id)}.gpx"


def csv_bytes(sheet: WrittenSheet) -> bytes:
    """A sheet as CSV (RFC 4180) in UTF-8 with a byte order mark, by which spreadsheet programs know it."""
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(sheet.headers)
    writer.writerows([_guarded(cell) for cell in row] for row in sheet.rows)
    return text.getvalue().encode("utf-8-sig")


def write_workbook(catalogue: Catalogue, path: Path) -> Path:
    """Write one workbook, a sheet for each kind there is any of, with notes and drop-downs; no lines."""
    from lacet.intake.workbook import fill, new_workbook

    book = new_workbook()
    for sheet in sheets_of(catalogue):
        if len(sheet.rows) >= MOST_ROWS:
            raise NotGivenOut(
                "{name}: the {kind} have more than {most_rows:,} rows, too many for a workbook; "
                "export into a folder instead.",
                name=path.name,
                kind=sheet.kind.name,
                most_rows=MOST_ROWS,
            )
        if sheet.rows or sheet.kind is PLACES:
            fill(book, sheet.kind, sheet.rows)
    buffer = io.BytesIO()
    book.save(buffer)
    return _replace(path, buffer.getvalue())


def write_template(path: Path) -> Path:
    """Write an empty workbook: a sheet for each kind with notes and drop-downs, and one that explains.

    Raises
    ------
    NotGivenOut
        When the name isn't a workbook's, something of that name is there already, or the disk refuses.
    """
    from lacet.intake.workbook import explain, fill, new_workbook

    if path.suffix.lower() != WORKBOOK:
        raise NotGivenOut("{path}: the name must end in {workbook}.", path=path, workbook=WORKBOOK)
    if os.path.lexists(path):
        raise NotGivenOut("{path} is there already; move it away or choose another name.", path=path)
    book = new_workbook()
    explain(book)
    for kind in KINDS:
        fill(book, kind, ())
    buffer = io.BytesIO()
    book.save(buffer)
    return _replace(path, buffer.getvalue())


def _sheet(kind: SheetKind, catalogue: Catalogue, tracks_beside: bool) -> WrittenSheet:
    rows = _part_rows(kind, catalogue) if kind.parent else _item_rows(kind, catalogue, tracks_beside)
    return WrittenSheet(kind=kind, headers=tuple(column.name for column in kind.written), rows=tuple(rows))


def _item_rows(kind: SheetKind, catalogue: Catalogue, tracks_beside: bool) -> Iterator[tuple[str, ...]]:
    for item in catalogue.newest(kind.makes):
        fields = kind.fields_of(item)
        if tracks_beside and isinstance(item, Stage) and item.track_id in catalogue.tracks:
            fields["track"] = _track_name(item)
        yield _cells(kind, fields)


def _part_rows(kind: SheetKind, catalogue: Catalogue) -> Iterator[tuple[str, ...]]:
    parent = BY_NAME[kind.parent]
    for item in catalogue.newest(parent.makes):
        known = parent.fields_of(item)
        parts = known.get(kind.parent_field, getattr(item, kind.parent_field, ()))
        for part in parts:
            yield _cells(kind, kind.fields_of(part) | {"parent": item.id})


def _cells(kind: SheetKind, fields: dict[str, Any]) -> tuple[str, ...]:
    cells = []
    for column in kind.written:
        value = fields.get(column.field)
        text = "" if value is None or value == () or value == "" else column.cell.write(value)
        cells.append(_CONTROL.sub("", text).strip())
    return tuple(cells)


def _guarded(text: str) -> str:
    risky = _TAKEN_FOR_FORMULA.match(text) and not _HARMLESS.fullmatch(text)
    return f"'{text}" if risky else text


def _replace(path: Path, data: bytes) -> Path:
    """Write a file whole, then give it its name."""
    try:
        with passing_folder(path.parent) as passing:
            return _written(passing / path.name, data).replace(path)
    except OSError as error:
        raise _refused(path, error) from error


def _written(path: Path, data: bytes) -> Path:
    path.parent.mkdir(exist_ok=True)
    path.write_bytes(data)
    return path


def _refused(path: Path, error: OSError) -> NotGivenOut:
    return NotGivenOut("{path} can't be written: {strerror}.", path=path, strerror=error.strerror or error)
