"""Bookings leave the trips: rows of their own, with a history taken from the revisions that held them.

A step of a trip's history that only booked something changes nothing in the trip any more: undo and redo pass
over it. What was issued keeps its bookings as they were.
"""

from collections.abc import Sequence
from functools import partial
from typing import Any

import sqlalchemy as sa
from alembic import op

from lacet.store.migrations.texts import REVISIONS, compact, rewrite

revision = "0008"
down_revision = "0007"

_TRIPS = sa.table("trips", sa.column("id", sa.Text), sa.column("revision", sa.Integer))
_COLUMNS = ("service", "supplier", "detail", "from_day", "to_day", "quantity", "state", "option_until")
_DEFAULTS = {"detail": "", "quantity": 1, "state": "requested", "option_until": None}
_Booked = dict[str, dict[str, Any]]


def upgrade() -> None:
    connection = op.get_bind()
    listed = _as_listed(connection)
    op.drop_table("bookings")
    bookings, steps = _make_tables()
    for trip_id, stored in connection.execute(sa.select(_TRIPS.c.id, _TRIPS.c.revision)).all():
        held: dict[int, _Booked] = {}
        rewrite(connection, trip_id, partial(_without, held))
        rows = connection.execute(
            sa.select(REVISIONS).where(REVISIONS.c.trip_id == trip_id).order_by(REVISIONS.c.revision)
        ).all()
        told = _Told(trip_id)
        for row in rows:
            if row.content in held:
                told.follow(held[row.content], row.says, row.saved_at)
        content = {row.revision: row.content for row in rows}.get(stored)
        if content not in held and rows:
            # The trip itself can't be read; of its bookings the list told the most.
            told.follow(listed.get(trip_id, {}), "", rows[-1].saved_at)
        told.write(connection, bookings, steps)
        if any(held.values()):
            _pass_over_steps(connection, trip_id, rows)


def _make_tables() -> tuple[sa.Table, sa.Table]:
    trip = ("trips.id",)
    bookings = op.create_table(
        "bookings",
        sa.Column(
            "trip_id", sa.Text, sa.ForeignKey(*trip, ondelete="CASCADE"), primary_key=True, nullable=False
        ),
        sa.Column("id", sa.Text, primary_key=True),
        sa.Column("revision", sa.Integer, nullable=False),
        sa.Column("service", sa.Text, nullable=False),
        sa.Column("supplier", sa.Text, nullable=False),
        sa.Column("detail", sa.Text, nullable=False),
        sa.Column("from_day", sa.Text, nullable=False),
        sa.Column("to_day", sa.Text, nullable=False),
        sa.Column("quantity", sa.Integer, nullable=False),
        sa.Column("state", sa.Text, nullable=False),
        sa.Column("option_until", sa.Text),
        sa.Column("body", sa.Text, nullable=False),
    )
    steps = op.create_table(
        "booking_steps",
        sa.Column("number", sa.Integer, primary_key=True),
        sa.Column("trip_id", sa.Text, sa.ForeignKey(*trip, ondelete="CASCADE"), nullable=False),
        sa.Column("booking_id", sa.Text, nullable=False),
        sa.Column("revision", sa.Integer, nullable=False),
        sa.Column("body", sa.Text),
        sa.Column("says", sa.Text, nullable=False),
        sa.Column("by", sa.Text, nullable=False),
        sa.Column("at", sa.Text, nullable=False),
        sa.Column("act", sa.Text, nullable=False),
        sa.UniqueConstraint("trip_id", "booking_id", "revision"),
    )
    op.create_index("booking_steps_by_trip", "booking_steps", ["trip_id", "number"])
    return bookings, steps


def _as_listed(connection: sa.Connection) -> dict[str, _Booked]:
    """What the old table showed of each trip's bookings."""
    names = ("trip_id", "id", *_COLUMNS)
    old = sa.table("bookings", *(sa.column(name) for name in names))
    found: dict[str, _Booked] = {}
    for row in connection.execute(sa.select(old)).mappings():
        plain = {name: row[name] for name in ("id", *_COLUMNS) if row[name] is not None}
        found.setdefault(row["trip_id"], {})[row["id"]] = plain
    return found


def _without(held: dict[int, _Booked], number: int, plain: dict[str, Any]) -> dict[str, Any]:
    held[number] = {each["id"]: each for each in plain.pop("bookings", [])}
    return plain


class _Told:
    """Steps of the bookings of one trip, as its revisions tell them."""

    def __init__(self, trip_id: str) -> None:
        self._trip_id = trip_id
        self._now: _Booked = {}
        self._counts: dict[str, int] = {}
        self._steps: list[dict[str, Any]] = []

    def follow(self, then: _Booked, says: str, at: str) -> None:
        for booking_id in dict.fromkeys((*self._now, *then)):
            after = then.get(booking_id)
            if after == self._now.get(booking_id):
                continue
            self._counts[booking_id] = self._counts.get(booking_id, 0) + 1
            self._steps.append(
                {
                    "trip_id": self._trip_id, "booking_id": booking_id, "revision": self._counts[booking_id],
                    "body": None if after is None else compact(after),
                    "says": says, "by": "", "at": at, "act": "",
                }
            )  # fmt: skip
        self._now = then

    def write(self, connection: sa.Connection, bookings: sa.Table, steps: sa.Table) -> None:
        rows = [
            {name: (_DEFAULTS | plain)[name] for name in _COLUMNS}
            | {"trip_id": self._trip_id, "id": booking_id, "revision": self._counts[booking_id]}
            | {"body": compact(plain)}
            for booking_id, plain in self._now.items()
        ]
        for table, made in ((bookings, rows), (steps, self._steps)):
            if made:
                connection.execute(sa.insert(table), made)


def _pass_over_steps(connection: sa.Connection, trip_id: str, rows: Sequence[Any]) -> None:
    """Let undo and redo lead to where the trip is another."""
    digests = sa.select(REVISIONS.c.revision, REVISIONS.c.digest).where(REVISIONS.c.trip_id == trip_id)
    digest_of = {row.revision: row.digest for row in connection.execute(digests)}
    texts = {row.revision: digest_of[row.content] for row in rows}
    ways: dict[int, tuple[int | None, int | None, str]] = {}
    for row in rows:
        undo_to, redo_to, step = row.undo_to, row.redo_to, row.step
        if undo_to in ways and texts[undo_to] == texts[row.revision]:
            undo_to, _, step = ways[undo_to]
        if redo_to in ways and texts[redo_to] == texts[row.revision]:
            redo_to = ways[redo_to][1]
        ways[row.revision] = undo_to, redo_to, step
        if (undo_to, redo_to, step) != (row.undo_to, row.redo_to, row.step):
            here = (REVISIONS.c.trip_id == trip_id) & (REVISIONS.c.revision == row.revision)
            new = {"undo_to": undo_to, "redo_to": redo_to, "step": step}
            connection.execute(sa.update(REVISIONS).where(here).values(new))
