"""No edit is acknowledged that went to a file nobody finds again; what can be reached is saved elsewhere."""

import os
import shutil
import stat
import tempfile
import traceback
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from lacet.store import Project, open_project
from lacet.store import project as project_room
from lacet.store.errors import (
    FileGone,
    FileLost,
    FileReadOnly,
    FileReplaced,
    FileSpoiled,
    FileThere,
    NotALacetFile,
)
from lacet.store.unit_of_work import UnitOfWork
from lacet.trip.bookings import add, cancel
from lacet.trip.catalogue import Office
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import Lodging
from lacet.trip.region import Region
from tests.store.things import guests_bookings, guests_trip, house


def remove(path: Path) -> None:
    path.unlink()


def replace_with_older(path: Path) -> None:
    shutil.copy(path, path.with_name("older"))
    path.with_name("older").replace(path)


def cut_short(path: Path) -> None:
    os.truncate(path, path.stat().st_size - 4096)


def empty(path: Path) -> None:
    os.truncate(path, 0)


def write_over(path: Path) -> None:
    path.write_bytes(b"another program's bytes " * 4000)


def rename_folder(path: Path) -> None:
    path.parent.rename(path.parent.with_name("renamed"))


LOSSES = [
    (remove, FileGone, "no longer in"),
    (replace_with_older, FileReplaced, "was replaced by another file"),
    (cut_short, FileSpoiled, "overwritten or cut short"),
    (empty, FileSpoiled, "overwritten or cut short"),
    (write_over, FileSpoiled, "overwritten or cut short"),
    (rename_folder, FileGone, "its folder, was moved, renamed or removed"),
]


@pytest.fixture
def deep(filled_file: Path, tmp_path: Path) -> Path:
    """A filled project file in a folder that may be renamed."""
    path = tmp_path / "folder" / "mine.lacet"
    path.parent.mkdir()
    shutil.copy(filled_file, path)
    return path


def edit(unit: UnitOfWork, note: str = "edited") -> None:
    trip, revision = unit.trips.load("may")
    unit.trips.save(replace(trip, note=note), revision, note)
    unit.commit()


@pytest.mark.parametrize(("lose", "kind", "says"), LOSSES)
def test_an_edit_of_a_lost_file_is_not_acknowledged(
    lose: Callable[[Path], None], kind: type[FileLost], says: str, deep: Path
) -> None:
    with open_project(deep) as project:
        lose(deep)
        with pytest.raises(kind, match=says) as told, project.unit_of_work() as unit:
            edit(unit)
        assert "'mine.lacet'" in str(told.value)
        assert "elsewhere" in str(told.value)


@pytest.mark.parametrize(("lose", "kind", "says"), LOSSES)
def test_whoever_asks_whether_the_file_stands_hears_of_its_loss(
    lose: Callable[[Path], None], kind: type[FileLost], says: str, deep: Path
) -> None:
    with open_project(deep) as project:
        project.stands()
        with project.unit_of_work():
            project.stands()
        lose(deep)
        with pytest.raises(kind, match=says):
            project.stands()


@pytest.mark.parametrize(("lose", "kind", "says"), LOSSES)
def test_a_file_lost_within_a_transaction_acknowledges_nothing(
    lose: Callable[[Path], None], kind: type[FileLost], says: str, deep: Path
) -> None:
    with open_project(deep) as project:
        unit = project.unit_of_work()
        with unit:
            unit.library.add_version(house("late"))
            lose(deep)
            with pytest.raises(FileLost):
                unit.commit()


@pytest.mark.parametrize("lose", [remove, replace_with_older, rename_folder])
def test_a_file_that_lost_its_name_is_saved_elsewhere_whole(
    lose: Callable[[Path], None], deep: Path, tmp_path: Path
) -> None:
    with open_project(deep) as project:
        with project.unit_of_work() as unit:
            edit(unit, "the last kept")
        lose(deep)
        more = add(guests_bookings(), replace(guests_bookings().held[0], supplier="forge"))
        seen = {"may": cancel(more, "k2")}
        saved = project.rescue(
            tmp_path / "saved.lacet", [guests_trip(note="only in the window")], bookings=seen
        )
        assert (saved.whole, saved.trips, saved.lost) == (True, ("may",), ())
    assert stat.S_IMODE(saved.target.stat().st_mode) == 0o600
    with open_project(saved.target) as project, project.reading() as unit:
        assert unit.trips.load("may") == (guests_trip(note="only in the window"), 3)
        assert unit.trips.load_revision("may", 2).note == "the last kept"
        assert unit.bookings.of("may") == seen["may"]


