"""Texts of kept revisions, as migrations change them: plain data in and out, each body the difference it was.

A revision that can't be read stays as it is, and so do those that rest on it: they were lost before.
"""

import hashlib
import json
import struct
import zlib
from collections.abc import Callable
from typing import Any

import sqlalchemy as sa

from lacet.store import delta

REVISIONS = sa.table(
    "revisions",
    sa.column("trip_id", sa.Text),
    sa.column("revision", sa.Integer),
    sa.column("content", sa.Integer),
    sa.column("base", sa.Integer),
    sa.column("digest", sa.Text),
    sa.column("body", sa.LargeBinary),
    sa.column("undo_to", sa.Integer),
    sa.column("redo_to", sa.Integer),
    sa.column("step", sa.Text),
    sa.column("says", sa.Text),
    sa.column("saved_at", sa.Text),
)


def rewrite(
    connection: sa.Connection, trip_id: str, change: Callable[[int, dict[str, Any]], dict[str, Any]]
) -> None:
    """Pass the plain data of each revision that has a body through `change(revision, plain)`."""
    ours = (REVISIONS.c.trip_id == trip_id) & REVISIONS.c.body.is_not(None)
    found = sa.select(REVISIONS).where(ours).order_by(REVISIONS.c.revision)
    before: dict[int, bytes] = {}
    after: dict[int, bytes] = {}
    for row in connection.execute(found).all():
        text = _text(row, before)
        if text is None:
            continue
        new = compact(change(row.revision, json.loads(text))).encode()
        before[row.revision], after[row.revision] = text, new
        body = delta.pack(new, None if row.base is None else after[row.base])
        here = (REVISIONS.c.trip_id == trip_id) & (REVISIONS.c.revision == row.revision)
        connection.execute(sa.update(REVISIONS).where(here).values(body=body, digest=_digest(new)))


def compact(plain: Any) -> str:
    """Plain data as it is kept."""
    return json.dumps(plain, ensure_ascii=False, separators=(",", ":"))


def _text(row: Any, before: dict[int, bytes]) -> bytes | None:
    if row.base is not None and row.base not in before:
        return None
    try:
        text = delta.unpack(row.body, None if row.base is None else before[row.base])
    except (zlib.error, struct.error, ValueError):
        return None
    return text if _digest(text) == row.digest else None


def _digest(text: bytes) -> str:
    return hashlib.blake2b(text, digest_size=16).hexdigest()
