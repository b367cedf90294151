"""Copies of a project file that the program makes on its own, in a folder beside it.

'Verrin.lacet' has 'Verrin.lacet backups/'. They are whole, consistent files made by SQLite's own backup, so a
copy may be taken while others write.
"""

import shutil
import time
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from datetime import UTC, datetime
from pathlib import Path

from lacet.passing import abandoned, passing_folder, sweep
from lacet.store import guard
from lacet.store.engine import connect, connected
from lacet.store.errors import DiskFull, FileBusy, FileThere, told, told_of_folder
from lacet.store.lock import FileLock
from lacet.store.making import make_empty, without_log
from lacet.store.schema import SUFFIX
from lacet.store.shares import network_share

# 4 MiB: read and written well under a tenth of a second, for which others wait.
PAGES_AT_A_TIME = 1_024
# When others write between the steps, SQLite begins the copy anew; after so many times they wait for it.
BEGINNINGS = 3
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
    folder.mkdir(mode=0o700, exist_ok=True)
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
        raise FileThere(
            "'{target}' is there already. Choose another name, or remove it first.", target=target.name
        )
    with told_of_folder(target.parent), told(target), passing_folder(target.parent) as folder:
        draft = folder / target.name
        if network_share(target) is None:
            _copy(source, make_empty(draft), target, progress)
        else:
            # SQLite writes here, where locks can be relied on; the finished file travels as bytes.
            with passing_folder() as near:
                _copy(source, make_empty(near / target.name), target, progress)
                shutil.copyfile(near / target.name, make_empty(draft))
        draft.replace(target)


def leftovers(path: Path) -> list[Path]:
    """Files with a project's data that killed programs left beside it and its copies."""
    beside = [path.with_name(path.name + end) for end in ("-journal", "-wal", "-shm")]
    folders = [folder for where in _swept_at_opening(path) for folder in abandoned(where)]
    inside = [file for folder in folders for file in sorted(folder.rglob("*")) if file.is_file()]
    return [file for file in (*beside, *inside) if file.is_file() and file.stat().st_size]


def sweep_leftovers(path: Path) -> None:
    """Remove the passing folders that killed programs left beside a project and its copies."""
    for where in _swept_at_opening(path):
        sweep(where)


def _swept_at_opening(path: Path) -> tuple[Path, Path]:
    return path.parent, copies_folder(path)


@contextmanager
def fetched(source: Path, beside: Path) -> Iterator[Path]:
    """A copy of somebody's project, of the same name, in a folder that lasts as long as the block.

    The source is only read, and may lie on a network share, from where it travels as bytes.

    Raises
    ------
    StoreError
        When the source is no sound project.
    """
    with told_of_folder(beside.parent), told(beside), passing_folder(beside.parent) as folder:
        copy = folder / source.name
        if network_share(source) is None:
            guard.refuse_unfit(source)
            with _no_room_is(beside):
                copy_file(source, copy)
        else:
            guard.refuse_unfit_file(source)
            shutil.copyfile(source, make_empty(copy))
        with told(source):
            without_log(copy)
            with connected(copy) as connection:
                guard.refuse_damaged(source, connection, thorough=True)
        yield copy


@contextmanager
def _no_room_is(beside: Path) -> Iterator[None]:
    """A copy that finds no room tells of the disk it was made on, not of the file it was made of."""
    try:
        yield
    except DiskFull as error:
        raise DiskFull(
            "There is no room in '{parent}' for the copy that this needs for a while. Make room "
            "on that disk, then try again.",
            parent=beside.parent,
        ) from error


def overwrite(target: Path, source: Path) -> None:
    """Let an open project be what another file holds; whoever has it open sees that as one change.

    To be called under the lock of the target.

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
                "'{target}' is being written by another window. Close it there, then try again.",
                target=target.name,
            )

    with told(target), closing(connect(source)) as from_file, closing(connect(target)) as to_file:
        from_file.backup(to_file, progress=lose_patience)


def _copy(source: Path, draft: Path, target: Path, progress: Progress | None) -> None:
    """Copy in steps; others may read and write the source between them."""
    lock = FileLock(source, exclusive=False)
    beginnings, left_before = 1, 0

    def step_done(_status: int, remaining: int, total: int) -> None:
        nonlocal beginnings, left_before
        beginnings += remaining > left_before > 0
        left_before = remaining
        if beginnings < BEGINNINGS:
            lock.release()
            try:
                if progress is not None:
                    progress(total - remaining, total)
            finally:
                lock.acquire()
        elif progress is not None:
            progress(total - remaining, total)

    with told(source):
        lock.acquire()
    try:
        with (
            told(source),
            closing(connect(source)) as from_file,
            told(target),
            closing(connect(draft)) as to_file,
        ):
            from_file.backup(to_file, pages=PAGES_AT_A_TIME, progress=step_done)
            # The copy lies alone: without this, opening it to look would leave a log beside it.
            to_file.execute("PRAGMA journal_mode = DELETE")
    finally:
        lock.release()
