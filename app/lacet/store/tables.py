"""The tables as they are now. Migrations make them; a test holds the two together.

What lists and searches select has columns of its own; the whole value is kept beside them as compact
JSON (`trip.plain`) and is the truth. Dates are ISO 8601 text, instants are UTC. Nothing personal stands
outside `parties` and `travellers`, except what a person typed into a trip's own texts.
"""

from typing import Any

from sqlalchemy import (
    Boolean,
    CheckConstraint,
    Column,
    Float,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    Table,
    Text,
    UniqueConstraint,
    text,
)
from sqlalchemy.types import TypeEngine

METADATA = MetaData()


def _needed(name: str, kind: type[TypeEngine[Any]]) -> Column[object]:
    return Column(name, kind, nullable=False)


def _trip_id(primary_key: bool = False) -> Column[str]:
    return Column(
        "trip_id",
        Text,
        ForeignKey("trips.id", ondelete="CASCADE"),
        nullable=False,
        primary_key=primary_key,
    )


def _course() -> tuple[Column[float | None], ...]:
    """The figures and the box of a line; None where unknown."""
    figures = ("distance_m", "ascent_m", "descent_m", "lowest_m", "highest_m")
    box = ("south_deg", "west_deg", "north_deg", "east_deg")
    return (*(Column(name, Float) for name in (*figures, *box)), Column("sparkline", LargeBinary))


# --- library -----------------------------------------------------------------------------------------

ITEMS = Table(
    "items",
    METADATA,
    Column("row_id", Integer, primary_key=True),
    _needed("kind", Text),
    _needed("id", Text),
    _needed("version", Integer),
    _needed("newest", Boolean),
    _needed("retired", Boolean),
    _needed("name", Text),
    Column("place", Text),
    Column("latitude_deg", Float),
    Column("longitude_deg", Float),
    # Digest of the first version kept under this id: tells a newer version from a namesake.
    _needed("origin", Text),
    _needed("digest", Text),
    _needed("body", Text),
    UniqueConstraint("kind", "id", "version"),
    CheckConstraint("version >= 1", name="versions_count_from_one"),
    Index("items_newest", "kind", "id", unique=True, sqlite_where=text("newest")),
    Index("items_named", "kind", "name"),
    Index("items_retired", "kind", "id", "version", sqlite_where=text("retired")),
)

# Every version of an item under its places, or under what a tariff is for (`trip.filing`). Like the version
# itself it never changes, so that a catalogue made before a change can still ask here.
FILED = Table(
    "filed",
    METADATA,
    Column("under", Text, primary_key=True),
    Column("row_id", Integer, ForeignKey("items.row_id"), primary_key=True),
    sqlite_with_rowid=False,
)

TRACKS = Table(
    "tracks",
    METADATA,
    Column("id", Text, primary_key=True),  # digest of the packed points
    _needed("points", Integer),
    *_course(),
    Column("outline", LargeBinary, nullable=False),  # the 5 m line, for maps
    Column("packed", LargeBinary, nullable=False),
)

# What lists show of a stage. The figures are the track's own, repeated here so that a list of ten thousand
# reads one narrow table from end to end.
STAGES = Table(
    "stages",
    METADATA,
    Column("row_id", Integer, ForeignKey("items.row_id"), primary_key=True),
    _needed("id", Text),
    _needed("version", Integer),
    _needed("newest", Boolean),
    _needed("retired", Boolean),
    _needed("name", Text),
    _needed("from_place", Text),
    _needed("to_place", Text),
    _needed("from_name", Text),
    _needed("to_name", Text),
    _needed("ways", Text),  # "walking", "cycling" or both with a blank between
    Column("walking_footing", Text),
    Column("cycling_footing", Text),
    _needed("track_id", Text),
    *_course(),
    Index("stages_newest", "id", unique=True, sqlite_where=text("newest")),
)

SETTINGS = Table(
    "settings",
    METADATA,
    Column("kind", Text, primary_key=True),
    Column("version", Integer, primary_key=True),
    _needed("digest", Text),
    _needed("body", Text),
)

COUNTERS = Table(
    "counters",
    METADATA,
    Column("name", Text, primary_key=True),
    _needed("value", Integer),
)

# --- trips -------------------------------------------------------------------------------------------

TRIPS = Table(
    "trips",
    METADATA,
    Column("id", Text, primary_key=True),
    _needed("revision", Integer),
    _needed("name", Text),
    Column("start", Text),
    Column("month", Integer),
    _needed("standard", Boolean),
    _needed("agent", Text),
    _needed("variants", Text),  # JSON: id, name, number of days
    Column("accepted", Text),
    Column("party_row", Integer),
    _needed("changed_at", Text),
)

