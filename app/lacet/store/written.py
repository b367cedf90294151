"""Which files were written where, so that erasing guest data can tell of them."""

from collections.abc import Iterable
from datetime import UTC, datetime
from pathlib import Path

from sqlalchemy import Connection
from sqlalchemy.dialects.sqlite import insert

from lacet.store.tables import COPIES


def remember_written(connection: Connection, kind: str, trip_id: str | None, targets: Iterable[Path]) -> None:
    """Note where files went; the newest under a path counts."""
    at = datetime.now(UTC).isoformat(timespec="seconds")
    for target in targets:
        made = {"path": str(target.absolute()), "made_at": at, "kind": kind, "trip_id": trip_id}
        again = insert(COPIES).values(made).on_conflict_do_update(index_elements=["path"], set_=made)
        connection.execute(again)
