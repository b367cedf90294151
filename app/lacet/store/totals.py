"""Totals of variants as lists show them, each with the revision and the digest of what it was reckoned from.

What goes into a digest is for those who reckon; here it is text that is equal or not.
"""

from datetime import UTC, datetime
from typing import NamedTuple

from sqlalchemy import Connection, select
from sqlalchemy.dialects.sqlite import insert

from lacet.store.tables import TOTALS


class TotalsRow(NamedTuple):
    """The kept totals of one variant; `totals_json` is whatever was given."""

    trip_id: str
    variant_id: str
    revision: int
    digest: str
    totals_json: str


class Totals:
    """Kept totals within one unit of work."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def save(self, trip_id: str, variant_id: str, revision: int, digest: str, totals_json: str) -> None:
        """Keep the totals of a variant in place of its last ones."""
        row = TotalsRow(trip_id, variant_id, revision, digest, totals_json)
        values = dict(zip(_COLUMNS, row, strict=True)) | {"saved_at": datetime.now(UTC).isoformat()}
        putting = insert(TOTALS).values(values)
        new = {name: putting.excluded[name] for name in (*_COLUMNS[2:], "saved_at")}
        self._connection.execute(putting.on_conflict_do_update(index_elements=_COLUMNS[:2], set_=new))

    def rows(self) -> list[TotalsRow]:
        """The kept totals of all variants of all trips, gone variants included."""
        found = self._connection.execute(select(*(TOTALS.c[name] for name in _COLUMNS)))
        return [TotalsRow._make(row) for row in found]


_COLUMNS = ["trip_id", "variant_id", "revision", "digest", "body"]
