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
from collections.abc import Collection, Iterator, Sequence
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


class OthersThere(Exception):
    """A folder that is to be replaced holds what isn't part of it: `names`, within the folder."""

    def __init__(self, names: Sequence[str]) -> None:
        super().__init__(", ".join(names))
        self.names = tuple(names)


def put_in_place(made: Path, folder: Path, former: Collection[str] = ()) -> None:
    """Let a folder be what another, made beside it, is, in one step.

    A killed program leaves the old or the new. Hidden files, as systems leave them in any folder, are taken
    along. Where the system can't exchange two folders in one step, each file is old or new.

    Parameters
    ----------
    former
        Names of files that go, though none of that name was made.

    Raises
    ------
    OthersThere
        When the folder holds anything else than files of the names that were made, and `former` ones.
    OSError
    """
    if not folder.exists():
        made.rename(folder)
        return
    if not folder.is_dir():
        raise NotADirectoryError(errno.ENOTDIR, os.strerror(errno.ENOTDIR), str(folder))
    # A link to a folder stays one.
    folder = Path(os.path.realpath(folder))
    made_names = {str(each.relative_to(made)) for each in made.rglob("*")}
    ours = made_names.union(former)
    if others := _others(folder, ours):
        raise OthersThere(others)
    if _taken_along(folder, made) and _exchanged(made, folder):
        # Whatever was laid there meanwhile is somebody's.
        for late in _others(made, ours):
            (made / late).rename(folder / late)
        return
    for name in sorted(made_names):
        if (made / name).is_dir():
            (folder / name).mkdir(exist_ok=True)
        else:
            (made / name).replace(folder / name)
    for name in set(former) - made_names:
        (folder / name).unlink(missing_ok=True)


def _others(folder: Path, ours: Collection[str]) -> list[str]:
    """What lies in a folder under other names, but for hidden files; a folder of others counts as one."""
    found: list[str] = []
    for each in sorted(folder.rglob("*")):
        name = str(each.relative_to(folder))
        within_another = bool(found) and Path(found[-1]) in Path(name).parents
        if name not in ours and not within_another and not _is_hidden(each):
            found.append(name)
    return found


def _is_hidden(path: Path) -> bool:
    return path.name.startswith(".") and path.is_file() and not path.is_symlink()


def _taken_along(old: Path, new: Path) -> bool:
    """Let the new folder have the old one's rights and hidden files; False where links can't be made."""
    try:
        for each in filter(_is_hidden, sorted(old.rglob(".*"))):
            target = new / each.relative_to(old)
            if target.parent.is_dir():
                os.link(each, target)
        for folder in (each for each in (new, *new.rglob("*")) if each.is_dir()):
            if (old / folder.relative_to(new)).is_dir():
                shutil.copystat(old / folder.relative_to(new), folder)
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
