"""What the store refuses, and the one table that turns the database's errors into sentences.

Whatever SQLite or SQLAlchemy raises passes through `told`: nothing below this room is shown to a person.
"""

import errno
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from lacet.language import Text
from lacet.tracks.packing import PackingDamaged
from lacet.trip.errors import LacetError


class StoreError(LacetError):
    """The project file refuses something."""


class FileMissing(StoreError):
    """There is no such file, or no such folder."""


class FileThere(StoreError):
    """A file would have to be overwritten."""


class NotALacetFile(StoreError):
    """The file is something else."""


class DamagedFile(StoreError):
    """The file is a Lacet project that can't be read any more."""


class DamagedPart(DamagedFile):
    """A part of a project isn't what this program, or an older one, would have written.

    Whoever knows the file tells it by `sentence_for`.

    Attributes
    ----------
    part
        What it is, and what is wrong with it.
    """

    def __init__(self, part: str | Text) -> None:
        super().__init__(
            "Something kept in the project can't be read: {part}. Restore the newest backup.", part=part
        )
        self.part = str(part)


class NewerFile(StoreError):
    """The file was written by a newer Lacet.

    Attributes
    ----------
    found, known
        Schema number of the file, and the newest one this program knows.
    """

    def __init__(self, sentence: str | Text, found: int, known: int) -> None:
        super().__init__(sentence)
        self.found = found
        self.known = known


class OnNetworkShare(StoreError):
    """The file lies where the locks of SQLite can't be relied on."""


class FileBusy(StoreError):
    """Another program holds the file."""


class FileReadOnly(StoreError):
    """The file may be read but not written."""

    @classmethod
    def of(cls, path: Path) -> "FileReadOnly":
        """The sentence for this file."""
        return cls(
            f"'{path.name}' may only be read. "
            "Change its permissions and its folder's, or save a copy elsewhere."
        )


class FileLost(StoreError):
    """The open file is no longer the file at its path; what was just to be kept was not acknowledged."""


class FileGone(FileLost):
    """Nothing is at its path any more."""

    @classmethod
    def of(cls, path: Path) -> "FileGone":
        """The sentence for this file."""
        return cls(
            f"'{path.name}' is no longer in '{path.parent}': it, or its folder, was moved, renamed or "
            "removed. Nothing more is kept there. Put it back, or save what you have elsewhere."
        )


class FileReplaced(FileLost):
    """Another file has taken its name."""


class FileSpoiled(FileLost):
    """It was overwritten or cut short where it lies."""


class DiskFull(StoreError):
    """No room is left on the disk."""


class DiskTrouble(StoreError):
    """The system reports that it can't read or write the file."""


class UnknownTrip(StoreError):
    """No such trip, or no such revision of it."""


class UnknownItemVersion(StoreError):
    """No such library item, or no such version of it."""


class VersionExists(StoreError):
    """A version of a library item is there already, with other contents."""


class NothingToUndo(StoreError):
    """The first, or the last, of a trip's values is reached."""


class CannotBeKept(StoreError):
    """A value holds a sign or number that no file can keep."""


class StaleRevision(StoreError):
    """Somebody else saved the trip meanwhile.

    Attributes
    ----------
    trip_id, expected, found
        The trip, the revision the caller had, and the one that is stored.
    """

    def __init__(self, trip_id: str, expected: int, found: int) -> None:
        super().__init__(
            "This trip was changed elsewhere: you had revision {expected}, stored is revision "
            "{found}. Keep yours as a variant, or take theirs.",
            expected=expected,
            found=found,
        )
        self.trip_id = trip_id
        self.expected = expected
        self.found = found


