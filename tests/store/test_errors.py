"""Each trouble of the database reaches a person as a sentence, and what was kept before stays."""

import sqlite3
from pathlib import Path
from random import Random

import pytest
from sqlalchemy import event
from sqlalchemy.exc import OperationalError

from lacet.store import Project, engine, lock
from lacet.store.errors import DiskFull, FileBusy, FileReadOnly, StoreError, sentence_for, told
from lacet.store.pictures import Picture
from tests.store.things import guests_trip, raw, read_elsewhere


def test_a_full_disk_is_told_and_nothing_is_half_kept(project: Project, path: Path) -> None:
    @event.listens_for(project._access.engine, "begin")
    def shrink(connection: object) -> None:
        # SQLite's own way to play a full disk: the file may not grow by another page.
        connection.exec_driver_sql("PRAGMA max_page_count = 1")  # type: ignore[attr-defined]  # an event's argument

    picture = Picture(payload=Random(1).randbytes(200_000), media_type="image/jpeg", width=1, height=1)
    with project.unit_of_work() as unit:
        unit.trips.save(guests_trip(note="kept with the picture or not at all"), 1, "a note")
        with pytest.raises(OperationalError, match="full"):
            unit.pictures.keep(picture)
    with pytest.raises(DiskFull, match="the disk is full"), project.unit_of_work() as unit:
        unit.pictures.keep(picture)
    assert raw(path, "SELECT revision FROM trips") == [(1,)]


def test_a_file_that_another_writes_for_too_long_is_told(
    project: Project, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(engine, "PRAGMAS", ("PRAGMA busy_timeout = 1", *engine.PRAGMAS[1:]))
    other = sqlite3.connect(path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    try:
        with pytest.raises(FileBusy, match="being written by another window"), project.unit_of_work():
            pass
    finally:
        other.close()


def test_reading_goes_on_while_another_writes(project: Project, path: Path) -> None:
    other = sqlite3.connect(path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    other.execute("UPDATE trips SET name = 'half done'")
    try:
        with project.reading() as unit:
            assert unit.trips.load("may")[0] == guests_trip()
    finally:
        other.close()


def test_a_reading_unit_sees_one_moment_only(project: Project, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(lock, "PATIENCE_S", 0.0)
    with read_elsewhere(project.path), pytest.raises(FileBusy), project.unit_of_work():
        pass
    with read_elsewhere(project.path), project.reading() as reading:
        assert reading.trips.revision("may") == 1


def test_a_read_only_file_is_told(path: Path) -> None:
    connection = engine.connect(path, read_only=True)
    with pytest.raises(FileReadOnly, match=r"'mine\.lacet' may only be read"), told(path):
        connection.execute("UPDATE trips SET name = 'x'")
    connection.close()


@pytest.mark.parametrize(
    ("code", "says"),
    [
        (sqlite3.SQLITE_FULL, "disk is full"),
        (sqlite3.SQLITE_BUSY, "another window"),
        (sqlite3.SQLITE_BUSY_SNAPSHOT, "another window"),
        (sqlite3.SQLITE_LOCKED, "another window"),
        (sqlite3.SQLITE_READONLY_DBMOVED, "moved, removed or replaced"),
        (sqlite3.SQLITE_READONLY, "may only be read"),
        (sqlite3.SQLITE_CANTOPEN, "can't be opened"),
        (sqlite3.SQLITE_NOTADB, "not a Lacet project"),
        (sqlite3.SQLITE_CORRUPT, "is damaged"),
        (sqlite3.SQLITE_IOERR_FSYNC, "trouble reading or writing"),
        (sqlite3.SQLITE_PERM, "may not be opened"),
    ],
)
def test_every_circumstance_has_its_sentence(code: int, says: str) -> None:
    error = sqlite3.OperationalError("as SQLite says it")
    error.sqlite_errorcode = code
    meant = sentence_for(error, Path("/somewhere/may.lacet"))
    assert meant is not None
    assert says in str(meant)
    assert "may.lacet" in str(meant)
    assert "SQLite" not in str(meant)


def test_a_bug_stays_a_bug(project: Project) -> None:
    assert sentence_for(ZeroDivisionError(), Path("a")) is None
    with pytest.raises(sqlite3.OperationalError, match="syntax"), told(Path("a")):
        sqlite3.connect(":memory:").execute("SELEKT")
    assert not issubclass(sqlite3.Error, StoreError)