REVISIONS = Table(
    "revisions",
    METADATA,
    _trip_id(primary_key=True),
    Column("revision", Integer, primary_key=True),
    # The revision whose body this one shows: its own, or an earlier one after undo and redo.
    _needed("content", Integer),
    Column("base", Integer),  # the revision that `body` is a difference to; NULL = complete
    Column("depth", Integer),  # differences from here to a complete body
    Column("digest", Text),  # of the text that `body` unpacks to
    Column("body", LargeBinary),
    Column("undo_to", Integer),
    Column("redo_to", Integer),
    _needed("step", Text),  # the edit that led to the contents
    _needed("says", Text),  # what was done now: the edit, "undo ..." or "redo ..."
    _needed("saved_at", Text),
)

PARTIES = Table(
    "parties",
    METADATA,
    Column("row_id", Integer, primary_key=True),
    _trip_id(),
    _needed("digest", Text),
    _needed("name", Text),
    _needed("address", Text),
    _needed("rest", Text),
    Index("parties_by_trip", "trip_id"),
)

TRAVELLERS = Table(
    "travellers",
    METADATA,
    Column("row_id", Integer, primary_key=True),
    _trip_id(),
    _needed("id", Text),
    _needed("digest", Text),
    _needed("name", Text),
    Column("age", Integer),
    Column("height_cm", Float),
    Column("mass_kg", Float),
    _needed("needs", Text),
    _needed("emergency_contact", Text),
    _needed("telephone", Text),
    _needed("email", Text),
    _needed("rest", Text),
    Index("travellers_by_trip", "trip_id"),
)

# What was asked of suppliers as it stands now: the body is the truth, the columns are for questions over all.
BOOKINGS = Table(
    "bookings",
    METADATA,
    _trip_id(primary_key=True),
    Column("id", Text, primary_key=True),
    _needed("revision", Integer),  # counts the acts on this booking, from 1
    _needed("service", Text),
    _needed("supplier", Text),
    _needed("detail", Text),
    _needed("from_day", Text),
    _needed("to_day", Text),
    _needed("quantity", Integer),
    _needed("state", Text),
    Column("option_until", Text),
    _needed("body", Text),
)

# Every act on a booking, the last one that of the row above. A booking taken out has no row there.
BOOKING_STEPS = Table(
    "booking_steps",
    METADATA,
    Column("number", Integer, primary_key=True),
    _trip_id(),
    _needed("booking_id", Text),
    _needed("revision", Integer),
    Column("body", Text),  # as it was after the act; NULL = taken out
    _needed("says", Text),
    _needed("by", Text),  # who, as the system knows them; '' = from before this was noted
    _needed("at", Text),
    _needed("act", Text),  # tells an act whose answer was lost from one that wasn't done; '' = none
    UniqueConstraint("trip_id", "booking_id", "revision"),
    Index("booking_steps_by_trip", "trip_id", "number"),
)

USES = Table(
    "uses",
    METADATA,
    _trip_id(primary_key=True),
    Column("kind", Text, primary_key=True),
    Column("id", Text, primary_key=True),
    Column("version", Integer, primary_key=True),
    _needed("current", Boolean),  # False: only earlier revisions use it
    Index("uses_of_item", "kind", "id", "version"),
)

DOCUMENTS = Table(
    "documents",
    METADATA,
    Column("number", Integer, primary_key=True),
    _trip_id(),
    _needed("variant_id", Text),
    _needed("kind", Text),
    _needed("revision", Integer),
    _needed("issued_at", Text),
    _needed("digest", Text),
    _needed("media_type", Text),
    _needed("figures", Text),  # what may be kept when the guests are forgotten
    Column("payload", LargeBinary),  # as issued; NULL once the guests are forgotten
    Index("documents_by_trip", "trip_id"),
)

# --- the rest ----------------------------------------------------------------------------------------

PICTURES = Table(
    "pictures",
    METADATA,
    Column("id", Text, primary_key=True),  # digest of the bytes
    _needed("media_type", Text),
    _needed("width", Integer),
    _needed("height", Integer),
    _needed("alt", Text),
    _needed("credit", Text),
    Column("payload", LargeBinary, nullable=False),
)

# Files written to places of a person's choice, so that erasing guest data can tell of them.
COPIES = Table(
    "copies",
    METADATA,
    Column("path", Text, primary_key=True),
    _needed("made_at", Text),
    Column("kind", Text, nullable=False, server_default="backup"),
    Column("trip_id", Text),  # NULL: all of them, as in a backup
)

# Virtual tables of SQLite, made by the first migration; `search` alone reads and writes them.
VIRTUAL = ("search_text", "search_box")
