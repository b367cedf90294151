"""The lock of a project file: closing drops nothing, readers starve no writer, tidying misleads nobody."""

import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from threading import Event

import pytest

from lacet.store import open_project
from lacet.store.errors import FileBusy, FileGone
from lacet.store.lock import FileLock, held, held_at_once, side_file, tidy


def elsewhere(path: Path, *, exclusive: bool) -> bool:
    """Whether another thread gets the lock at once."""

    def attempt() -> bool:
        other = FileLock(path, exclusive=exclusive)
        try:
            other.acquire(patience_s=0.0)
        except FileBusy:
            return False
        other.release()
        return True

    with ThreadPoolExecutor(1) as pool:
        return pool.submit(attempt).result()


def test_many_may_look_and_one_may_write(path: Path) -> None:
    with held(path, exclusive=False):
        assert elsewhere(path, exclusive=False)
        assert not elsewhere(path, exclusive=True)
    with held(path, exclusive=True):
        assert not elsewhere(path, exclusive=False)
    assert elsewhere(path, exclusive=True)


def test_opening_and_closing_the_file_or_its_side_file_drops_nothing(path: Path) -> None:
    with held(path, exclusive=True):
        for each in (path, side_file(path)):
            each.read_bytes()
        assert not elsewhere(path, exclusive=False)


def test_a_thread_that_has_it_may_take_it_again_and_lets_go_with_the_last(path: Path) -> None:
    with held(path, exclusive=True):
        with held(path, exclusive=False), held(path, exclusive=True):
            pass
        assert not elsewhere(path, exclusive=False)
    assert elsewhere(path, exclusive=True)


def test_to_write_within_reading_is_a_bug_and_is_said(path: Path) -> None:
    with held(path, exclusive=False), pytest.raises(AssertionError, match="within a reading one"):
        FileLock(path, exclusive=True).acquire()


def test_asking_at_once_never_waits(path: Path) -> None:
    with ThreadPoolExecutor(1) as pool:
        other = FileLock(path, exclusive=True)
        pool.submit(other.acquire).result()
        with held_at_once(path) as got:
            assert not got
        pool.submit(other.release).result()
    with held_at_once(path) as got:
        assert got


def test_a_side_file_is_tidied_only_by_who_is_alone(path: Path) -> None:
    with held(path, exclusive=False):
        with ThreadPoolExecutor(1) as pool:
            pool.submit(tidy, path).result()
        assert side_file(path).exists()
    tidy(path)
    assert not side_file(path).exists()


def test_who_waited_on_a_side_file_that_was_tidied_away_locks_its_successor(path: Path) -> None:
    first = FileLock(path, exclusive=True)
    first.acquire()
    with ThreadPoolExecutor(1) as pool:
        waiting = FileLock(path, exclusive=True)
        done = pool.submit(waiting.acquire)
        side_file(path).unlink()
        first.release()
        done.result()
        assert side_file(path).exists()
        with held_at_once(path) as got:
            assert not got
        pool.submit(waiting.release).result()


@pytest.mark.skipif(sys.platform != "linux", reason="there is no turnstile there")
def test_readers_who_always_overlap_keep_no_writer_out(path: Path) -> None:
    stop = Event()

    def read() -> None:
        while not stop.is_set():
            with held(path, exclusive=False):
                path.read_bytes()

    with ThreadPoolExecutor(4) as pool:
        for _ in range(4):
            pool.submit(read)
        try:
            for _ in range(20):
                with held(path, exclusive=True):
                    pass
        finally:
            stop.set()


def test_a_folder_that_went_away_is_told(path: Path, tmp_path: Path) -> None:
    deep = tmp_path / "deep" / "mine.lacet"
    deep.parent.mkdir()
    path.rename(deep)
    with open_project(deep) as project:
        deep.parent.rename(tmp_path / "renamed")
        with pytest.raises(FileGone, match="moved, renamed or removed"), project.reading():
            pass
