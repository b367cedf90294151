"""Nothing of a killed program's work stays lying about, and nobody else may read what holds guests' data."""

import os
import stat
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from lacet.passing import passing_folder, sweep
from lacet.store import Project, open_project
from lacet.store.copies import copies_folder, copy_before, leftovers
from lacet.store.lock import has_hot_journal

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="folders can't be locked there")

DIE_HOLDING = """
import os, signal, sys
from pathlib import Path
from lacet.passing import passing_folder
with passing_folder(Path(sys.argv[1])) as folder:
    (folder / "copy.lacet").write_bytes(b"Quillon Vantreese")
    os.kill(os.getpid(), signal.SIGKILL)
"""


@pytest.fixture
def open_umask() -> Iterator[None]:
    """The most careless umask."""
    before = os.umask(0)
    yield
    os.umask(before)


def killed_in(folder: Path) -> None:
    environment = os.environ | {"PYTHONPATH": str(Path(__file__).parents[2] / "app")}
    subprocess.run([sys.executable, "-c", DIE_HOLDING, str(folder)], env=environment, check=False)


def mode(path: Path) -> int:
    return stat.S_IMODE(path.stat().st_mode)


def test_what_a_killed_program_left_is_known_and_swept_at_opening(path: Path) -> None:
    killed_in(path.parent)
    copies_folder(path).mkdir()
    killed_in(copies_folder(path))
    assert [left.read_bytes() for left in leftovers(path)] == [b"Quillon Vantreese"] * 2
    open_project(path).close()
    assert leftovers(path) == []
    assert [each.name for each in path.parent.rglob("*") if each.is_file()] == ["mine.lacet"]


def test_what_a_living_program_works_on_is_left_alone(path: Path) -> None:
    with passing_folder(path.parent) as folder:
        (folder / "work").write_bytes(b"half done")
        open_project(path).close()
        sweep(path.parent)
        assert (folder / "work").exists()
        assert leftovers(path) == []
    assert not folder.exists()


def test_a_link_of_that_name_is_not_followed(tmp_path: Path) -> None:
    (tmp_path / "letters").mkdir()
    (tmp_path / "letters" / "a.txt").write_text("dear")
    (tmp_path / ".lacet-link").symlink_to(tmp_path / "letters")
    sweep(tmp_path)
    assert (tmp_path / "letters" / "a.txt").exists()


@pytest.mark.usefixtures("open_umask")
def test_files_with_guests_data_are_their_owners_alone(tmp_path: Path) -> None:
    path = tmp_path / "new.lacet"
    seen: list[tuple[str, int]] = []
    with open_project(path, create=True) as project:
        project.backup(tmp_path / "copy.lacet", lambda *_: seen.extend(_modes(tmp_path)))
        own = copy_before(path, "test")
        project.restore(tmp_path / "copy.lacet")
        project.compact()
        seen += _modes(tmp_path)
    assert seen
    assert [each for each in seen if each[1] & 0o077] == []
    assert mode(own) == 0o600
    assert mode(copies_folder(path)) == 0o700


def _modes(folder: Path) -> list[tuple[str, int]]:
    return [(each.name, mode(each)) for each in folder.rglob("*")]


@pytest.mark.usefixtures("open_umask")
def test_a_trip_for_a_colleague_is_its_owners_alone(project: Project, tmp_path: Path) -> None:
    project.export_trip("may", tmp_path / "sent.lacet")
    assert mode(tmp_path / "sent.lacet") == 0o600


def test_a_journal_that_was_never_flushed_is_swept_and_keeps_nobody_waiting(path: Path) -> None:
    journal = path.with_name("mine.lacet-journal")
    journal.write_bytes(b"\0" * 512 + b"Quillon Vantreese" * 30)
    before = path.read_bytes()
    assert not has_hot_journal(path)
    open_project(path).close()
    assert not journal.exists()
    assert path.read_bytes() == before
