"""Where a file names guests: every text of every table, unpacked, and read word by word.

Tables and columns are those of `tables`, whichever they are, so that a new one is searched without being
thought of. What can't be read (documents in PDF, pictures) is told.
"""

import html
from collections.abc import Iterator
from typing import Any, NamedTuple

import orjson
from sqlalchemy import Connection, LargeBinary, Table, select

from lacet.store import delta
from lacet.store.known_by import KnownBy, composed
from lacet.store.tables import DOCUMENTS, METADATA, PICTURES, REVISIONS, TRACKS, TRIPS

# Points and lines of tracks hold numbers only.
_NUMBERS = frozenset(
    {("tracks", "packed"), ("tracks", "outline"), ("tracks", "sparkline"), ("stages", "sparkline")}
)
_AROUND = 24
_TRIPS_OWN = "trips", "revisions", "parties", "travellers", "bookings", "booking_steps", "documents"


class Mention(NamedTuple):
    """A place that names guests. `trip_id` None = not in a trip; `says` is the text around the name."""

    where: str
    trip_id: str | None
    says: str
    sure: bool


class Searched(NamedTuple):
    """What a search found, how many texts it read, and sentences on what it can't read."""

    mentions: tuple[Mention, ...]
    texts: int
    unread: tuple[str, ...]


class _Text(NamedTuple):
    where: str
    trip_id: str | None
    text: str


def search(connection: Connection, known: KnownBy) -> Searched:
    """Read every text a file keeps and tell where it names them."""
    names = {row.id: row.name for row in connection.execute(select(TRIPS.c.id, TRIPS.c.name))}
    found: dict[Mention, None] = {}
    count = 0
    for where, trip_id, whole in _texts(connection, names):
        for text in strings_in(whole):
            count += 1
            for span in known.spans(text):
                plain = composed(text)
                says = plain[max(span.start - _AROUND, 0) : span.end + _AROUND].strip()
                found[Mention(where, trip_id, " ".join(says.split()), span.sure)] = None
    return Searched(tuple(found), count, tuple(_unread(connection, names)))


def strings_in(text: str) -> Iterator[str]:
    """The texts within a kept text: those of its JSON, without escapes, or itself."""
    if text[:1] in ("{", "["):
        try:
            yield from _strings(orjson.loads(text))
        except orjson.JSONDecodeError:
            pass
        else:
            return
    yield html.unescape(text)


def _strings(data: Any) -> Iterator[str]:
    if isinstance(data, str):
        yield data
    elif isinstance(data, list):
        for part in data:
            yield from _strings(part)
    elif isinstance(data, dict):
        for name, part in data.items():
            # Names of fields are our own; other keys (of prices by guest) are texts like any.
            yield from (name,) if not name.isidentifier() else ()
            yield from _strings(part)


def _texts(connection: Connection, names: dict[str, str]) -> Iterator[_Text]:
    for table in METADATA.sorted_tables:
        if table is REVISIONS:
            yield from _revisions(connection, names)
        elif table is not TRACKS:
            for row in connection.execute(select(*_columns(table))):
                where, trip_id = _where(table, row, names)
                for value in row:
                    text = _as_text(value)
                    if text:
                        yield _Text(where, trip_id, text)


def _columns(table: Table) -> list[Any]:
    return [
        column
        for column in table.columns
        if (table.name, column.name) not in _NUMBERS
        and not (table is PICTURES and isinstance(column.type, LargeBinary))
    ]


def _as_text(value: Any) -> str:
    if isinstance(value, bytes):
        return "" if value[:5] == b"%PDF-" else value.decode(errors="replace")
    return value if isinstance(value, str) else ""


def unpacked(connection: Connection, trip_id: str) -> Iterator[tuple[Any, bytes]]:
    """Each revision of a trip that has a body of its own, oldest first: its row and its text."""
    rows = connection.execute(
        select(REVISIONS).where(REVISIONS.c.trip_id == trip_id).order_by(REVISIONS.c.revision)
    ).all()
    texts: dict[int, bytes] = {}
    for row in rows:
        if row.body is not None:
            texts[row.revision] = delta.unpack(row.body, None if row.base is None else texts[row.base])
            yield row, texts[row.revision]


def _revisions(connection: Connection, names: dict[str, str]) -> Iterator[_Text]:
    for trip_id, name in names.items():
        where = f"trip '{name}' ({trip_id})"
        seen: set[str] = set()
        for _, body in unpacked(connection, trip_id):
            # A revision repeats most of the one before: each text counts once.
            fresh = set(strings_in(body.decode(errors="replace"))) - seen
            seen |= fresh
            yield from (_Text(where, trip_id, text) for text in sorted(fresh))
        steps = select(REVISIONS.c.step, REVISIONS.c.says).where(REVISIONS.c.trip_id == trip_id)
        for row in connection.execute(steps):
            yield from (_Text(f"{where}, its history", trip_id, text) for text in row)


def _where(table: Table, row: Any, names: dict[str, str]) -> tuple[str, str | None]:
    trip_id = row.id if table is TRIPS else getattr(row, "trip_id", None)
    if table.name in _TRIPS_OWN and trip_id is not None:
        part = f", document {row.number} ({row.kind})" if table is DOCUMENTS else ""
        guests = ", its guests" if table.name in ("parties", "travellers") else ""
        return f"trip '{names.get(trip_id, trip_id)}' ({trip_id}){part}{guests}", trip_id
    match table.name:
        case "items":
            return f"library, {row.kind} '{row.name}' ({row.id}), version {row.version}", None
        case "settings":
            return f"settings, {row.kind}", None
        case "pictures":
            return "library, the words of a picture", None
        case "copies":
            return "the list of files written", None
    return f"library, {table.name}", None


def _unread(connection: Connection, names: dict[str, str]) -> Iterator[str]:
    rows = select(DOCUMENTS.c.number, DOCUMENTS.c.trip_id, DOCUMENTS.c.media_type)
    for row in connection.execute(rows.where(DOCUMENTS.c.payload.is_not(None))):
        if row.media_type == "application/pdf":
            yield f"document {row.number} of '{names.get(row.trip_id, row.trip_id)}' is a PDF"
    if connection.execute(select(PICTURES.c.id).limit(1)).first() is not None:
        yield "pictures: only their words were read, not what they show"
