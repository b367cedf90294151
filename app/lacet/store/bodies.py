"""The bodies of revisions: packed as differences, unpacked through their chain, remembered when fresh.

A body is a difference to the one before it (`delta`), and every so often a complete one, so that no
chain is longer than `LONGEST_CHAIN`. What a text should be is known by its digest.
"""

import struct
import zlib
from typing import Any

from sqlalchemy import Connection, bindparam, select

from lacet.store import delta
from lacet.store.errors import DamagedFile, UnknownTrip
from lacet.store.keeping import digest_of
from lacet.store.tables import REVISIONS

LONGEST_CHAIN = 31
REMEMBERED = 16

_BODY = select(REVISIONS.c.base, REVISIONS.c.depth, REVISIONS.c.digest, REVISIONS.c.body).where(
    REVISIONS.c.trip_id == bindparam("trip_id"), REVISIONS.c.revision == bindparam("revision")
)


class RecentTexts:
    """The last texts read or written, by digest, so that saving need not unpack what was just saved."""

    def __init__(self) -> None:
        self._texts: dict[str, bytes] = {}

    def get(self, digest: str) -> bytes | None:
        return self._texts.get(digest)

    def put(self, digest: str, text: bytes) -> None:
        self._texts[digest] = text
        while len(self._texts) > REMEMBERED:
            self._texts.pop(next(iter(self._texts)), None)

    def clear(self) -> None:
        self._texts.clear()


class Bodies:
    """Texts of revisions within one unit of work."""

    def __init__(self, connection: Connection, recent: RecentTexts) -> None:
        self._connection = connection
        self._recent = recent

    def read(self, trip_id: str, content: int) -> bytes:
        """The text of the revision that holds these contents.

        Raises
        ------
        UnknownTrip, DamagedFile
        """
        row = self._row(trip_id, content)
        text = self._recent.get(row.digest)
        if text is None:
            text = self._unpacked(trip_id, content, row)
            self._recent.put(row.digest, text)
        return text

    def columns(self, trip_id: str, text: bytes, previous: int | None) -> dict[str, Any]:
        """Columns that keep a text, as a difference to an earlier revision's where that is shorter."""
        digest = digest_of(text)
        self._recent.put(digest, text)
        complete = {"base": None, "depth": 0, "digest": digest}
        if previous is None:
            return complete | {"body": delta.pack(text)}
        depth = self._row(trip_id, previous).depth + 1
        if depth > LONGEST_CHAIN:
            return complete | {"body": delta.pack(text)}
        body = delta.pack(text, self.read(trip_id, previous))
        return {"base": previous, "depth": depth, "digest": digest, "body": body}

    def _row(self, trip_id: str, content: int) -> Any:
        row = self._connection.execute(_BODY, {"trip_id": trip_id, "revision": content}).first()
        if row is None or row.body is None:
            raise UnknownTrip(
                "There is no revision {content} of this trip. Choose one of its history.", content=content
            )
        return row

    def _unpacked(self, trip_id: str, content: int, row: Any) -> bytes:
        chain = [row]
        while chain[-1].base is not None:
            chain.append(self._row(trip_id, chain[-1].base))
        text: bytes | None = None
        try:
            for link in reversed(chain):
                text = delta.unpack(link.body, text)
        except (zlib.error, struct.error, ValueError):
            text = None
        if text is None or digest_of(text) != row.digest:
            raise DamagedFile(
                "Revision {content} of this trip is damaged. Open an earlier one, or restore a backup.",
                content=content,
            )
        return text