# Result codes of SQLite (https://sqlite.org/rescode.html), primary or extended -> what a person is told.
_TOLD: dict[int, tuple[type[StoreError], str]] = {
    sqlite3.SQLITE_READONLY_DBMOVED: (
        FileReplaced,
        "'{name}' was moved, removed or replaced while it was open. Save what you have elsewhere.",
    ),
    sqlite3.SQLITE_FULL: (
        DiskFull,
        "'{name}' could not be saved: the disk is full. Make some room, then save again; nothing was lost.",
    ),
    sqlite3.SQLITE_BUSY: (
        FileBusy,
        "'{name}' is being written by another window or program. Wait a moment, then try again.",
    ),
    sqlite3.SQLITE_LOCKED: (
        FileBusy,
        "'{name}' is being written by another window or program. Wait a moment, then try again.",
    ),
    sqlite3.SQLITE_READONLY: (
        FileReadOnly,
        "'{name}' may only be read. Change its permissions, or save a copy elsewhere.",
    ),
    sqlite3.SQLITE_PERM: (
        FileReadOnly,
        "'{name}' may not be opened by you. Change its permissions, or ask its owner.",
    ),
    sqlite3.SQLITE_CANTOPEN: (
        FileReadOnly,
        "'{name}' can't be opened. Check that it is still in its folder, and that you may write there.",
    ),
    sqlite3.SQLITE_NOTADB: (NotALacetFile, "'{name}' is not a Lacet project. Choose a .lacet file."),
    sqlite3.SQLITE_CORRUPT: (
        DamagedFile,
        "'{name}' is damaged and was left untouched. Restore the newest backup.",
    ),
    sqlite3.SQLITE_IOERR: (
        DiskTrouble,
        "The system reports trouble reading or writing '{name}'. Check the disk, then try again.",
    ),
    sqlite3.SQLITE_TOOBIG: (CannotBeKept, "Something is too large to be kept in '{name}'."),
}


# Beginnings of what SQLite and its driver say, without a code of its own, of contents nobody here wrote.
_DAMAGE = (
    ("Could not decode to UTF-8", "a text isn't UTF-8"),
    ("no such table", "a table is missing"),
    ("no such column", "a column is missing"),
    ("no such module", "a table is of an unknown kind"),
    ("malformed JSON", "an item can't be read"),
    ("malformed database schema", "the list of its tables can't be read"),
)


def sentence_for(error: BaseException, path: Path) -> StoreError | None:
    """The store's own error for one of the database, or None when it is a bug rather than a circumstance."""
    cause = getattr(error, "orig", None) or error
    part = _damaged_part(cause)
    if part:
        return DamagedFile(
            "'{name}' is damaged and was left untouched: {part}. Restore the newest backup.",
            name=path.name,
            part=part,
        )
    # The lowest eight bits are the primary code, the rest says more.
    code = getattr(cause, "sqlite_errorcode", None)
    told_as = None if code is None else _TOLD.get(code) or _TOLD.get(code & 0xFF)
    if told_as is None:
        return None
    kind, sentence = told_as
    return kind(sentence, name=path.name)


def _damaged_part(cause: BaseException) -> str:
    """What of a project is damaged, '' where the error says nothing of it."""
    if isinstance(cause, DamagedPart):
        return cause.part
    if isinstance(cause, PackingDamaged):
        return "a track can't be read"
    # The driver raises this when it can't even decode what SQLite says, such as a name in the schema.
    if isinstance(cause, UnicodeDecodeError):
        return "a text isn't UTF-8"
    if not isinstance(cause, sqlite3.Error):
        return ""
    return next((part for says, part in _DAMAGE if says in str(cause)), "")


@contextmanager
def told(path: Path) -> Iterator[None]:
    """Turn the database's own errors into sentences about this file.

    Raises
    ------
    StoreError
        For every circumstance in the table; anything else is a bug and passes as it is.
    """
    try:
        yield
    except Exception as error:
        meant = sentence_for(error, path)
        if meant is None:
            raise
        raise meant from error


@contextmanager
def told_of_folder(folder: Path) -> Iterator[None]:
    """Turn the system's own errors while something is made in a folder into sentences about the folder.

    Raises
    ------
    DiskFull, FileReadOnly, DiskTrouble
    """
    try:
        yield
    except OSError as error:
        if error.errno in (errno.ENOSPC, errno.EDQUOT):
            raise DiskFull(
                "The disk of '{folder}' is full. Make room there, then try again.", folder=folder
            ) from error
        if error.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
            raise FileReadOnly(
                "You may not write in '{folder}'. Choose another folder.", folder=folder
            ) from error
        raise DiskTrouble(
            "Nothing can be written in '{folder}' ({strerror}). Check the disk, then try again.",
            folder=folder,
            strerror=error.strerror,
        ) from error
