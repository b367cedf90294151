"""Copies of a project file that the program makes on its own, in a folder beside it.

'Verrin.lacet' has 'Verrin.lacet backups/'. They are whole, consistent files made by SQLite's own backup, so a
copy may be taken while others write.
"""

import shutil
import sqlite3
import time
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from uuid import uuid4

from lacet.store import guard
from lacet.store.engine import connect
from lacet.store.errors import FileBusy, FileThere, told
from lacet.store.schema import SUFFIX
from lacet.store.shares import network_share

PAGES_AT_A_TIME = 2_048
PATIENCE_S = 10.0
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


def copy_file(source: Path, target: Path, progress: Progress | None = None) -> None:
    """Copy a project whole; the target has its name only when it is complete.

    Parameters
    ----------
    progress
        Called with pages done and pages in all; what it raises ends the copy and leaves no trace.

    Raises
    ------
    FileThere
        When the target exists.
    """
    if target.exists():
        raise FileThere(f"'{target.name}' is there already. Choose another name, or remove it first.")
    draft = target.with_name(f".{target.name}.{uuid4().hex[:8]}.new")
    try:
        if network_share(target) is None:
            with told(target):
                _copy(source, draft, progress)
        else:
            # SQLite writes here, where locks can be relied on; the finished file travels as bytes.
            with TemporaryDirectory() as folder, told(target):
                _copy(source, Path(folder) / target.name, progress)
                shutil.copyfile(Path(folder) / target.name, draft)
        draft.replace(target)
    finally:
        draft.unlink(missing_ok=True)


@contextmanager
def fetched(source: Path, beside: Path) -> Iterator[Path]:
    """A copy of somebody's project, of the same name, in a folder that lasts as long as the block.

    The source is only read, and may lie on a network share, from where it travels as bytes.

    Raises
    ------
    StoreError
        When the source is no sound project.
    """
    with TemporaryDirectory(prefix=".lacet-", dir=beside.parent) as folder:
        copy = Path(folder) / source.name
        if network_share(source) is None:
            guard.refuse_unfit(source)
            copy_file(source, copy)
        else:
            guard.refuse_unfit_file(source)
            shutil.copyfile(source, copy)
        with told(copy), closing(connect(copy)) as connection:
            guard.refuse_damaged(copy, connection, thorough=True)
        yield copy


def overwrite(target: Path, source: Path) -> None:
    """Let an open project be what another file holds; whoever has it open sees that as one change.

    Raises
    ------
    FileBusy
        When somebody else goes on writing.
    """
    until = time.monotonic() + PATIENCE_S

    def lose_patience(_status: int, _remaining: int, _total: int) -> None:
        # The driver would try again for ever.
        if time.monotonic() > until:
            raise FileBusy(
                f"'{target.name}' is being written by another window. Close it there, then try again."
            )

    with told(target), closing(connect(source)) as from_file, closing(connect(target)) as to_file:
        from_file.backup(to_file, progress=lose_patience)


def _copy(source: Path, draft: Path, progress: Progress | None) -> None:
    def report(_status: int, remaining: int, total: int) -> None:
        if progress is not None:
            progress(total - remaining, total)

    with closing(connect(source)) as from_file, closing(sqlite3.connect(draft)) as to_file:
        from_file.backup(to_file, pages=PAGES_AT_A_TIME, progress=report)
        # The copy lies alone: without this, opening it to look would leave a log beside it.
        to_file.execute("PRAGMA journal_mode = DELETE")
