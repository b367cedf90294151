"""Trips as lists show them: light rows; the trip itself is not read."""

from datetime import date, datetime
from typing import Any, NamedTuple

import orjson
from sqlalchemy import Connection, func, select

from lacet.store.keeping import decoding, json_of
from lacet.store.tables import PARTIES, TRIPS


class VariantRow(NamedTuple):
    """What a list shows of a variant; `days` is their number."""

    id: str
    name: str
    days: int


class TripRow(NamedTuple):
    """What a list shows of a trip."""

    id: str
    revision: int
    name: str
    party: str
    start: date | None
    month: int | None
    standard: bool
    agent: str
    accepted: str | None
    variants: tuple[VariantRow, ...]
    changed_at: datetime


def trip_rows(connection: Connection) -> list[TripRow]:
    """All trips, the last changed first."""
    found = connection.execute(
        select(TRIPS, func.coalesce(PARTIES.c.name, "").label("party"))
        .select_from(TRIPS.outerjoin(PARTIES, PARTIES.c.row_id == TRIPS.c.party_row))
        .order_by(TRIPS.c.changed_at.desc(), TRIPS.c.id)
    )
    return [_row(row) for row in found]


def trip_columns(plain: dict[str, Any], party_row: int | None) -> dict[str, Any]:
    """What the table of trips shows of one, read off its plain data."""
    variants = [[part["id"], part["name"], len(part.get("days", ()))] for part in plain.get("variants", ())]
    accepted = plain.get("accepted")
    return {
        "name": plain.get("name", ""),
        "start": plain.get("start"),
        "month": plain.get("month"),
        "standard": plain.get("standard", False),
        "agent": plain.get("agent", ""),
        "variants": json_of(variants).decode(),
        "accepted": accepted["variant"] if accepted else None,
        "party_row": party_row,
    }


def _row(row: Any) -> TripRow:
    with decoding("a trip"):
        return TripRow(
            id=row.id,
            revision=row.revision,
            name=row.name,
            party=row.party,
            start=None if row.start is None else date.fromisoformat(row.start),
            month=row.month,
            standard=row.standard,
            agent=row.agent,
            accepted=row.accepted,
            variants=tuple(VariantRow(*part) for part in orjson.loads(row.variants)),
            changed_at=datetime.fromisoformat(row.changed_at),
        )
