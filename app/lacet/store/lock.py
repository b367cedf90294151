"""The lock round everything that touches a project file: shared to look, exclusive to write.

SQLite's own locks on POSIX systems are dropped as soon as anything in the process closes any descriptor of
the file (https://sqlite.org/howtocorrupt.html, 2.2), and a file dialog that lists the folder does. So there
is a side file '.NAME.lock', which nothing else opens, locked with flock: that belongs to the descriptor, and
each holder has one of its own. It covers connecting too, since already the first PRAGMA rolls back the
journal of whoever is in the midst of a transaction. The side file is removed only by who holds it alone, and
whoever has locked one that is gone begins again with its successor; one that is left is harmless.

Who waits to write lets no new reader pass (a second lock on the same descriptor, a turnstile), so that many
readers can't keep a writer out. The turnstile needs Linux; elsewhere writers take their chance.
Windows locks exclusively only, by msvcrt; that is not tested here.
"""

import errno
import os
import struct
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from lacet.store.errors import FileBusy, FileGone, FileReadOnly

PATIENCE_S = 5.0
_SHORTEST_NAP_S = 0.0005
_LONGEST_NAP_S = 0.008
_NOT_WRITABLE = (errno.EACCES, errno.EPERM, errno.EROFS)


class _Mine(threading.local):
    """What this thread holds: by file, whether exclusively and how many times."""

    def __init__(self) -> None:
        self.held: dict[str, tuple[bool, int]] = {}


_mine = _Mine()


def side_file(path: Path) -> Path:
    """The file that is locked for a project; an empty file of this name is harmless."""
    real = Path(os.path.realpath(path))
    return real.with_name(f".{real.name}.lock")


class FileLock:
    """The lock on one project file, taken and let go by one thread; taking it again within is free.

    Raises
    ------
    FileBusy
        When others hold it longer than the patience.
    FileGone, FileReadOnly
    """

    def __init__(self, path: Path, *, exclusive: bool) -> None:
        self._path = path
        self._side = side_file(path)
        self._exclusive = exclusive
        self._descriptor: int | None = None
        self._book = _mine.held

    def acquire(self, patience_s: float | None = None) -> None:
        """Take the lock, waiting for others as long as the patience says (five seconds)."""
        self._book = _mine.held
        exclusive, times = self._book.get(str(self._side), (self._exclusive, 0))
        # A bug, not a circumstance: two readers who both wait to write would wait for each other.
        assert exclusive or not self._exclusive, "a writing unit was begun within a reading one"
        if not times:
            until = time.monotonic() + (PATIENCE_S if patience_s is None else patience_s)
            self._descriptor = self._taken(exclusive, until)
            if not exclusive and has_hot_journal(self._path):
                # Nobody writes now, so that journal is a killed program's; who undoes it must be alone.
                self._close()
                exclusive = True
                self._descriptor = self._taken(exclusive, until)
        self._book[str(self._side)] = (exclusive, times + 1)

    def release(self) -> None:
        """Let go of it, or of the innermost of several."""
        exclusive, times = self._book[str(self._side)]
        if times > 1:
            self._book[str(self._side)] = (exclusive, times - 1)
        else:
            del self._book[str(self._side)]
            self._close()

    def _close(self) -> None:
        if self._descriptor is not None:
            # Closing unlocks: nobody else has this descriptor.
            os.close(self._descriptor)
            self._descriptor = None

    def is_held_here(self) -> bool:
        """Whether this thread holds the lock of the file, by whatever object."""
        return str(self._side) in _mine.held

    def __enter__(self) -> "FileLock":
        self.acquire()
        return self

    def __exit__(self, *_: object) -> None:
        self.release()

    def _taken(self, exclusive: bool, until: float) -> int | None:
        while True:
            descriptor = self._opened()
            if descriptor is None:
                return None
            try:
                _wait(descriptor, exclusive, until)
                if _is_at(descriptor, self._side):
                    return descriptor
            except TimeoutError:
                os.close(descriptor)
                raise FileBusy(
                    "'{name}' is being written by another window or program. Wait a moment, then try again.",
                    name=self._path.name,
                ) from None
            except BaseException:
                os.close(descriptor)
                raise
            # Somebody tidied the side file away meanwhile: the lock that counts is on its successor.
            os.close(descriptor)

    def _opened(self) -> int | None:
        try:
            return os.open(self._side, os.O_RDWR | os.O_CREAT | os.O_CLOEXEC | os.O_NOFOLLOW, 0o600)
        except (FileNotFoundError, NotADirectoryError) as error:
            raise FileGone.of(self._path) from error
        except OSError as error:
            if error.errno not in _NOT_WRITABLE:
                raise
            if self._exclusive:
                raise FileReadOnly.of(self._path) from error
        try:
            return os.open(self._side, os.O_RDONLY | os.O_CLOEXEC | os.O_NOFOLLOW)
        except OSError:
            # Nobody like us may write here, and SQLite's own locks stand between us and the rest.
            return None


