"""What stands beside a trip's text so that other questions need not read it: bookings and items used."""

from typing import Any

from sqlalchemy import Connection, bindparam, delete, insert, select, update

from lacet.store.tables import BOOKINGS, USES
from lacet.store.uses import uses_of

_COLUMNS = ("id", "service", "supplier", "detail", "from_day", "to_day", "quantity", "state", "option_until")
_KEPT_BOOKINGS = select(*(BOOKINGS.c[name] for name in _COLUMNS)).where(
    BOOKINGS.c.trip_id == bindparam("trip_id")
)
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


def keep_bookings(connection: Connection, trip_id: str, bookings: list[dict[str, Any]]) -> None:
    """Let the table of bookings show those of the trip as it is now."""
    wanted = [tuple(_booking_columns(booking).values()) for booking in bookings]
    kept = connection.execute(_KEPT_BOOKINGS, {"trip_id": trip_id}).all()
    if sorted(map(repr, kept)) == sorted(map(repr, wanted)):
        return
    connection.execute(delete(BOOKINGS).where(BOOKINGS.c.trip_id == trip_id))
    rows = [{"trip_id": trip_id} | _booking_columns(booking) for booking in bookings]
    if rows:
        connection.execute(insert(BOOKINGS), rows)


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


def _booking_columns(booking: dict[str, Any]) -> dict[str, Any]:
    defaults: dict[str, Any] = {"detail": "", "quantity": 1, "state": "requested", "option_until": None}
    whole = defaults | booking
    return {name: whole[name] for name in _COLUMNS}
