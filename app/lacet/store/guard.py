"""Looks at a file before anything opens it: what is refused here is left exactly as it was found.

The header of an SQLite file (https://sqlite.org/fileformat2.html, 1.3) tells enough without a connection.
"""

import sqlite3
import struct
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from lacet.files import FileRefused, is_there
from lacet.language import to_say
from lacet.store.errors import (
    DamagedFile,
    FileMissing,
    FileReadOnly,
    NewerFile,
    NotALacetFile,
    OnNetworkShare,
)
from lacet.store.schema import APPLICATION_ID, SCHEMA
from lacet.store.shares import network_share

MAGIC = b"SQLite format 3\x00"
HEADER_BYTES = 100
_VERSION_WITH_LOG = 2

# Tracks make up nearly all of a big library; each is checked against its own digest when it is read.
UNCHECKED_ON_OPENING = frozenset({"tracks"})


@dataclass(frozen=True, slots=True)
class Header:
    """What the first hundred bytes of an SQLite file say.

    `pages` is 0 where the count can't be trusted; `with_log` is true of a file kept with a write-ahead log.
    """

    page_size: int
    pages: int
    user_version: int
    application_id: int
    with_log: bool


def read_header(path: Path) -> Header | None:
    """The header, or None when the file is no SQLite file."""
    with path.open("rb") as file:
        return header_of(file.read(HEADER_BYTES))


def header_of(start: bytes) -> Header | None:
    """The header in the first hundred bytes of a file, or None when they are of no SQLite file."""
    if len(start) < HEADER_BYTES or not start.startswith(MAGIC):
        return None
    page_size, version, change_counter, pages, user_version, application_id, valid_for = struct.unpack(
        ">16xHxB4xII28xI4xI20xI4x", start
    )
    return Header(
        page_size=65536 if page_size == 1 else page_size,
        pages=pages if change_counter == valid_for else 0,
        user_version=user_version,
        application_id=application_id,
        with_log=version == _VERSION_WITH_LOG,
    )


def refuse_unfit_place(path: Path) -> None:
    """Refuse folders that don't exist and network shares.

    Raises
    ------
    FileMissing, OnNetworkShare
    """
    if not _is_there(path.parent) or not path.parent.is_dir():
        raise FileMissing(
            "There is no folder '{parent}' for '{name}'. Make it, or choose another.",
            parent=path.parent,
            name=path.name,
        )
    kind = network_share(path)
    if kind is not None:
        raise OnNetworkShare(
            "'{name}' lies on a network share ({kind}), where two programs can damage it. Copy it "
            "to a disk of this computer and open the copy.",
            name=path.name,
            kind=kind,
        )


def refuse_unfit(path: Path) -> int:
    """Look at an existing file and return its schema number.

    Raises
    ------
    FileMissing, FileReadOnly, OnNetworkShare, NotALacetFile, DamagedFile, NewerFile
    """
    refuse_unfit_place(path)
    return refuse_unfit_file(path)


def refuse_unfit_file(path: Path) -> int:
    """Look at an existing file, wherever it lies, and return its schema number."""
    if not _is_there(path):
        raise FileMissing(
            "There is no file '{name}' in '{parent}'. Check the name.", name=path.name, parent=path.parent
        )
    if not path.is_file():
        raise NotALacetFile("'{name}' is not a file. Choose a .lacet file.", name=path.name)
    header = _header_of(path)
    _refuse_shortened(path, header)
    refuse_newer(path, header.user_version)
    return header.user_version


def refuse_newer(path: Path, schema: int) -> None:
    """Refuse what a newer Lacet wrote."""
    if schema > SCHEMA:
        raise NewerFile(
            to_say(
                "'{name}' was written by a newer Lacet (file format {schema}, this one knows "
                "{known}). Update Lacet to open it; the file was left untouched.",
                name=path.name,
                schema=schema,
                known=SCHEMA,
            ),
            schema,
            SCHEMA,
        )


def refuse_damaged(path: Path, connection: sqlite3.Connection, *, thorough: bool = False) -> None:
    """Let SQLite check the file's structure; `thorough` includes tracks, indexes and foreign keys.

    Raises
    ------
    DamagedFile
    """
    for table in tables_to_check(connection, thorough=thorough):
        refuse_damaged_table(path, connection, table, thorough=thorough)


def tables_to_check(connection: sqlite3.Connection, *, thorough: bool) -> list[str]:
    """The tables that are looked at on opening, or all of them."""
    names = [
        str(name) for (name,) in connection.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")
    ]
    if thorough:
        return names
    return [name for name in names if name not in UNCHECKED_ON_OPENING and not name.startswith("search_")]


def refuse_damaged_table(
    path: Path, connection: sqlite3.Connection, table: str, *, thorough: bool = False
) -> None:
    """Let SQLite check one table, so that others may write between two of them.

    Raises
    ------
    DamagedFile
    """
    how = "integrity_check" if thorough else "quick_check"
    sound = all(answer == "ok" for (answer,) in connection.execute(f'PRAGMA {how}("{table}")'))
    if not sound or (thorough and connection.execute(f'PRAGMA foreign_key_check("{table}")').fetchone()):
        raise _damaged(path)


def has_log(path: Path) -> bool:
    """Whether the file is kept with a write-ahead log, or one stands beside it."""
    header = read_header(path)
    return (header is not None and header.with_log) or path.with_name(path.name + "-wal").exists()


def log_bytes(path: Path) -> int:
    """How many bytes of the write-ahead log stand beside the file; 0 after a clean end."""
    log = path.with_name(path.name + "-wal")
    return log.stat().st_size if log.exists() else 0


def _is_there(path: Path) -> bool:
    try:
        return is_there(path)
    except FileRefused as refusal:
        raise FileReadOnly(
            "'{name}' can't be opened: {reason}.", name=path.name, reason=refusal.reason
        ) from refusal


def _header_of(path: Path) -> Header:
    try:
        header = read_header(path)
    except PermissionError as error:
        raise FileReadOnly(
            "'{name}' may not be opened by you. Change its permissions, or ask its owner.", name=path.name
        ) from error
    if header is None or header.application_id != APPLICATION_ID or header.user_version < 1:
        raise NotALacetFile("'{name}' is not a Lacet project. Choose a .lacet file.", name=path.name)
    return header


def _refuse_shortened(path: Path, header: Header) -> None:
    # While a write-ahead log stands beside it, a shorter file may be whole: the log holds the rest.
    if path.stat().st_size < header.pages * header.page_size and not log_bytes(path):
        raise _damaged(path)


def _damaged(path: Path) -> DamagedFile:
    return DamagedFile(
        "'{name}' is damaged and was left untouched. Restore the newest backup.", name=path.name
    )


def schema_of(path: Path, connection: sqlite3.Connection) -> int:
    """The schema number by the connection, which also sees what only stands in the write-ahead log."""
    with closing(connection.execute("PRAGMA user_version")) as answer:
        schema: int = answer.fetchone()[0]
    refuse_newer(path, schema)
    return schema
