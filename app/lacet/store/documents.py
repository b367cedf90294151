"""Documents as they were issued: quotes, proposals, packs. Frozen: added, read, never changed.

Their bytes name guests, so they go when the guests are forgotten; the figures given beside them stay.
"""

from datetime import UTC, datetime
from typing import NamedTuple

from sqlalchemy import Connection, insert, select

from lacet.store.errors import StoreError
from lacet.store.keeping import decoding
from lacet.store.tables import DOCUMENTS


class NoSuchDocument(StoreError):
    """No document has this number, or its guests were forgotten."""


class DocumentRow(NamedTuple):
    """What a list shows of an issued document. `forgotten`: its bytes went with the guests."""

    number: int
    trip_id: str
    variant_id: str
    kind: str
    revision: int
    issued_at: datetime
    digest: str
    media_type: str
    figures: str
    forgotten: bool


class Documents:
    """Issued documents within one unit of work."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def freeze(
        self,
        kind: str,
        trip_id: str,
        variant_id: str,
        revision: int,
        payload: bytes,
        *,
        issued_at: datetime,
        digest: str,
        media_type: str,
        figures: str = "",
    ) -> int:
        """Keep a document as issued and return its number.

        Parameters
        ----------
        digest
            Of the inputs it rests on.
        figures
            What is to be kept when the guests are forgotten (totals, prices); no names.
        """
        made = self._connection.execute(
            insert(DOCUMENTS).values(
                kind=kind,
                trip_id=trip_id,
                variant_id=variant_id,
                revision=revision,
                issued_at=issued_at.astimezone(UTC).isoformat(timespec="seconds"),
                digest=digest,
                media_type=media_type,
                figures=figures,
                payload=payload,
            )
        )
        return int(made.lastrowid)

    def rows(self, trip_id: str | None = None) -> list[DocumentRow]:
        """Documents of one trip or of all, in the order they were issued."""
        names = [name for name in DocumentRow._fields if name != "forgotten"]
        forgotten = DOCUMENTS.c.payload.is_(None).label("forgotten")
        wanted = select(*(DOCUMENTS.c[name] for name in names), forgotten).order_by(DOCUMENTS.c.number)
        if trip_id is not None:
            wanted = wanted.where(DOCUMENTS.c.trip_id == trip_id)
        rows = map(DocumentRow._make, self._connection.execute(wanted))
        with decoding("a document"):
            return [row._replace(issued_at=datetime.fromisoformat(str(row.issued_at))) for row in rows]

    def payload(self, number: int) -> bytes:
        """The bytes as issued.

        Raises
        ------
        NoSuchDocument
        """
        found: bytes | None = self._connection.execute(
            select(DOCUMENTS.c.payload).where(DOCUMENTS.c.number == number)
        ).scalar()
        if found is None:
            raise NoSuchDocument(
                "Document {number} isn't kept: its guests were forgotten, or it never was.", number=number
            )
        return found
