"""Passing folders: where everything is made that gets its name, or its place, only when it is whole.

Each is '.lacet-XXXXXXXX' beside what it is for, readable by its owner alone, and locked as long as the
program that made it lives. What a killed program left is known by being unlocked, and swept by the next.
Windows can't lock a folder: there nothing is swept.
"""

import errno
import os
import shutil
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

PREFIX = ".lacet-"


@contextmanager
def passing_folder(beside: Path | None = None) -> Iterator[Path]:
    """A new folder in the folder `beside` (the system's temporary one if None), gone after the block.

    What killed programs left in the same folder is swept first.

    Raises
    ------
    OSError
        When the folder can't be made.
    """
    where = Path(tempfile.gettempdir()) if beside is None else beside
    sweep(where)
    folder, held = _made_and_held(where)
    try:
        yield folder
    finally:
        shutil.rmtree(folder, ignore_errors=True)
        if held is not None:
            os.close(held)


def put_in_place(made: Path, folder: Path) -> None:
    """Let a folder be what another, made beside it, holds, in one step; what else was in it stays.

    A killed program leaves the old or the new. Where the system can't exchange two folders in one step, or
    where files of other kinds lie there, which somebody may be writing, each file is old or new.

    Raises
    ------
    OSError
    """
    if not folder.exists():
        made.rename(folder)
        return
    if not folder.is_dir():
        raise NotADirectoryError(errno.ENOTDIR, os.strerror(errno.ENOTDIR), str(folder))
    if not (_holds_only_such(folder, made) and _taken_along(folder, made) and _exchanged(made, folder)):
        for file in sorted(each for each in made.rglob("*") if not each.is_dir()):
            target = folder / file.relative_to(made)
            target.parent.mkdir(parents=True, exist_ok=True)
            file.replace(target)


def _holds_only_such(folder: Path, made: Path) -> bool:
    """Whether a folder holds nothing but plain files of the kinds that were made."""
    kinds = {each.suffix for each in made.rglob("*") if each.is_file()}
    return all(
        not each.is_symlink() and (each.is_dir() or each.suffix in kinds) and not each.name.startswith(".")
        for each in folder.rglob("*")
    )


def _taken_along(old: Path, new: Path) -> bool:
    """Let the new folder hold, as the same files, what only the old one holds; False where links can't be."""
    try:
        for each in sorted(old.rglob("*")):
            there = new / each.relative_to(old)
            if each.is_dir():
                there.mkdir(exist_ok=True)
                shutil.copystat(each, there)
            elif not there.exists():
                os.link(each, there)
        shutil.copystat(old, new)
    except OSError:
        return False
    return True


def _exchanged(one: Path, other: Path) -> bool:
    """Exchange two names in one step, as Linux can (renameat2(2), RENAME_EXCHANGE); False elsewhere."""
    if sys.platform != "linux":
        return False
    import ctypes

    here, exchange = -100, 2  # AT_FDCWD, RENAME_EXCHANGE
    rename = getattr(ctypes.CDLL(None, use_errno=True), "renameat2", None)
    return rename is not None and rename(here, os.fsencode(one), here, os.fsencode(other), exchange) == 0


def abandoned(where: Path) -> list[Path]:
    """The passing folders in a folder that no living program holds."""
    found = []
    for folder in sorted(where.glob(f"{PREFIX}*")):
        held = _hold(folder)
        if held is not None:
            os.close(held)
            found.append(folder)
    return found


def sweep(where: Path) -> None:
    """Remove what killed programs left in a folder; what can't be removed stays."""
    for folder in sorted(where.glob(f"{PREFIX}*")):
        held = _hold(folder)
        if held is not None:
            try:
                shutil.rmtree(folder, ignore_errors=True)
            finally:
                os.close(held)


def _made_and_held(where: Path) -> tuple[Path, int | None]:
    while True:
        folder = Path(tempfile.mkdtemp(prefix=PREFIX, dir=where))
        if sys.platform == "win32":
            return folder, None
        held = _hold(folder)
        # Another's sweep may come between making and holding: then it is gone, and another is made.
        if held is not None and folder.exists():
            return folder, held
        if held is not None:
            os.close(held)


def _hold(folder: Path) -> int | None:
    """A descriptor that locks a folder of ours; None when it is somebody's, or nobody's to touch."""
    if sys.platform == "win32":
        return None
    import fcntl

    with suppress(OSError):
        held = os.open(folder, os.O_RDONLY | os.O_DIRECTORY | os.O_NOFOLLOW | os.O_CLOEXEC)
        try:
            fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            os.close(held)
        else:
            return held
    return None
