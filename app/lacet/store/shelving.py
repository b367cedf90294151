"""Puts one version of an item into the tables: its body, what lists show of it, what searches find.

Only the newest version of an item is listed and found. Place names are repeated in lists and in the
index, so a place that gets a new name is told to everything that lies at it.
"""

from typing import Any

from sqlalchemy import Connection, bindparam, insert, select, update

from lacet.store import lines, search
from lacet.store.keeping import decoding, digest_of, value_of
from lacet.store.kinds import KINDS, columns_of, kind_name, position, searched_notes
from lacet.store.stage_rows import stage_columns
from lacet.store.tables import COUNTERS, FILED, ITEMS, STAGES
from lacet.trip.filing import filed_under, place_ids
from lacet.trip.library import LibraryItem, Place, Stage

_NEWEST = select(ITEMS.c.row_id, ITEMS.c.version, ITEMS.c.origin, ITEMS.c.name).where(
    ITEMS.c.kind == bindparam("kind"), ITEMS.c.id == bindparam("id"), ITEMS.c.newest
)
_INSERT_ITEM = insert(ITEMS)
_INSERT_STAGE = insert(STAGES)
_FILE = insert(FILED)


def shelve(connection: Connection, item: LibraryItem, body: str, origin: str | None = None) -> None:
    """Keep a version that isn't there yet; `body` is the text of the whole item."""
    before = connection.execute(_NEWEST, {"kind": kind_name(type(item)), "id": item.id}).first()
    newest = before is None or before.version < item.version
    if before is not None and newest:
        _no_longer_newest(connection, before.row_id)
    _insert(connection, item, body, newest, origin if before is None else before.origin)
    if isinstance(item, Place) and before is not None and newest and before.name != item.name:
        _tell_new_name(connection, item)
    count_change(connection)


def count_change(connection: Connection) -> None:
    """Let every kept catalogue know that it is out of date."""
    connection.execute(
        update(COUNTERS).where(COUNTERS.c.name == "library").values(value=COUNTERS.c.value + 1)
    )


def _insert(connection: Connection, item: LibraryItem, body: str, newest: bool, origin: str | None) -> None:
    digest = digest_of(body)
    columns = columns_of(item) | {
        "kind": kind_name(type(item)),
        "id": item.id,
        "version": item.version,
        "newest": newest,
        "origin": origin or digest,
        "digest": digest,
        "body": body,
    }
    made = connection.execute(_INSERT_ITEM, columns).inserted_primary_key
    assert made is not None, "an item's row has a number"
    row_id: int = made[0]
    filed = [{"under": key, "row_id": row_id} for key in filed_under(item)]
    if filed:
        connection.execute(_FILE, filed)
    names = _names_of(connection, place_ids(item))
    course: dict[str, Any] | None = None
    if isinstance(item, Stage):
        course = lines.course_of(connection, item.track_id)
        listed = stage_columns(item, names, course) | {"row_id": row_id, "newest": newest}
        connection.execute(_INSERT_STAGE, listed)
    if newest:
        texts = (item.name, "\n".join(names.values()), searched_notes(item))
        search.put(connection, row_id, texts, _box(item, course))


def _no_longer_newest(connection: Connection, row_id: int) -> None:
    for table in (ITEMS, STAGES):
        connection.execute(update(table).where(table.c.row_id == row_id).values(newest=False))
    search.take_out(connection, row_id)


def _tell_new_name(connection: Connection, place: Place) -> None:
    for end, name in ((STAGES.c.from_place, "from_name"), (STAGES.c.to_place, "to_name")):
        theirs = STAGES.c.row_id.in_(select(FILED.c.row_id).where(FILED.c.under == place.id))
        connection.execute(update(STAGES).where(end == place.id, theirs).values({name: place.name}))
    mention = (
        select(ITEMS.c.row_id, ITEMS.c.kind, ITEMS.c.body)
        .join(FILED, FILED.c.row_id == ITEMS.c.row_id)
        .where(FILED.c.under == place.id, ITEMS.c.newest)
    )
    for row_id, kind, body in connection.execute(mention).all():
        with decoding("the list of items"):
            ids = place_ids(value_of(KINDS[kind], body))
        if place.id in ids:
            search.name_places(connection, row_id, "\n".join(_names_of(connection, ids).values()))


def _names_of(connection: Connection, ids: tuple[str, ...]) -> dict[str, str]:
    """Places by id -> name; an unknown place is called by its id."""
    if not ids:
        return {}
    found = connection.execute(
        select(ITEMS.c.id, ITEMS.c.name).where(ITEMS.c.kind == "place", ITEMS.c.newest, ITEMS.c.id.in_(ids))
    )
    return {place: place for place in ids} | {row.id: row.name for row in found}


def _box(item: LibraryItem, course: dict[str, Any] | None) -> search.Box | None:
    where = position(item)
    if where is not None:
        return search.Box(where[0], where[1], where[0], where[1])
    if course is None or course["south_deg"] is None:
        return None
    return search.Box(course["south_deg"], course["west_deg"], course["north_deg"], course["east_deg"])
