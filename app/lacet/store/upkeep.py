"""Care of a whole file: check, copy, restore, make small, forget guests in it and in its copies."""

import sqlite3
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

from sqlalchemy import select

from lacet.store import forget, guard
from lacet.store.bodies import RecentTexts
from lacet.store.copies import (
    Progress,
    copy_before,
    copy_file,
    fetched,
    leftovers,
    overwrite,
    own_copies,
    sweep_leftovers,
)
from lacet.store.engine import Access, connected
from lacet.store.errors import DamagedFile, FileBusy, FileGone, FileMissing, StoreError, told
from lacet.store.known_by import KnownBy
from lacet.store.lines import track_id
from lacet.store.making import bring_up_to_date
from lacet.store.mentions import Searched, search
from lacet.store.rewrite import redact as redact_trip
from lacet.store.rewrite import redact_library
from lacet.store.tables import TRACKS
from lacet.store.unit_of_work import UnitOfWork
from lacet.tracks.packing import PackingDamaged, unpack

# A track of 2 000 points is read in about half a millisecond.
TRACKS_AT_ONCE = 20


class Compacted(NamedTuple):
    """Size of the file before and after [bytes]."""

    before: int
    after: int


def check(path: Path, reading: Callable[[], UnitOfWork], progress: Progress | None = None) -> None:
    """Look at everything: structure, references, and that every track is what its id says.

    The lock is let go after each table and after some tracks, so that others may write meanwhile.

    Raises
    ------
    DamagedFile
    """
    with told(path):
        # First, since it tells a file that is lost.
        with reading() as unit:
            names = sorted(unit.connection.execute(select(TRACKS.c.id)).scalars())
        with connected(path) as connection:
            tables = guard.tables_to_check(connection, thorough=True)
        for table in tables:
            with connected(path) as connection:
                guard.refuse_damaged_table(path, connection, table, thorough=True)
        for first in range(0, len(names), TRACKS_AT_ONCE):
            with reading() as unit:
                _check_tracks(path, unit, names[first : first + TRACKS_AT_ONCE])
            if progress is not None:
                progress(min(first + TRACKS_AT_ONCE, len(names)), len(names))


def _check_tracks(path: Path, unit: UnitOfWork, names: list[str]) -> None:
    found = unit.connection.execute(select(TRACKS.c.id, TRACKS.c.packed).where(TRACKS.c.id.in_(names)))
    for name, packed in found:
        try:
            sound = track_id(unpack(packed)) == name
        except PackingDamaged:
            sound = False
        if not sound:
            raise DamagedFile("A track in '{name}' is damaged. Restore the newest backup.", name=path.name)


def backup(path: Path, target: Path, progress: Progress | None) -> None:
    """Copy a project to a place of a person's choice."""
    if not target.parent.is_dir():
        raise FileMissing(
            "There is no folder '{parent}' for the copy. Make it, or choose another.", parent=target.parent
        )
    copy_file(path, target, progress)


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
        "INSERT OR IGNORE INTO copies (path, made_at, kind, trip_id) VALUES (?, ?, ?, ?)",
        ours.execute("SELECT path, made_at, kind, trip_id FROM copies").fetchall(),
    )
    for name, value in ours.execute("SELECT name, value FROM counters").fetchall():
        theirs.execute(
            "INSERT INTO counters (name, value) VALUES (?, ? + 1)"
            " ON CONFLICT (name) DO UPDATE SET value = max(value, excluded.value - 1) + 1",
            (name, value),
        )


def forget_party(path: Path, writing: UnitOfWork, trip_id: str, expected_revision: int) -> forget.Forgotten:
    """Erase the guests of a trip in a project and in every copy within reach; then read all of it again."""
    with writing as unit:
        known = forget.known_by(unit.connection, trip_id)
        chosen = forget.known_copies(unit.connection)
        written = forget.written_files(unit.connection, trip_id)
        new_id, revision = forget.forget_in(unit, trip_id, expected_revision, known)
        unit.commit()
    sweep_leftovers(path)
    files, said = [path], _compacted(path)
    for copy in (*own_copies(path), *chosen):
        try:
            known = _forget_in_copy(copy, trip_id, known)
            files.append(copy)
        except StoreError as error:
            said.append(f"The copy '{copy}' could not be cleaned ({error}) Delete it if it still exists.")
    left = "was left by a stopped program and may hold guest data. Delete it."
    said += [f"'{each}' {left}" for each in leftovers(path)]
    found = [_read_again(file, known) for file in files]
    return forget.Forgotten(
        trip_id=new_id,
        revision=revision,
        files=tuple(files),
        texts=sum(each.texts for each in found),
        mentions=tuple(mention for each in found for mention in each.mentions),
        written=written,
        unread=tuple(sentence for each in found for sentence in each.unread),
        left=tuple(said),
        known=known,
    )


def redact(path: Path, writing: UnitOfWork, known: KnownBy) -> tuple[str, ...]:
    """Take what surely names these guests out of all texts; returns what was changed."""
    with writing as unit:
        rows = unit.trips.rows()
        changed = tuple(row.name for row in rows if redact_trip(unit.connection, row.id, known))
        changed += redact_library(unit.connection, known)
        unit.commit()
    compact(path)
    return changed


def _read_again(file: Path, known: KnownBy) -> Searched:
    """Search one of the files; what is found says in which."""
    access = Access(file)
    try:
        with UnitOfWork(access, RecentTexts(), writes=False) as unit:
            found = search(unit.connection, known)
    finally:
        access.close()
    return Searched(
        tuple(each._replace(where=f"{file.name}, {each.where}") for each in found.mentions),
        found.texts,
        tuple(f"{file.name}, {each}" for each in found.unread),
    )


def _forget_in_copy(copy: Path, trip_id: str, known: KnownBy) -> KnownBy:
    """Erase the guests in a copy, and return what they are known by with what it held of them."""
    guard.refuse_unfit(copy)
    bring_up_to_date(copy)
    access = Access(copy)
    try:
        with UnitOfWork(access, RecentTexts(), writes=True) as unit:
            if trip_id in {row.id for row in unit.trips.rows()}:
                held = forget.known_by(unit.connection, trip_id)
                known = known.with_more(held.names, held.others)
                forget.forget_in(unit, trip_id, unit.trips.revision(trip_id), known)
            unit.commit()
        compact(copy)
    finally:
        access.close()
    return known


def _compacted(path: Path) -> list[str]:
    try:
        compact(path)
    except FileBusy as error:
        return [f"{error} Until then their data may still lie in unused pages; then compact the file."]
    return []
