"""Which files were written where, so that erasing guest data can tell of them."""

import re
import shutil
from collections.abc import Iterable
from datetime import UTC, datetime
from pathlib import Path

from sqlalchemy import Connection, delete, select
from sqlalchemy.dialects.sqlite import insert

from lacet.store.tables import COPIES


def remember_written(connection: Connection, kind: str, trip_id: str | None, targets: Iterable[Path]) -> None:
    """Note where files went; the newest under a path counts."""
    at = datetime.now(UTC).isoformat(timespec="seconds")
    for target in targets:
        made = {"path": as_text(target.absolute()), "made_at": at, "kind": kind, "trip_id": trip_id}
        again = insert(COPIES).values(made).on_conflict_do_update(index_elements=["path"], set_=made)
        connection.execute(again)


def noted(connection: Connection, targets: Iterable[Path]) -> set[Path]:
    """Those of the files that are noted."""
    found = set(connection.execute(select(COPIES.c.path)).scalars())
    return {target for target in targets if as_text(target.absolute()) in found}


def forget_written(connection: Connection, targets: Iterable[Path]) -> None:
    """Let these files never have been written."""
    for target in targets:
        connection.execute(delete(COPIES).where(COPIES.c.path == as_text(target.absolute())))


def as_text(path: Path) -> str:
    """A path as the database can hold it; bytes of a name that aren't UTF-8 as '\\xff'."""
    return str(path).encode("utf-8", "surrogateescape").decode("utf-8", "backslashreplace")


def as_path(text: str) -> Path:
    """The path that was kept as text."""
    if Path(text).exists():
        return Path(text)
    return Path(re.sub(r"\\x([89a-f][0-9a-f])", lambda byte: chr(0xDC00 + int(byte[1], 16)), text))


def delete_files(paths: Iterable[Path]) -> tuple[str, ...]:
    """Delete written files, packs as whole folders; sentences on those that can't be deleted.

    A link is deleted, not what it leads to.
    """
    said = []
    for path in paths:
        try:
            if path.is_dir() and not path.is_symlink():
                shutil.rmtree(path)
            else:
                path.unlink(missing_ok=True)
        except OSError as error:
            said.append(f"'{path}' could not be deleted ({error.strerror or error}). Delete it yourself.")
    return tuple(said)
