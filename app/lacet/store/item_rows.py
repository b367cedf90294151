"""Library items of any kind as lists show them: name, place, position."""

from typing import NamedTuple

from sqlalchemy import Connection, select

from lacet.store import search
from lacet.store.tables import ITEMS


class ItemRow(NamedTuple):
    """What a list shows of an item. `place_name` is the place's own; positions [degrees]."""

    id: str
    version: int
    name: str
    place: str | None
    place_name: str | None
    latitude_deg: float | None
    longitude_deg: float | None
    retired: bool


def item_rows(connection: Connection, kind: str, words: str, *, retired: bool) -> list[ItemRow]:
    """The newest versions of the items of a kind that have these words, by name."""
    place = ITEMS.alias("place")
    at_place = (place.c.kind == "place") & place.c.newest & (place.c.id == ITEMS.c.place)
    wanted = (
        select(
            ITEMS.c.id,
            ITEMS.c.version,
            ITEMS.c.name,
            ITEMS.c.place,
            place.c.name,
            ITEMS.c.latitude_deg,
            ITEMS.c.longitude_deg,
            ITEMS.c.retired,
        )
        .select_from(ITEMS.outerjoin(place, at_place))
        .where(ITEMS.c.kind == kind, ITEMS.c.newest)
        .order_by(ITEMS.c.name.collate("NOCASE"), ITEMS.c.id)
    )
    if not retired:
        wanted = wanted.where(~ITEMS.c.retired)
    found = search.rows_with_words(words)
    if found is not None:
        wanted = wanted.where(ITEMS.c.row_id.in_(found))
    return [ItemRow._make(row) for row in connection.execute(wanted)]
