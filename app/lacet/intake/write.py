"""Writes a library as sheets: CSV files in a folder, or one workbook. Read in again, nothing changes.

Texts that a spreadsheet program would take for a formula get an apostrophe before them in CSV files (taken
off again when read) and are marked as text in workbooks.
"""

import csv
import io
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from lacet.intake.columns import SheetKind
from lacet.intake.ground import PLACES, STAGES
from lacet.intake.kinds import BY_NAME, KINDS
from lacet.tracks.gpx_document import GpxLine
from lacet.tracks.gpx_write import GpxDocument, write_gpx
from lacet.trip.catalogue import Catalogue
from lacet.trip.library import Stage

_TAKEN_FOR_FORMULA = re.compile(r"'*[=+\-@]")
_HARMLESS = re.compile(r"[+-]?[\d\s()/.,-]+")
# What no workbook can hold.
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f]")


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

    Files that are there already are replaced, each whole.
    """
    folder.mkdir(parents=True, exist_ok=True)
    written = []
    for sheet in sheets_of(catalogue, tracks_beside=True):
        if sheet.rows:
            written.append(_replace(folder / f"{sheet.kind.name}.csv", csv_bytes(sheet)))
    stages = [stage for stage in _newest(STAGES, catalogue) if stage.track_id in catalogue.tracks]
    if stages:
        (folder / "tracks").mkdir(exist_ok=True)
    for stage in stages:
        line = GpxLine(stage.name, "", "track", catalogue.tracks[stage.track_id])
        written.append(
            _replace(
                folder / "tracks" / f"{stage.id}.gpx", write_gpx(GpxDocument(name=stage.name, lines=(line,)))
            )
        )
    return tuple(written)


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
        if sheet.rows or sheet.kind is PLACES:
            fill(book, sheet.kind, sheet.rows)
    buffer = io.BytesIO()
    book.save(buffer)
    return _replace(path, buffer.getvalue())


def write_template(path: Path) -> Path:
    """Write an empty workbook: a sheet for each kind with notes and drop-downs, and one that explains."""
    from lacet.intake.workbook import explain, fill, new_workbook

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
    for item in _newest(kind, catalogue):
        fields = kind.fields_of(item)
        if tracks_beside and isinstance(item, Stage) and item.track_id in catalogue.tracks:
            fields["track"] = f"tracks/{item.id}.gpx"
        yield _cells(kind, fields)


def _part_rows(kind: SheetKind, catalogue: Catalogue) -> Iterator[tuple[str, ...]]:
    parent = BY_NAME[kind.parent]
    for item in _newest(parent, catalogue):
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


def _newest(kind: SheetKind, catalogue: Catalogue) -> list[Any]:
    ids = sorted(catalogue.items.get(kind.makes, {}))
    found = (catalogue.latest(kind.makes, item_id) for item_id in ids)
    return [item for item in found if item is not None]


def _guarded(text: str) -> str:
    risky = _TAKEN_FOR_FORMULA.match(text) and not _HARMLESS.fullmatch(text)
    return f"'{text}" if risky else text


def _replace(path: Path, data: bytes) -> Path:
    """Write a file whole, then give it its name."""
    draft = path.with_name(f".{path.name}.new")
    draft.write_bytes(data)
    draft.replace(path)
    return path
