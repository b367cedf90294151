"""The border: every path a person gives is looked at here before anything reads what lies there.

Only plain files pass: a pipe would be waited for, a device read for ever. A room says how large a file of its
kind may be, and tells a refusal in its own words by `FileRefused.reason`.
"""

import errno
import itertools
import os
import stat
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO

from lacet.language import Text, to_say
from lacet.trip.errors import LacetError

_CUT_BYTES = 1 << 20
# More than any library comes to; a disk named by mistake holds more.
_MOST_FILES = 20_000
_MOST_DEPTH = 12
# Opening a pipe waits for its writer unless told not to; not every system knows each switch.
_SWITCHES = ("O_NONBLOCK", "O_CLOEXEC", "O_BINARY")
_AT_ONCE = os.O_RDONLY | sum(getattr(os, name, 0) for name in _SWITCHES)
_WHY = {
    errno.ENOENT: "there is no such file; check the name",
    errno.ENOTDIR: "there is no such file; check the name",
    errno.EACCES: "you may not read it; change its permissions or those of its folder",
    errno.EPERM: "you may not read it; change its permissions or those of its folder",
    errno.ELOOP: "it is a link that leads back to itself; name the file it should lead to",
}


class FileRefused(LacetError):
    """A path that leads to nothing that can be read.

    Attributes
    ----------
    path
        What was named.
    reason
        Why it is refused, without the name and without a full stop.
    """

    def __init__(self, path: Path, reason: str | Text) -> None:
        super().__init__("{path}: {reason}.", path=harmless(str(path)), reason=reason)
        self.path = path
        self.reason = reason


def is_there(path: Path) -> bool:
    """Whether anything of that name is there.

    Raises
    ------
    FileRefused
        When that can't be known: the folder may not be entered, or the name is none.
    """
    return _facts(path) is not None


def is_folder(path: Path) -> bool:
    """Whether the path leads to a folder; what can't be known is refused as by `is_there`."""
    facts = _facts(path)
    return facts is not None and stat.S_ISDIR(facts.st_mode)


def is_file(path: Path) -> bool:
    """Whether the path leads to a plain file; what can't be known is refused as by `is_there`."""
    facts = _facts(path)
    return facts is not None and stat.S_ISREG(facts.st_mode)


def within(folder: Path) -> list[Path]:
    """Everything in a folder and in the folders in it but folders, by name; links to folders aren't followed.

    Raises
    ------
    FileRefused
        When one of the folders may not be read, or they are too many or too deep to be what is meant.
    """
    found: list[Path] = []
    waiting = [(folder, 0)]
    while waiting:
        here, depth = waiting.pop()
        if depth > _MOST_DEPTH:
            raise FileRefused(
                folder,
                to_say(
                    "its folders are more than {most_depth} deep; name one within it",
                    most_depth=_MOST_DEPTH,
                ),
            )
        for entry in _entries(here):
            if entry.is_dir(follow_symlinks=False):
                waiting.append((Path(entry.path), depth + 1))
            else:
                found.append(Path(entry.path))
        if len(found) + len(waiting) > _MOST_FILES:
            raise FileRefused(
                folder,
                to_say("it holds more than {most_files:,} files; name one within it", most_files=_MOST_FILES),
            )
    return sorted(found)


def _entries(folder: Path) -> list[os.DirEntry[str]]:
    try:
        with os.scandir(folder) as entries:
            return list(itertools.islice(entries, _MOST_FILES + 1))
    except OSError as error:
        raise FileRefused(folder, _why(error)) from error


def may_be_read(path: Path) -> bool:
    """Whether the path leads to a plain file that `need_file` would let pass; refuses nothing."""
    try:
        return need_file(path) >= 0
    except FileRefused:
        return False


