"""Passing folders: where everything is made that gets its name, or its place, only when it is whole.

Each is '.lacet-XXXXXXXX' beside what it is for, readable by its owner alone, and locked as long as the
program that made it lives. What a killed program left is known by being unlocked, and swept by the next.
Windows can't lock a folder: there nothing is swept.
"""

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
