"""Small sheets and tracks on disk, for tests of taking in."""

import zipfile
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

import numpy as np
from openpyxl import Workbook

from lacet.intake.sheets import SheetsRead, read_sheets
from lacet.tracks.gpx_document import GpxLine
from lacet.tracks.gpx_write import GpxDocument, write_gpx
from lacet.tracks.track import Track, track
from lacet.trip.catalogue import Catalogue, catalogue_of
from lacet.trip.library import LibraryItem, Lodging, Place, Room, Stage, StageWay
from lacet.trip.words import Way

BASE = (44.0, -24.0)
METRES_PER_DEGREE = 111_195.0
LODGING_HEADER = "id,name,place,latitude,longitude,check_in,telephone"


class Tracks(dict[str, Track]):
    """Tracks by id."""


def line(from_m: float, to_m: float, east_m: float = 0.0, height_m: float = 50.0) -> Track:
    """A straight line north or south from a distance to another, a point every 50 m or so."""
    along = np.linspace(from_m, to_m, max(2, int(abs(to_m - from_m) // 50) + 1))
    across = east_m / (METRES_PER_DEGREE * np.cos(np.radians(BASE[0])))
    return track(
        BASE[0] + along / METRES_PER_DEGREE,
        np.full(along.shape, BASE[1] + across),
        np.full(along.shape, height_m),
    )


def library(*more: LibraryItem) -> Catalogue:
    """Two places 6 km apart, a stage between them, a house with two kinds of rooms."""
    items: tuple[LibraryItem, ...] = (
        Place(id="quay", name="Quay", latitude_deg=BASE[0], longitude_deg=BASE[1]),
        Place(
            id="hill", name="Hill", latitude_deg=BASE[0] + 6_000 / METRES_PER_DEGREE, longitude_deg=BASE[1]
        ),
        Stage(
            id="lane",
            name="The lane",
            from_place="quay",
            to_place="hill",
            track_id="t-lane",
            ways=(StageWay(way=Way.WALKING),),
            text="Up the lane.",
        ),
        Lodging(
            id="inn",
            name="The Inn",
            place="quay",
            latitude_deg=BASE[0],
            longitude_deg=BASE[1],
            check_in="15:00-21:00",
            telephone="+999 555 1",
            rooms=(Room(kind="double", sleeps=2, count=3), Room(kind="single", sleeps=1, count=1)),
        ),
    )
    by_key = {(type(item), item.id): item for item in (*items, *more)}
    return catalogue_of(tuple(by_key.values()), Tracks({"t-lane": line(0, 6_000)}))


def sheet(folder: Path, name: str, text: str, encoding: str = "utf-8") -> Path:
    """A CSV file."""
    path = folder / name
    path.write_bytes(text.encode(encoding))
    return path


def workbook(path: Path, **sheets: Iterable[Sequence[Any]]) -> Path:
    """A workbook of these rows."""
    book = Workbook()
    book.remove(book.worksheets[0])
    for name, rows in sheets.items():
        page = book.create_sheet(name)
        for row in rows:
            page.append(list(row))
    book.save(path)
    return path


def gpx(folder: Path, name: str, *lines: GpxLine) -> Path:
    """A GPX file."""
    path = folder / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(write_gpx(GpxDocument(name=name, lines=lines)))
    return path


def rezipped(path: Path, **changed: bytes) -> Path:
    """The same package with parts (named by their last piece, dots as '_') replaced or added."""
    with zipfile.ZipFile(path) as package:
        parts = {name: package.read(name) for name in package.namelist()}
    for key, data in changed.items():
        known = [name for name in parts if name.rsplit("/", 1)[-1].replace(".", "_") == key]
        parts[known[0] if known else key] = data
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as package:
        for name, data in parts.items():
            package.writestr(name, data)
    return path


def said(read: SheetsRead) -> list[str]:
    """All problems as a person reads them."""
    return [str(problem) for problem in read.problems]


def lodgings(folder: Path, *rows: str, header: str = LODGING_HEADER) -> SheetsRead:
    """What a sheet of lodgings with these rows comes to, beside the library."""
    return read_sheets([sheet(folder, "lodgings.csv", "\n".join((header, *rows)) + "\n")], library())