def need_file(path: Path, most_bytes: int | None = None) -> int:
    """The size of a plain file that may be read [bytes]. It isn't opened: doing so would drop SQLite's locks.

    Raises
    ------
    FileRefused
        When it is missing, no plain file, larger than `most_bytes`, or may not be read.
    """
    facts = _facts(path)
    if facts is None:
        raise FileRefused(path, _WHY[errno.ENOENT])
    _need_plain(path, facts, most_bytes)
    if not os.access(path, os.R_OK):
        raise FileRefused(path, _WHY[errno.EACCES])
    return facts.st_size


@contextmanager
def opened(path: Path, most_bytes: int) -> Iterator[tuple[BinaryIO, int]]:
    """A plain file open for reading, with its size [bytes].

    Raises
    ------
    FileRefused
        As by `need_file`; also when the disk fails while it is open.
    """
    try:
        with os.fdopen(os.open(path, _AT_ONCE), "rb") as stream:
            facts = os.fstat(stream.fileno())
            _need_plain(path, facts, most_bytes)
            yield stream, facts.st_size
    except IsADirectoryError as error:
        raise FileRefused(path, _FOLDER) from error
    except OSError as error:
        raise FileRefused(path, _why(error)) from error
    except ValueError as error:
        if not _is_name(path):
            raise FileRefused(path, _NO_NAME) from error
        raise


def whole(path: Path, most_bytes: int) -> bytes:
    """Everything in a plain file.

    Raises
    ------
    FileRefused
        As by `opened`.
    """
    with opened(path, most_bytes) as (stream, size):
        # As much memory is taken as is asked for, so the told size comes first.
        content = stream.read(size + 1)
        if len(content) > size:
            # Some files tell no size, and one may grow while it is read.
            content += stream.read(most_bytes + 1 - len(content))
    if len(content) > most_bytes:
        raise FileRefused(path, _too_large(most_bytes))
    return content


def begins(path: Path, count: int) -> bytes:
    """The first bytes of a plain file of any size, by which its kind is known."""
    with opened(path, 1 << 62) as (stream, _):
        return stream.read(count)


def same_content(one: Path, other: Path) -> bool:
    """Whether two plain files hold the same, compared piece by piece."""
    with opened(one, 1 << 62) as (first, size), opened(other, 1 << 62) as (second, other_size):
        if size != other_size:
            return False
        while piece := first.read(_CUT_BYTES):
            if piece != second.read(len(piece)):
                return False
    return True


def harmless(name: str) -> str:
    """A file's name as it can be said: without half letters, controls and turns of the reading direction."""
    return "".join(sign if sign.isprintable() else "�" for sign in name)


_FOLDER = "this is a folder, not a file"
_NO_NAME = "no file can be called that; check the name"


def _facts(path: Path) -> os.stat_result | None:
    try:
        return path.stat()
    except (FileNotFoundError, NotADirectoryError):
        return None
    except OSError as error:
        raise FileRefused(path, _why(error)) from error
    except ValueError as error:
        raise FileRefused(path, _NO_NAME) from error


def _need_plain(path: Path, facts: os.stat_result, most_bytes: int | None) -> None:
    if stat.S_ISDIR(facts.st_mode):
        raise FileRefused(path, _FOLDER)
    if not stat.S_ISREG(facts.st_mode):
        raise FileRefused(path, "this is a pipe or a device, not a file")
    if most_bytes is not None and facts.st_size > most_bytes:
        raise FileRefused(path, _too_large(most_bytes))


def _too_large(most_bytes: int) -> str:
    if most_bytes < 1_000_000:
        return f"it is larger than {most_bytes // 1_000:,} kB; name the right file"
    return f"it is larger than {most_bytes // 1_000_000:,} MB; make it smaller or split it"


def _is_name(path: Path) -> bool:
    try:
        return b"\0" not in os.fsencode(path)
    except UnicodeEncodeError:
        return False


def _why(error: OSError) -> str:
    return _WHY.get(error.errno or 0, f"it can't be read ({error.strerror or error})")
