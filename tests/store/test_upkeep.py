"""Backup, restore, compact and check: whole files, nothing lost, nothing overwritten unasked."""

import errno
import os
import re
import shutil
from dataclasses import replace
from pathlib import Path
from random import Random

import pytest

from lacet.store import Project, StoreError, copies, engine, guard, open_project
from lacet.store.copies import copies_folder, copy_file
from lacet.store.errors import (
    DamagedFile,
    FileBusy,
    FileGone,
    FileLost,
    FileMissing,
    FileThere,
    NotALacetFile,
)
from lacet.store.pictures import Picture
from lacet.trip.library import Lodging
from tests.store.things import glue_subjects, guests_trip, house, raw


def test_a_backup_holds_everything_and_stands_alone(project: Project, tmp_path: Path) -> None:
    copy = tmp_path / "elsewhere" / "copy.lacet"
    copy.parent.mkdir()
    project.backup(copy)
    assert [file.name for file in copy.parent.iterdir()] == ["copy.lacet"]
    with open_project(copy) as opened, opened.reading() as unit:
        assert unit.trips.load("may") == (guests_trip(), 1)


def test_a_backup_taken_while_another_writes_is_whole(project: Project, tmp_path: Path) -> None:
    with project.unit_of_work() as unit:
        unit.trips.save(guests_trip(note="not committed"), 1, "edit")
        copy_file(project.path, tmp_path / "copy.lacet")
    with open_project(tmp_path / "copy.lacet") as opened:
        opened.check()
        with opened.reading() as unit:
            assert unit.trips.load("may")[0] == guests_trip()


def test_a_backup_overwrites_nothing_and_wants_a_folder(project: Project, tmp_path: Path) -> None:
    (tmp_path / "letter.txt").write_text("dear")
    with pytest.raises(FileThere, match="is there already"):
        project.backup(tmp_path / "letter.txt")
    with pytest.raises(FileMissing, match="no folder"):
        project.backup(tmp_path / "nowhere" / "copy.lacet")
    assert (tmp_path / "letter.txt").read_text() == "dear"


def test_a_backup_that_is_broken_off_leaves_no_trace(project: Project, tmp_path: Path) -> None:
    class BrokenOff(Exception):
        pass

    def stop(done: int, total: int) -> None:
        assert 0 <= done <= total
        raise BrokenOff

    before = sorted(tmp_path.iterdir())
    with pytest.raises(BrokenOff):
        project.backup(tmp_path / "copy.lacet", stop)
    assert [file for file in sorted(tmp_path.iterdir()) if file.suffix == ".new" or "copy" in file.name] == []
    assert set(before) <= set(tmp_path.iterdir())


def test_restoring_brings_back_what_was_and_keeps_what_is(project: Project, tmp_path: Path) -> None:
    project.backup(tmp_path / "copy.lacet")
    with project.unit_of_work() as unit:
        unit.trips.save(guests_trip(note="later"), 1, "later")
        unit.library.add_version(house("forge"))
        unit.commit()
    before = project.restore(tmp_path / "copy.lacet")
    with project.reading() as unit:
        assert unit.trips.load("may") == (guests_trip(), 1)
        assert len(unit.library.item_rows(type(house("weir")))) == 1
    with open_project(before) as opened, opened.reading() as unit:
        assert unit.trips.load("may")[0].note == "later"
    project.check()
    # The copy is still known, although it was made after what it holds.
    assert raw(project.path, "SELECT count(*) FROM copies") == [(1,)]
    assert raw(project.path, "PRAGMA journal_mode") == [("delete",)]


def test_restoring_something_else_is_refused_and_changes_nothing(project: Project, tmp_path: Path) -> None:
    (tmp_path / "letter.txt").write_text("dear " * 200)
    with pytest.raises(NotALacetFile):
        project.restore(tmp_path / "letter.txt")
    with project.reading() as unit:
        assert unit.trips.load("may")[0] == guests_trip()
    assert not copies_folder(project.path).exists()


def test_compacting_makes_the_file_smaller_and_keeps_everything(project: Project) -> None:
    picture = Picture(payload=Random(2).randbytes(300_000), media_type="image/png", width=9, height=9)
    with project.unit_of_work() as unit:
        unit.pictures.keep(picture)
        unit.commit()
    raw(project.path, "DELETE FROM pictures")
    size = project.compact()
    assert size.after < size.before - 290_000
    project.check()
    with project.reading() as unit:
        assert unit.trips.load("may")[0] == guests_trip()
        assert len(unit.library.stage_rows()) == 2


def test_a_damaged_track_is_found_by_the_thorough_check(path: Path) -> None:
    with open_project(path) as project:
        project.check()
    # Bytes of a blob: the structure of the file stays sound, and opening stays quick.
    raw(path, "UPDATE tracks SET packed = (SELECT packed FROM tracks ORDER BY points DESC, id DESC LIMIT 1)")
    with (
        open_project(path) as project,
        pytest.raises(DamagedFile, match=r"A track in 'mine\.lacet' is damaged"),
    ):
        project.check()
    raw(path, "UPDATE tracks SET packed = X'00'")
    with open_project(path) as project, pytest.raises(StoreError, match="is damaged"):
        project.check()


