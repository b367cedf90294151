"""Maps kept as squares in one SQLite file (MBTiles, specification 1.3): read only, and only pictures.

Rows are counted from the south there and from the north on the map's page, so they are turned round here.
"""

import sqlite3
from pathlib import Path
from urllib.parse import quote

from lacet.store.errors import StoreError

PICTURES = frozenset({"png", "jpg", "jpeg", "webp"})
HEAD = b"SQLite format 3\0"
MOST_ZOOM = 22


class TileFileRefused(StoreError):
    """A file that holds no map the program can show."""


class TileFile:
    """Squares of a map on disk. Use it from one thread at a time.

    Raises
    ------
    TileFileRefused
        When the file is missing, damaged, something else, or holds shapes instead of pictures.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        _refuse_no_database(path)
        address = f"file:{quote(str(path.resolve()))}?mode=ro&immutable=1"
        try:
            self._file = sqlite3.connect(address, uri=True, check_same_thread=False)
            told = dict(self._file.execute("SELECT name, value FROM metadata"))
            zooms = self._file.execute("SELECT min(zoom_level), max(zoom_level) FROM tiles").fetchone()
        except sqlite3.Error as error:
            raise TileFileRefused(f"{path.name}: this is no MBTiles map ({error}).") from None
        if zooms[1] is None:
            raise TileFileRefused(f"{path.name}: the map holds no squares.")
        if str(told.get("format", "png")).casefold() not in PICTURES:
            raise TileFileRefused(f"{path.name}: it holds shapes, not pictures; use a map of pictures.")
        self.name = str(told.get("name") or path.stem)
        self.attribution = str(told.get("attribution") or "")
        self.least_zoom, self.most_zoom = int(zooms[0]), min(int(zooms[1]), MOST_ZOOM)

    def tile(self, zoom: int, column: int, row: int) -> bytes | None:
        """A square counted from the north-west, or None where the file has none."""
        if not 0 <= zoom <= MOST_ZOOM:
            return None
        try:
            found = self._file.execute(
                "SELECT tile_data FROM tiles WHERE zoom_level = ? AND tile_column = ? AND tile_row = ?",
                (zoom, column, 2**zoom - 1 - row),
            ).fetchone()
        except sqlite3.Error:
            # A square that is damaged is one that is missing; the others can still be looked at.
            return None
        return bytes(found[0]) if found is not None and isinstance(found[0], bytes) else None

    def close(self) -> None:
        """Let go of the file."""
        self._file.close()


def _refuse_no_database(path: Path) -> None:
    try:
        with path.open("rb") as file:
            head = file.read(len(HEAD))
    except OSError as error:
        raise TileFileRefused(f"{path.name}: the file can't be read ({error.strerror}).") from None
    if head != HEAD:
        raise TileFileRefused(f"{path.name}: this is no MBTiles map.")
