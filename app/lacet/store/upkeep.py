"""Care of a whole file: check, copy, restore, make small, forget guests in it and in its copies."""

import sqlite3
from datetime import UTC, datetime
from pathlib import Path
from typing import NamedTuple

from sqlalchemy import select
from sqlalchemy.dialects.sqlite import insert

from lacet.store import forget, guard
from lacet.store.bodies import RecentTexts
from lacet.store.copies import Progress, copy_before, copy_file, fetched, overwrite, own_copies
from lacet.store.engine import Access, connected
from lacet.store.errors import DamagedFile, FileBusy, FileGone, FileMissing, StoreError, told
from lacet.store.lines import track_id
from lacet.store.making import bring_up_to_date
from lacet.store.tables import COPIES, TRACKS
from lacet.store.unit_of_work import UnitOfWork
from lacet.tracks.packing import PackingDamaged, unpack


class Compacted(NamedTuple):
    """Size of the file before and after [bytes]."""

    before: int
    after: int


def check(path: Path, unit: UnitOfWork) -> None:
    """Look at everything: structure, references, and that every track is what its id says.

    Raises
    ------
    DamagedFile
    """
    with told(path), connected(path) as connection:
        guard.refuse_damaged(path, connection, thorough=True)
    for name, packed in unit.connection.execute(select(TRACKS.c.id, TRACKS.c.packed)):
        try:
            sound = track_id(unpack(packed)) == name
        except PackingDamaged:
            sound = False
        if not sound:
            raise DamagedFile(f"A track in '{path.name}' is damaged. Restore the newest backup.")


def backup(path: Path, target: Path, progress: Progress | None) -> None:
    """Copy a project to a place of a person's choice."""
    if not target.parent.is_dir():
        raise FileMissing(f"There is no folder '{target.parent}' for the copy. Make it, or choose another.")
    copy_file(path, target, progress)


def remember_copy(unit: UnitOfWork, target: Path) -> None:
    """Note where a copy went, so that forgetting guests finds it."""
    made = {"path": str(target.absolute()), "made_at": datetime.now(UTC).isoformat(timespec="seconds")}
    unit.connection.execute(insert(COPIES).values(made).on_conflict_do_nothing())


def restore(access: Access, source: Path) -> Path:
    """Let a project be what a copy holds; returns the copy that was made of it before.

    Other windows go on with the restored contents.
    """
    path = access.path
    with fetched(source, path) as copy:
        bring_up_to_date(copy)
        # Nobody may write between the copy of what is and its end: that would be in neither.
        with told(path), access.changing():
            with connected(path) as ours, connected(copy, writes=True) as theirs:
                _carry_over(ours, theirs)
            before = copy_before(path, "restore")
            overwrite(path, copy)
    return before


def compact(path: Path) -> Compacted:
    """Write a file anew without its unused pages.

    Raises
    ------
    FileBusy
        When another window is at work in it.
    """
    with told(path), connected(path, writes=True) as connection:
        before = _size(path)
        connection.execute("INSERT INTO search_text (search_text) VALUES ('optimize')")
        connection.execute("VACUUM")
        return Compacted(before, _size(path))


def _size(path: Path) -> int:
    try:
        return path.stat().st_size
    except FileNotFoundError as error:
        raise FileGone.of(path) from error


def _carry_over(ours: sqlite3.Connection, theirs: sqlite3.Connection) -> None:
    """Put into a copy what must outlive its being restored: where copies went, and what windows compare."""
    theirs.executemany(
        "INSERT OR IGNORE INTO copies (path, made_at) VALUES (?, ?)",
        ours.execute("SELECT path, made_at FROM copies").fetchall(),
    )
    for name, value in ours.execute("SELECT name, value FROM counters").fetchall():
        theirs.execute("UPDATE counters SET value = max(value, ?) + 1 WHERE name = ?", (value, name))


def forget_party(path: Path, writing: UnitOfWork, trip_id: str, expected_revision: int) -> forget.Forgotten:
    """Forget the guests of a trip in a project and in every copy of it that can be reached."""
    with writing as unit:
        traces = forget.traces_of(unit.connection, trip_id)
        chosen = forget.known_copies(unit.connection)
        elsewhere = forget.other_trips_with(unit.connection, trip_id, traces)
        new_id, revision = forget.forget_in(unit, trip_id, expected_revision)
        unit.commit()
    said = [f"They also travel on '{name}'; forget that party too." for name in elsewhere]
    files = [path]
    said += _compacted(path)
    for copy in (*own_copies(path), *chosen):
        try:
            traces |= _forget_in_copy(copy, trip_id)
            files.append(copy)
        except StoreError as error:
            said.append(f"The copy '{copy}' could not be cleaned ({error}) Delete it if it still exists.")
    said += _leftovers(files, traces)
    return forget.Forgotten(new_id, revision, tuple(files), tuple(said))


def _forget_in_copy(copy: Path, trip_id: str) -> frozenset[str]:
    """Forget the guests in a copy, and return what it held of them."""
    guard.refuse_unfit(copy)
    bring_up_to_date(copy)
    access = Access(copy)
    try:
        with UnitOfWork(access, RecentTexts(), writes=True) as unit:
            traces = forget.traces_of(unit.connection, trip_id)
            if trip_id in {row.id for row in unit.trips.rows()}:
                forget.forget_in(unit, trip_id, unit.trips.revision(trip_id))
            unit.commit()
        compact(copy)
    finally:
        access.close()
    return traces


def _compacted(path: Path) -> list[str]:
    try:
        compact(path)
    except FileBusy as error:
        return [f"{error} Until then their data may still lie in unused pages; then compact the file."]
    return []


def _leftovers(files: list[Path], traces: frozenset[str]) -> list[str]:
    """A sentence on each file whose bytes, or whose log's, still hold one of the texts."""
    said = []
    for file in files:
        for part in (file, *(file.with_name(file.name + end) for end in ("-journal", "-wal", "-shm"))):
            for text in forget.found_in(part, traces) if part.exists() else ():
                said.append(f"'{text}' is still found in '{part.name}': another trip or item names it too.")
    return said