@pytest.mark.parametrize("spoil", [cut_short, empty, write_over])
def test_of_a_spoiled_file_what_is_in_memory_is_saved(
    spoil: Callable[[Path], None], path: Path, tmp_path: Path
) -> None:
    with open_project(path) as project:
        kept = {
            item: project.catalogue().latest(Lodging, item) for item in project.catalogue().items[Lodging]
        }
        spoil(path)
        seen = (Region(currency="GBP"), Office(name="Far Walks"), HouseRules(walking_limit_m=12_345.0))
        trips = [guests_trip(note="only in the window")]
        saved = project.rescue(tmp_path / "saved.lacet", trips, seen, {"may": guests_bookings()})
        assert not saved.whole
        assert saved.lost == ("History, documents and pictures could not be reached.",)
    with open_project(saved.target) as project:
        with project.reading() as unit:
            assert unit.trips.load("may")[0].note == "only in the window"
            assert unit.bookings.of("may") == guests_bookings()
            settings = unit.settings
            assert (settings.region(), settings.office(), settings.house_rules()) == seen
        assert {item: project.catalogue().latest(Lodging, item) for item in kept} == kept


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() != 0, reason="another user is needed")
@pytest.mark.parametrize("mode", ["file", "folder"])
def test_what_another_user_may_not_write_is_looked_at_by_them(path: Path, mode: str) -> None:
    """The bits themselves: root isn't held by them, so a child becomes somebody else."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        target = Path(shutil.copy(path, folder))
        target.chmod(0o444 if mode == "file" else 0o666)
        folder.chmod(0o777 if mode == "file" else 0o555)
        with open_project(target) as project, project.reading() as unit:
            # Nothing is left to be imported from folders the other user can't see.
            unit.trips.load("may")
        child = os.fork()
        if child == 0:
            os._exit(_looked_at(target))
        _, status = os.waitpid(child, 0)
    assert os.waitstatus_to_exitcode(status) == 0


def _looked_at(target: Path) -> int:
    """In a child: 0 when the project opens to be looked at, shows its trips, and refuses to be changed."""
    try:
        os.setgroups([])
        os.setgid(65534)
        os.setuid(65534)
        with open_project(target) as project:
            if not project.read_only:
                return 1
            with project.reading() as unit:
                unit.trips.load("may")
            try:
                project.refuse_if_read_only()
            except FileReadOnly:
                return 0
        return 2
    except BaseException:
        traceback.print_exc()
        return 3


def test_saving_elsewhere_overwrites_nothing(project: Project, tmp_path: Path) -> None:
    (tmp_path / "letter.lacet").write_text("dear")
    with pytest.raises(FileThere):
        project.rescue(tmp_path / "letter.lacet")


def test_closing_lets_every_descriptor_go(path: Path) -> None:
    folder = Path("/proc/self/fd")
    if not folder.exists():
        folder = Path("/dev/fd")
    for _ in range(2):
        with open_project(path) as project:
            project.catalogue()
            with project.unit_of_work() as unit:
                edit(unit)
            with open_project(path) as again:
                again.house_rules()
            project.house_rules()
    ours = [os.path.realpath(each) for each in folder.iterdir()]
    assert not [each for each in ours if "mine.lacet" in each]
    assert [each.name for each in path.parent.iterdir()] == ["mine.lacet"]


def test_a_project_that_may_only_be_read_can_be_looked_at(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # Root may write everything, so it is played.
    monkeypatch.setattr(project_room, "_may_be_written", lambda path: False)
    path.chmod(0o444)
    before = path.read_bytes()
    with open_project(path) as project:
        assert project.read_only
        with project.reading() as unit:
            assert unit.trips.load("may")[0] == guests_trip()
        assert project.catalogue().items
        with pytest.raises(FileReadOnly, match="may only be read"), project.unit_of_work():
            pass
        for change in (project.compact, lambda: project.restore(path), lambda: project.take_in(path)):
            with pytest.raises(FileReadOnly):
                change()
        project.backup(path.with_name("copy.lacet"))
    assert path.read_bytes() == before
    path.write_bytes(b"SQLite format 3\x00" + b"x" * 200)
    with pytest.raises(NotALacetFile):
        open_project(path)