@contextmanager
def held(path: Path, *, exclusive: bool) -> Iterator[None]:
    """Hold the lock of a project file as long as the block."""
    with FileLock(path, exclusive=exclusive):
        yield


@contextmanager
def held_at_once(path: Path) -> Iterator[bool]:
    """Hold the shared lock if nobody writes; tells whether it is held. It never waits."""
    lock = FileLock(path, exclusive=False)
    try:
        lock.acquire(patience_s=0.0)
    except FileBusy:
        yield False
        return
    try:
        yield True
    finally:
        lock.release()


def tidy(path: Path) -> None:
    """Remove the side file if nobody holds it."""
    lock = FileLock(path, exclusive=True)
    if not side_file(path).exists() or lock.is_held_here():
        return
    with suppress(FileBusy, FileGone, FileReadOnly):
        lock.acquire(patience_s=0.0)
        try:
            side_file(path).unlink(missing_ok=True)
        finally:
            lock.release()


def has_hot_journal(path: Path) -> bool:
    """Whether a transaction stands undone; while nobody holds the lock to write, by a killed program."""
    try:
        with journal_of(path).open("rb") as journal:
            # What was never flushed begins with zeros, and nothing of it had reached the file.
            return journal.read(1) not in (b"", b"\0")
    except OSError:
        return False


def journal_of(path: Path) -> Path:
    """Where SQLite keeps what it needs to undo a transaction, while one is under way."""
    return Path(f"{os.path.realpath(path)}-journal")


def _is_at(descriptor: int, side: Path) -> bool:
    try:
        return os.path.samestat(os.fstat(descriptor), os.stat(side))
    except FileNotFoundError:
        return False


def _wait(descriptor: int, exclusive: bool, until: float) -> None:
    nap_s = _SHORTEST_NAP_S
    passed = False
    while True:
        passed = passed or _through_turnstile(descriptor)
        if passed and _locked(descriptor, exclusive):
            _leave_turnstile(descriptor)
            return
        if time.monotonic() >= until:
            raise TimeoutError
        time.sleep(nap_s)
        nap_s = min(nap_s * 1.5, _LONGEST_NAP_S)


if sys.platform == "win32":
    import msvcrt

    def _locked(descriptor: int, exclusive: bool) -> bool:
        try:
            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

else:
    import fcntl

    def _locked(descriptor: int, exclusive: bool) -> bool:
        kind = fcntl.LOCK_EX if exclusive else fcntl.LOCK_SH
        try:
            fcntl.flock(descriptor, kind | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True


if sys.platform == "linux":

    def _through_turnstile(descriptor: int) -> bool:
        try:
            _turn(descriptor, fcntl.F_WRLCK)
        except OSError as error:
            # A side file that may only be read has no turnstile; its readers meet no writers but strangers'.
            return error.errno == errno.EBADF
        return True

    def _leave_turnstile(descriptor: int) -> None:
        _turn(descriptor, fcntl.F_UNLCK)

    def _turn(descriptor: int, kind: int) -> None:
        # struct flock of a first byte (fcntl(2)); 'open file description' locks belong to the descriptor.
        fcntl.fcntl(descriptor, fcntl.F_OFD_SETLK, struct.pack("hhqqi4x", kind, os.SEEK_SET, 0, 1, 0))

else:

    def _through_turnstile(descriptor: int) -> bool:
        return True

    def _leave_turnstile(descriptor: int) -> None:
        return None
