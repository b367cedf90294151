"""Maps kept as squares in one SQLite file (MBTiles, specification 1.3): read only, and only pictures.

Rows are counted from the south there and from the north on the map's page, so they are turned round here.
"""

import sqlite3
from pathlib import Path
from urllib.parse import quote

from lacet.files import FileRefused, begins
from lacet.store.errors import StoreError

PICTURES = frozenset({"png", "jpg", "jpeg", "webp"})
HEAD = b"SQLite format 3\0"
MOST_ZOOM = 22
_METADATA = "SELECT name, value FROM metadata LIMIT 1000"
# A zoom that is text or a fraction is no zoom; nothing is asked for by it.
_ZOOMS = "SELECT min(zoom_level), max(zoom_level) FROM tiles WHERE typeof(zoom_level) = 'integer'"


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
        self._file = sqlite3.connect(address, uri=True, check_same_thread=False)
        try:
            # Names and values are read as bytes: one letter that is damaged is no reason to refuse a map.
            self._file.text_factory = bytes
            told = {_text(name): _text(value) for name, value in self._file.execute(_METADATA)}
            zooms = self._file.execute(_ZOOMS).fetchone()
        # The driver lets pass what decoding its own messages raises.
        except (sqlite3.Error, ValueError) as error:
            self._file.close()
            raise TileFileRefused(
                "{name}: this is no MBTiles map ({error}).", name=path.name, error=error
            ) from None
        if zooms[1] is None:
            self._file.close()
            raise TileFileRefused("{name}: the map holds no squares.", name=path.name)
        if told.get("format", "png").casefold() not in PICTURES:
            self._file.close()
            raise TileFileRefused(
                "{name}: it holds shapes, not pictures; use a map of pictures.", name=path.name
            )
        self.name = told.get("name") or path.stem
        self.attribution = told.get("attribution", "")
        self.least_zoom, self.most_zoom = zooms[0], min(zooms[1], MOST_ZOOM)

    def tile(self, zoom: int, column: int, row: int) -> bytes | None:
        """A square counted from the north-west, or None where the file has none."""
        if not 0 <= zoom <= MOST_ZOOM:
            return None
        try:
            found = self._file.execute(
                "SELECT tile_data FROM tiles WHERE zoom_level = ? AND tile_column = ? AND tile_row = ?",
                (zoom, column, 2**zoom - 1 - row),
            ).fetchone()
        except (sqlite3.Error, ValueError):
            # A square that is damaged is one that is missing; the others can still be looked at.
            return None
        return bytes(found[0]) if found is not None and isinstance(found[0], bytes) else None

    def close(self) -> None:
        """Let go of the file."""
        self._file.close()


def _text(value: object) -> str:
    if isinstance(value, bytes):
        return value.decode("utf-8", "replace")
    return "" if value is None else str(value)


def _refuse_no_database(path: Path) -> None:
    try:
        head = begins(path, len(HEAD))
    except FileRefused as refusal:
        raise TileFileRefused("{name}: {reason}.", name=path.name, reason=refusal.reason) from None
    if head != HEAD:
        raise TileFileRefused("{name}: this is no MBTiles map.", name=path.name)
