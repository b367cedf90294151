"""What stands beside a trip's text so that other questions need not read it: the items it uses."""

from typing import Any

from sqlalchemy import Connection, bindparam, insert, select, update

from lacet.store.tables import USES
from lacet.store.uses import uses_of

_KEPT_USES = select(USES.c.kind, USES.c.id, USES.c.version, USES.c.current).where(
    USES.c.trip_id == bindparam("trip_id")
)
_SET_CURRENT = (
    update(USES)
    .where(
        USES.c.trip_id == bindparam("trip"),
        USES.c.kind == bindparam("of_kind"),
        USES.c.id == bindparam("of_id"),
        USES.c.version == bindparam("of_version"),
    )
    .values(current=bindparam("is_current"))
)


def keep_uses(connection: Connection, trip_id: str, plain: dict[str, Any]) -> None:
    """Let the table of uses show what the trip points at now, and what only its history does."""
    wanted = uses_of(plain)
    kept = {(row[0], row[1], row[2]): row[3] for row in connection.execute(_KEPT_USES, {"trip_id": trip_id})}
    new = [
        {"trip_id": trip_id, "kind": kind, "id": item, "version": version, "current": True}
        for kind, item, version in sorted(wanted - kept.keys())
    ]
    if new:
        connection.execute(insert(USES), new)
    moved = [
        {
            "trip": trip_id,
            "of_kind": use[0],
            "of_id": use[1],
            "of_version": use[2],
            "is_current": use in wanted,
        }
        for use, current in kept.items()
        if current != (use in wanted)
    ]
    if moved:
        connection.execute(_SET_CURRENT, moved)
