"""The first tables: library, tracks, trips with their revisions, guests apart."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None


def upgrade() -> None:
    _library()
    _search()
    _trips()
    _people()
    _about_trips()


def _course() -> tuple[sa.Column[float | None], ...]:
    names = [
        "distance_m",
        "ascent_m",
        "descent_m",
        "lowest_m",
        "highest_m",
        "south_deg",
        "west_deg",
        "north_deg",
        "east_deg",
    ]
    return (*(sa.Column(name, sa.Float) for name in names), sa.Column("sparkline", sa.LargeBinary))


def _text(name: str) -> sa.Column[str]:
    return sa.Column(name, sa.Text, nullable=False)


def _number(name: str) -> sa.Column[int]:
    return sa.Column(name, sa.Integer, nullable=False)


def _yes_or_no(name: str) -> sa.Column[bool]:
    return sa.Column(name, sa.Boolean, nullable=False)


def _trip_id(*, key: bool = False) -> sa.Column[str]:
    owner = sa.ForeignKey("trips.id", ondelete="CASCADE")
    return sa.Column("trip_id", sa.Text, owner, nullable=False, primary_key=key)


def _library() -> None:
    op.create_table(
        "items",
        sa.Column("row_id", sa.Integer, primary_key=True),
        _text("kind"),
        _text("id"),
        _number("version"),
        _yes_or_no("newest"),
        _yes_or_no("retired"),
        _text("name"),
        sa.Column("place", sa.Text),
        sa.Column("latitude_deg", sa.Float),
        sa.Column("longitude_deg", sa.Float),
        _text("origin"),
        _text("digest"),
        _text("body"),
        sa.UniqueConstraint("kind", "id", "version"),
        sa.CheckConstraint("version >= 1", name="versions_count_from_one"),
    )
    op.create_index("items_newest", "items", ["kind", "id"], unique=True, sqlite_where=sa.text("newest"))
    # What a trip may point at is never changed and never goes; only 'newest' moves on to the next version.
    op.execute(
        "CREATE TRIGGER items_are_kept BEFORE DELETE ON items "
        "WHEN EXISTS (SELECT 1 FROM uses WHERE uses.kind = old.kind AND uses.id = old.id "
        "AND uses.version IN (0, old.version)) "
        "BEGIN SELECT RAISE(ABORT, 'a trip uses this version'); END"
    )
    op.execute(
        "CREATE TRIGGER items_stay_as_they_are BEFORE UPDATE OF kind, id, version, body, digest ON items "
        "BEGIN SELECT RAISE(ABORT, 'a version is never overwritten'); END"
    )
    op.create_table(
        "tracks",
        sa.Column("id", sa.Text, primary_key=True),
        _number("points"),
        *_course(),
        sa.Column("outline", sa.LargeBinary, nullable=False),
        sa.Column("packed", sa.LargeBinary, nullable=False),
    )
    op.create_table(
        "stages",
        sa.Column("row_id", sa.Integer, sa.ForeignKey("items.row_id"), primary_key=True),
        _text("id"),
        _number("version"),
        _yes_or_no("newest"),
        _yes_or_no("retired"),
        _text("name"),
        _text("from_place"),
        _text("to_place"),
        _text("from_name"),
        _text("to_name"),
        _text("ways"),
        sa.Column("walking_footing", sa.Text),
        sa.Column("cycling_footing", sa.Text),
        _text("track_id"),
        *_course(),
    )
    op.create_index("stages_newest", "stages", ["id"], unique=True, sqlite_where=sa.text("newest"))
    op.create_table(
        "settings",
        sa.Column("kind", sa.Text, primary_key=True),
        sa.Column("version", sa.Integer, primary_key=True),
        _text("digest"),
        _text("body"),
    )
    op.create_table("counters", sa.Column("name", sa.Text, primary_key=True), _number("value"))
    op.execute("INSERT INTO counters (name, value) VALUES ('library', 0)")


def _search() -> None:
    op.execute(
        "CREATE VIRTUAL TABLE search_text USING fts5("
        "name, places, notes, tokenize = 'unicode61 remove_diacritics 2', prefix = '1 2 3')"
    )
    op.execute("CREATE VIRTUAL TABLE search_box USING rtree(row_id, south, north, west, east)")


def _trips() -> None:
    op.create_table(
        "trips",
        sa.Column("id", sa.Text, primary_key=True),
        _number("revision"),
        _text("name"),
        sa.Column("start", sa.Text),
        sa.Column("month", sa.Integer),
        _yes_or_no("standard"),
        _text("agent"),
        _text("variants"),
        sa.Column("accepted", sa.Text),
        sa.Column("party_row", sa.Integer),
        _text("changed_at"),
    )
    op.create_table(
        "revisions",
        _trip_id(key=True),
        sa.Column("revision", sa.Integer, primary_key=True),
        _number("content"),
        sa.Column("base", sa.Integer),
        sa.Column("depth", sa.Integer),
        sa.Column("digest", sa.Text),
        sa.Column("body", sa.LargeBinary),
        sa.Column("undo_to", sa.Integer),
        sa.Column("redo_to", sa.Integer),
        _text("step"),
        _text("says"),
        _text("saved_at"),
    )


def _people() -> None:
    op.create_table(
        "parties",
        sa.Column("row_id", sa.Integer, primary_key=True),
        _trip_id(),
        _text("digest"),
        _text("name"),
        _text("address"),
        _text("rest"),
    )
    op.create_index("parties_by_trip", "parties", ["trip_id"])
    op.create_table(
        "travellers",
        sa.Column("row_id", sa.Integer, primary_key=True),
        _trip_id(),
        _text("id"),
        _text("digest"),
        _text("name"),
        sa.Column("age", sa.Integer),
        sa.Column("height_cm", sa.Float),
        sa.Column("mass_kg", sa.Float),
        _text("needs"),
        _text("emergency_contact"),
        _text("telephone"),
        _text("email"),
        _text("rest"),
    )
    op.create_index("travellers_by_trip", "travellers", ["trip_id"])


def _about_trips() -> None:
    op.create_table(
        "bookings",
        _trip_id(key=True),
        sa.Column("id", sa.Text, primary_key=True),
        _text("service"),
        _text("supplier"),
        _text("detail"),
        _text("from_day"),
        _text("to_day"),
        _number("quantity"),
        _text("state"),
        sa.Column("option_until", sa.Text),
    )
    op.create_table(
        "uses",
        _trip_id(key=True),
        sa.Column("kind", sa.Text, primary_key=True),
        sa.Column("id", sa.Text, primary_key=True),
        sa.Column("version", sa.Integer, primary_key=True),
        _yes_or_no("current"),
    )
    op.create_index("uses_of_item", "uses", ["kind", "id", "version"])
    op.create_table(
        "totals",
        _trip_id(key=True),
        sa.Column("variant_id", sa.Text, primary_key=True),
        _number("revision"),
        _text("digest"),
        _text("body"),
        _text("saved_at"),
    )