def test_others_write_while_the_file_is_checked(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The lock is let go between tables and between tracks: whoever else writes waits for one step."""
    monkeypatch.setattr("lacet.store.upkeep.TRACKS_AT_ONCE", 1)
    seen: list[tuple[int, int]] = []
    with open_project(path) as project, open_project(path) as other:

        def write(done: int, of: int) -> None:
            seen.append((done, of))
            with other.unit_of_work() as unit:
                unit.library.add_version(house(f"late-{done}"))
                unit.commit()

        project.check(write)
        kept = project.catalogue().items[Lodging]
    assert len(seen) > 1
    assert seen[-1][0] == seen[-1][1]
    assert {f"late-{done}" for done, _ in seen} <= set(kept)


def test_pictures_are_kept_once_with_their_latest_words(project: Project) -> None:
    picture = Picture(payload=b"dots", media_type="image/png", width=2, height=2, alt="dots")
    with project.unit_of_work() as unit:
        names = {unit.pictures.keep(picture), unit.pictures.keep(replace(picture, alt="four dots"))}
        assert len(names) == 1
        assert unit.pictures.get(names.pop()) == replace(picture, alt="four dots")
        assert unit.pictures.get("nothing") is None


def test_a_file_moved_to_another_folder_opens_there(path: Path, tmp_path: Path) -> None:
    (tmp_path / "moved to").mkdir()
    moved = Path(shutil.move(path, tmp_path / "moved to" / "so # und % sö.lacet"))
    with open_project(moved) as project, project.reading() as unit:
        assert unit.trips.load("may")[0] == guests_trip()


def test_copies_come_from_and_go_to_network_shares(
    project: Project, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    far = tmp_path / "far"
    far.mkdir()
    for room in (guard, copies):
        monkeypatch.setattr(room, "network_share", lambda path: "nfs" if far in path.parents else None)
    project.backup(far / "copy.lacet")
    assert [file.name for file in far.iterdir()] == ["copy.lacet"]
    with project.unit_of_work() as unit:
        unit.trips.save(guests_trip(note="later"), 1, "later")
        unit.commit()
    project.restore(far / "copy.lacet")
    with project.reading() as unit:
        assert unit.trips.load("may")[0] == guests_trip()
    assert project.take_in(far / "copy.lacet").already_here == ("may",)


def test_restoring_while_another_goes_on_writing_is_refused(
    project: Project, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(engine, "PRAGMAS", ("PRAGMA busy_timeout = 1", *engine.PRAGMAS[1:]))
    monkeypatch.setattr(copies, "PATIENCE_S", 0.0)
    project.backup(tmp_path / "copy.lacet")
    with project.unit_of_work() as unit:
        unit.trips.save(guests_trip(note="theirs"), 1, "theirs")
        with pytest.raises(FileBusy, match="being written by another window"):
            project.restore(tmp_path / "copy.lacet")
        unit.commit()
    with project.reading() as unit:
        assert unit.trips.load("may")[0].note == "theirs"


def test_restoring_an_older_lacets_copy_brings_it_up_to_date(project: Project, tmp_path: Path) -> None:
    copy = tmp_path / "copy.lacet"
    project.backup(copy)
    for table in ("documents", "pictures", "copies", "filed", "booking_steps", "bookings"):
        raw(copy, f"DROP TABLE {table}")
    for index in ("items_named", "items_retired"):
        raw(copy, f"DROP INDEX {index}")
    raw(copy, "CREATE TABLE totals (trip_id TEXT)")
    of_old = "trip_id, id, service, supplier, detail, from_day, to_day, quantity, state, option_until"
    raw(copy, f"CREATE TABLE bookings ({of_old})")
    raw(copy, "DELETE FROM counters WHERE name = 'restored'")
    raw(copy, "UPDATE alembic_version SET version_num = '0001'")
    raw(copy, "PRAGMA user_version = 1")
    older = engine.make_engine(copy)
    glue_subjects(older)
    older.dispose()
    before = copy.read_bytes()
    project.restore(copy)
    project.check()
    assert raw(project.path, "SELECT count(*) FROM documents") == [(0,)]
    assert copy.read_bytes() == before


def test_a_copy_of_a_project_that_went_away_names_the_project(path: Path, tmp_path: Path) -> None:
    with open_project(path) as project:
        path.rename(tmp_path / "renamed.lacet")
        with pytest.raises(FileLost, match=r"'mine\.lacet' is no longer in"):
            project.backup(tmp_path / "copy.lacet")
        for act in (project.compact, project.check, lambda: project.restore(tmp_path / "renamed.lacet")):
            with pytest.raises(FileGone, match=r"'mine\.lacet' is no longer in"):
                act()
    assert not (tmp_path / "copy.lacet").exists()


@pytest.mark.parametrize(
    ("number", "says"),
    [
        (errno.ENOSPC, "disk of '{}' is full"),
        (errno.EACCES, "not write in '{}'"),
        (errno.EIO, "written in '{}'"),
    ],
)
def test_trouble_with_the_disk_of_a_copy_names_its_folder(
    project: Project, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int, says: str
) -> None:
    target = tmp_path / "stick" / "copy.lacet"
    target.parent.mkdir()
    project.backup(tmp_path / "good.lacet")

    def refuse(*_: object, **__: object) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(copies, "make_empty", refuse)
    with pytest.raises(StoreError, match=re.escape(says.format(target.parent))):
        project.backup(target)
    # Restoring makes a copy beside the project, wherever the source is.
    with pytest.raises(StoreError, match=re.escape(str(tmp_path))):
        project.restore(tmp_path / "good.lacet")
