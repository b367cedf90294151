"""Copies of a project file that the program makes on its own, in a folder beside it.

'Verrin.lacet' has 'Verrin.lacet backups/'. They are whole, consistent files made by SQLite's own backup, so a
copy may be taken while others write.
"""

import sqlite3
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from uuid import uuid4

from lacet.store.engine import connect
from lacet.store.errors import FileThere, told
from lacet.store.schema import SUFFIX

PAGES_AT_A_TIME = 2_048
Progress = Callable[[int, int], None]


def copies_folder(path: Path) -> Path:
    """Where the program's own copies of a project lie."""
    return path.with_name(f"{path.name} backups")


def own_copies(path: Path) -> list[Path]:
    """The program's own copies, oldest first."""
    return sorted(copies_folder(path).glob(f"*{SUFFIX}"))


def copy_before(path: Path, what: str) -> Path:
    """Copy a project into the folder of its own copies before something is done to it."""
    folder = copies_folder(path)
    folder.mkdir(exist_ok=True)
    stamp = f"{datetime.now(UTC):%Y-%m-%dT%H%M%SZ}"
    target = folder / f"{path.stem} {stamp} before {what}{SUFFIX}"
    number = 2
    while target.exists():
        target = folder / f"{path.stem} {stamp} before {what} ({number}){SUFFIX}"
        number += 1
    copy_file(path, target)
    return target


def copy_file(source: Path, target: Path, progress: Progress | None = None, *, replace: bool = False) -> None:
    """Copy a project whole; the target has its name only when it is complete.

    Parameters
    ----------
    progress
        Called with pages done and pages in all; what it raises ends the copy and leaves no trace.

    Raises
    ------
    FileThere
        When the target exists and `replace` is False.
    """
    if target.exists() and not replace:
        raise FileThere(f"'{target.name}' is there already. Choose another name, or remove it first.")
    draft = target.with_name(f".{target.name}.{uuid4().hex[:8]}.new")
    try:
        with told(target):
            _copy(source, draft, progress)
        draft.replace(target)
    finally:
        draft.unlink(missing_ok=True)


def _copy(source: Path, draft: Path, progress: Progress | None) -> None:
    def report(_status: int, remaining: int, total: int) -> None:
        if progress is not None:
            progress(total - remaining, total)

    with closing(connect(source)) as from_file, closing(sqlite3.connect(draft)) as to_file:
        from_file.backup(to_file, pages=PAGES_AT_A_TIME, progress=report)
        # The copy lies alone: without this, opening it to look would leave a log beside it.
        to_file.execute("PRAGMA journal_mode = DELETE")
