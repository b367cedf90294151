"""A base map from this disk under the lines: MBTiles or GeoTIFF, chosen once for this person.

The page asks our own scheme for its squares, so nothing goes to the network.
"""

import hashlib
import re
from pathlib import Path
from typing import Protocol

from PySide6.QtCore import QSettings

from lacet.trip.errors import LacetError
from lacet.window.map.page import ADDRESS

_KEY = "map/file"
_ASKED = re.compile(r"base-[0-9a-f]{12}-(\d{1,2})-(\d{1,7})-(\d{1,7})\.png")


class BaseMap(Protocol):
    """Squares of a map by zoom, column and row, counted from the north-west."""

    path: Path
    name: str
    attribution: str
    most_zoom: int

    def tile(self, zoom: int, column: int, row: int) -> bytes | None: ...

    def close(self) -> None: ...


def open_base_map(path: Path) -> BaseMap:
    """Look at a map file.

    Raises
    ------
    LacetError
        In a sentence, when it is neither an MBTiles file with pictures nor a coloured GeoTIFF.
    """
    # Late: most people have no base map, and rasterio takes a while.
    if path.suffix.casefold() in (".tif", ".tiff"):
        from lacet.tracks.picture_tiles import PictureTiles

        return PictureTiles(path)
    from lacet.store import TileFile

    return TileFile(path)


def set_base_map(path: Path | None) -> None:
    """Use a file from now on; None = none.

    Raises
    ------
    LacetError
        When the file can't be used; the one before stays then.
    """
    if path is None:
        QSettings().remove(_KEY)
        return
    open_base_map(path).close()
    QSettings().setValue(_KEY, str(path.resolve()))


def base_map_path() -> Path | None:
    """The chosen file, there or not, or None."""
    kept = str(QSettings().value(_KEY, "") or "")
    return Path(kept) if kept else None


def base_map() -> tuple[BaseMap | None, str]:
    """The chosen map, and a sentence where it can't be used now."""
    path = base_map_path()
    if path is None:
        return None, ""
    try:
        return open_base_map(path), ""
    except LacetError as refusal:
        return None, str(refusal)


def address_of(base: BaseMap) -> str:
    """The template by which the page asks for squares; another file's differs, so nothing stale shows."""
    stamp = hashlib.sha256(str(base.path).encode()).hexdigest()[:12]
    return f"{ADDRESS}base-{stamp}-{{z}}-{{x}}-{{y}}.png"


def asked_for(name: str) -> tuple[int, int, int] | None:
    """Zoom, column and row in the name of a square, or None when it is something else."""
    found = _ASKED.fullmatch(name)
    return None if found is None else (int(found[1]), int(found[2]), int(found[3]))
