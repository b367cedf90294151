"""Rows for long tables of library items: what all kinds have, and whatever parts of the value are asked for.

The parts are taken out of the kept text by the database, so that a table of a thousand houses reads no house.
"""

from typing import Any, NamedTuple

from sqlalchemy import Connection, func, select

from lacet.store import search
from lacet.store.tables import ITEMS


class Listed(NamedTuple):
    """One item. `parts` are as asked for, in that order: text, number or None; a list is JSON text."""

    id: str
    version: int
    name: str
    retired: bool
    place: str | None
    place_name: str | None
    latitude_deg: float | None
    longitude_deg: float | None
    parts: tuple[Any, ...]


def listed(
    connection: Connection,
    kind: str,
    parts: tuple[str, ...] = (),
    words: str = "",
    *,
    box: search.Box | None = None,
    retired: bool = False,
) -> list[Listed]:
    """The newest versions of the items of a kind that have these words and lie in a box, by name.

    Parameters
    ----------
    parts
        Fields of the value, such as "opening". One that is at its default isn't kept, and is None.
    """
    place = ITEMS.alias("place")
    at_place = (place.c.kind == "place") & place.c.newest & (place.c.id == ITEMS.c.place)
    taken = (func.json_extract(ITEMS.c.body, f"$.{part}") for part in parts)
    own = (ITEMS.c.id, ITEMS.c.version, ITEMS.c.name, ITEMS.c.retired, ITEMS.c.place)
    wanted = (
        select(*own, place.c.name, ITEMS.c.latitude_deg, ITEMS.c.longitude_deg, *taken)
        .select_from(ITEMS.outerjoin(place, at_place))
        .where(ITEMS.c.kind == kind, ITEMS.c.newest)
        .order_by(ITEMS.c.name.collate("NOCASE"), ITEMS.c.id)
    )
    if not retired:
        wanted = wanted.where(~ITEMS.c.retired)
    found = search.rows_with_words(words)
    if found is not None:
        wanted = wanted.where(ITEMS.c.row_id.in_(found))
    if box is not None:
        wanted = wanted.where(ITEMS.c.row_id.in_(search.rows_in_box(box)))
    return [Listed._make((*row[:8], tuple(row[8:]))) for row in connection.execute(wanted)]
