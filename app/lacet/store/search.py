"""Search for words and for positions: the two functions another database would have to answer too.

SQLite answers with a full-text index (FTS5) and an R*Tree. The newest version of each item stands in
both under its row number; a row that is no longer the newest is taken out.
"""

import re
from dataclasses import dataclass
from math import cos, radians
from typing import Any

from sqlalchemy import Connection, Select, column, delete, or_, select, table, text

_TEXT = table("search_text", column("rowid"), column("name"), column("places"), column("notes"))
_BOX = table("search_box", column("row_id"), column("south"), column("north"), column("west"), column("east"))
_DEGREE_M = 111_195.0  # one degree on a sphere of 6371 km; only ever used to widen a box


@dataclass(frozen=True, slots=True)
class Box:
    """A box of positions [degrees]. West may be greater than east: the box then crosses 180 degrees."""

    south_deg: float
    west_deg: float
    north_deg: float
    east_deg: float


def box_around(latitude_deg: float, longitude_deg: float, radius_m: float) -> Box:
    """A box that holds every position within a distance [m]."""
    high = radius_m / _DEGREE_M
    widest = max(abs(latitude_deg - high), abs(latitude_deg + high))
    south, north = max(latitude_deg - high, -90.0), min(latitude_deg + high, 90.0)
    wide = high / cos(radians(widest)) if widest < 89.9 else 180.0
    if wide >= 180.0:
        return Box(south, -180.0, north, 180.0)
    return Box(south, _turned(longitude_deg - wide), north, _turned(longitude_deg + wide))


def rows_with_words(words: str) -> Select[Any] | None:
    """Row numbers of items that have all these words, or beginnings of words, anywhere; None = no words.

    Case and accents don't count.
    """
    found = re.findall(r"[^\W_]+", words)
    if not found:
        return None
    # Quoted, no word is taken for an operator of the query language.
    query = " ".join(f'"{word}"*' for word in found)
    return (
        select(column("rowid")).select_from(_TEXT).where(text("search_text MATCH :words")).params(words=query)
    )


def rows_in_box(box: Box) -> Select[Any]:
    """Row numbers of items that lie in, or reach into, a box."""
    across = (_BOX.c.south <= box.north_deg) & (_BOX.c.north >= box.south_deg)
    west_of_east, east_of_west = _BOX.c.west <= box.east_deg, _BOX.c.east >= box.west_deg
    if box.west_deg <= box.east_deg:
        return select(_BOX.c.row_id).where(across & west_of_east & east_of_west)
    return select(_BOX.c.row_id).where(across & or_(west_of_east, east_of_west))


def put(connection: Connection, row_id: int, texts: tuple[str, str, str], box: Box | None) -> None:
    """Let an item be found by its name, its places' names, its notes, and its box."""
    connection.exec_driver_sql(
        "INSERT INTO search_text (rowid, name, places, notes) VALUES (?, ?, ?, ?)", (row_id, *texts)
    )
    if box is not None:
        # A line across 180 degrees is found from everywhere along its latitudes.
        west, east = (box.west_deg, box.east_deg) if box.west_deg <= box.east_deg else (-180.0, 180.0)
        connection.exec_driver_sql(
            "INSERT INTO search_box (row_id, south, north, west, east) VALUES (?, ?, ?, ?, ?)",
            (row_id, box.south_deg, box.north_deg, west, east),
        )


def name_places(connection: Connection, row_id: int, places: str) -> None:
    """Let an item be found by other names of its places."""
    connection.exec_driver_sql("UPDATE search_text SET places = ? WHERE rowid = ?", (places, row_id))


def put_notes(connection: Connection, row_id: int, notes: str) -> None:
    """Give an item other notes, if it is found at all."""
    connection.exec_driver_sql("UPDATE search_text SET notes = ? WHERE rowid = ?", (notes, row_id))


def take_out(connection: Connection, row_id: int) -> None:
    """Let a row no longer be found."""
    connection.execute(delete(_TEXT).where(_TEXT.c.rowid == row_id))
    connection.execute(delete(_BOX).where(_BOX.c.row_id == row_id))


def _turned(longitude_deg: float) -> float:
    return (longitude_deg + 180.0) % 360.0 - 180.0
