"""Kept texts of other trips and the library changed, in all their history: for erasing guest data only."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from typing import Any

import orjson
from sqlalchemy import Connection, bindparam, select, update

from lacet.store import delta, search
from lacet.store.bookings import BookingRows
from lacet.store.keeping import digest_of, json_of, value_of
from lacet.store.kinds import KINDS, searched_notes
from lacet.store.known_by import KnownBy, composed
from lacet.store.mentions import unpacked
from lacet.store.shelving import count_change
from lacet.store.tables import ITEMS, PICTURES, REVISIONS, SETTINGS, TRIPS
from lacet.store.trip_rows import trip_columns
from lacet.trip.plain import from_plain, to_plain
from lacet.trip.texts import Holds, rewritten
from lacet.trip.trip import Trip

ERASED = "[erased]"
# Fields of the library and the settings that hold what somebody wrote, not a name, a term or an id.
FREE_TEXTS = frozenset(
    {"note", "text", "texts", "says", "highlights", "rest_day_ideas", "vat_note", "what_for", "address"}
)
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
    words = partial(without_names, known=known)
    changed |= BookingRows(connection).rewrite(trip_id, lambda each: rewritten(each, change), words)
    rows = connection.execute(select(REVISIONS).where(REVISIONS.c.trip_id == trip_id)).all()
    for row in rows:
        new = {name: without_names(getattr(row, name), known) for name in ("step", "says")}
        if new != {name: getattr(row, name) for name in new}:
            at = (REVISIONS.c.trip_id == trip_id) & (REVISIONS.c.revision == row.revision)
            connection.execute(update(REVISIONS).where(at).values(new))
            changed = True
    return changed


def redact_library(connection: Connection, known: KnownBy) -> tuple[str, ...]:
    """Take what surely names them out of notes and descriptions of library and settings, in all versions.

    What things are called, and the terms that rules and tariffs know them by, stay as they are.

    Returns
    -------
    tuple of str
        What was changed, as a person would look for it.
    """
    changed: dict[str, None] = {}
    items = select(ITEMS.c.row_id, ITEMS.c.kind, ITEMS.c.name, ITEMS.c.body)
    with _versions_may_change(connection):
        for row_id, kind, name, old in connection.execute(items).all():
            body = _free_texts_changed(old, known)
            if body != old:
                new = {"body": body, "digest": digest_of(body)}
                connection.execute(update(ITEMS).where(ITEMS.c.row_id == row_id).values(new))
                search.put_notes(connection, row_id, searched_notes(value_of(KINDS[kind], body)))
                changed[f"{kind} '{name}'"] = None
    settings = select(SETTINGS.c.kind, SETTINGS.c.version, SETTINGS.c.body)
    for kind, version, old in connection.execute(settings).all():
        body = _free_texts_changed(old, known)
        if body != old:
            at = (SETTINGS.c.kind == kind) & (SETTINGS.c.version == version)
            connection.execute(update(SETTINGS).where(at).values(body=body, digest=digest_of(body)))
            changed[f"settings, {kind}"] = None
    pictures = select(PICTURES.c.id, PICTURES.c.alt, PICTURES.c.credit)
    for picture_id, *said in connection.execute(pictures).all():
        alt, credit = (without_names(words, known) for words in said)
        if [alt, credit] != said:
            at = PICTURES.c.id == picture_id
            connection.execute(update(PICTURES).where(at).values(alt=alt, credit=credit))
            changed["the words of a picture"] = None
    if changed:
        count_change(connection)
    return tuple(changed)


@contextmanager
def _versions_may_change(connection: Connection) -> Iterator[None]:
    """Set aside the trigger that keeps versions as they are, within the transaction: erasing alone may."""
    named = "SELECT sql FROM sqlite_schema WHERE type = 'trigger' AND name = 'items_stay_as_they_are'"
    made = connection.exec_driver_sql(named).scalar_one()
    connection.exec_driver_sql("DROP TRIGGER items_stay_as_they_are")
    yield
    connection.exec_driver_sql(made)


def _free_texts_changed(body: str, known: KnownBy) -> str:
    plain = orjson.loads(body)
    new = _changed_under(plain, known, free=False)
    return body if new == plain else json_of(new).decode()


def _changed_under(data: Any, known: KnownBy, *, free: bool) -> Any:
    if isinstance(data, str):
        return without_names(data, known) if free else data
    if isinstance(data, list):
        return [_changed_under(part, known, free=free) for part in data]
    if isinstance(data, dict):
        return {name: _changed_under(part, known, free=name in FREE_TEXTS) for name, part in data.items()}
    return data


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
