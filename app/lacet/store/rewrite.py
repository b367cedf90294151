"""The kept text of other trips changed, all their history through: for erasing guest data only."""

from collections.abc import Callable
from typing import Any

import orjson
from sqlalchemy import Connection, bindparam, select, update

from lacet.store import delta
from lacet.store.keeping import digest_of, json_of
from lacet.store.known_by import KnownBy, composed
from lacet.store.mentions import unpacked
from lacet.store.tables import REVISIONS, TRIPS
from lacet.store.trip_rows import trip_columns
from lacet.trip.plain import from_plain, to_plain
from lacet.trip.texts import Holds, rewritten
from lacet.trip.trip import Trip

ERASED = "[erased]"
_KEEP = (
    update(REVISIONS)
    .where(REVISIONS.c.trip_id == bindparam("of_trip"), REVISIONS.c.revision == bindparam("at"))
    .values(base=None, depth=0, digest=bindparam("new_digest"), body=bindparam("new_body"))
)


def without_names(text: str, known: KnownBy) -> str:
    """A text in which what surely names them is replaced; what is doubtful stays."""
    spans = [span for span in known.spans(text) if span.sure]
    if not spans:
        return text
    plain, at, parts = composed(text), 0, []
    for span in spans:
        parts += [plain[at : span.start], ERASED]
        at = span.end
    return "".join((*parts, plain[at:]))


def redact(connection: Connection, trip_id: str, known: KnownBy) -> bool:
    """Take what surely names them out of the typed texts of a trip, in every revision; tells whether it did.

    The trip's own guests are not touched: where they travel again, that party is to be erased as well.
    """

    def change(whose: Holds, text: str) -> str:
        return text if whose in (Holds.KEY, Holds.GUEST) else without_names(text, known)

    changed = _rewrite(connection, trip_id, lambda trip: rewritten(trip, change))
    rows = connection.execute(select(REVISIONS).where(REVISIONS.c.trip_id == trip_id)).all()
    for row in rows:
        new = {name: without_names(getattr(row, name), known) for name in ("step", "says")}
        if new != {name: getattr(row, name) for name in new}:
            at = (REVISIONS.c.trip_id == trip_id) & (REVISIONS.c.revision == row.revision)
            connection.execute(update(REVISIONS).where(at).values(new))
            changed = True
    return changed


def begun_from(connection: Connection, old_id: str, new_id: str) -> None:
    """Let every trip that was begun from one follow its new id, in every revision."""

    def follow(trip: Trip) -> Trip:
        return rewritten(trip, lambda whose, text: new_id if whose is Holds.KEY and text == old_id else text)

    for trip_id in connection.execute(select(TRIPS.c.id).where(TRIPS.c.id != new_id)).scalars().all():
        _rewrite(connection, trip_id, follow, only_with=f'"started_from":"{old_id}"'.encode())


def _rewrite(
    connection: Connection, trip_id: str, change: Callable[[Trip], Trip], *, only_with: bytes = b""
) -> bool:
    """Change a trip's kept texts. All are then kept whole: differences would be to others."""
    texts = [(row, body) for row, body in unpacked(connection, trip_id)]
    new = [_changed_body(body, change) if only_with in body else body for _, body in texts]
    if new == [body for _, body in texts]:
        return False
    for (row, _), body in zip(texts, new, strict=True):
        columns = {"new_digest": digest_of(body), "new_body": delta.pack(body)}
        connection.execute(_KEEP, columns | {"of_trip": trip_id, "at": row.revision})
    _follow(connection, trip_id, dict(zip((row.revision for row, _ in texts), new, strict=True)))
    return True


def _changed_body(body: bytes, change: Callable[[Trip], Trip]) -> bytes:
    plain: dict[str, Any] = orjson.loads(body)
    party = plain.pop("party", None)
    trip = from_plain(Trip, plain)
    if (new := change(trip)) == trip:
        return body
    made = to_plain(new)
    # In the order in which a trip is kept, so that saving it unchanged makes no revision.
    head = {name: made.pop(name) for name in ("id", "name")}
    return json_of(head | ({} if party is None else {"party": party}) | made)


def _follow(connection: Connection, trip_id: str, bodies: dict[int, bytes]) -> None:
    """Let the list of trips show what the stored revision says now."""
    trip = connection.execute(select(TRIPS).where(TRIPS.c.id == trip_id)).one()
    at = (REVISIONS.c.trip_id == trip_id) & (REVISIONS.c.revision == trip.revision)
    content = connection.execute(select(REVISIONS.c.content).where(at)).scalar_one()
    columns = trip_columns(orjson.loads(bodies[content]), trip.party_row)
    connection.execute(update(TRIPS).where(TRIPS.c.id == trip_id).values(columns))
