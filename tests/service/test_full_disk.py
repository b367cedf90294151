"""Without room nothing that was told to be saved is lost, memory keeps the rest, and later it goes on."""

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.small_library import write_small_project

SCRIPT = Path(__file__).with_name("full_disk.py")
SMALL_DISK = "3m"


def run(path: Path, how: str) -> str:
    done = subprocess.run(
        [sys.executable, str(SCRIPT), str(path), how],
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert done.returncode == 0, done.stderr[-3000:]
    return done.stdout


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no limit on the size of a file")
def test_a_file_that_may_not_grow_is_told_and_everything_is_kept_when_it_may(tmp_path: Path) -> None:
    write_small_project(tmp_path / "small.lacet")
    assert "all kept in the end" in run(tmp_path / "small.lacet", "limit")


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of three megabytes, where this user may mount one."""
    folder = tmp_path / "disk"
    folder.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", f"size={SMALL_DISK}", "tmpfs", str(folder)]
    if sys.platform != "linux" or os.geteuid() or subprocess.run(mount, check=False).returncode:
        pytest.skip("no disk can be mounted here")
    yield folder
    subprocess.run(["umount", str(folder)], check=True)


def test_on_a_full_disk_it_is_the_same(small_disk: Path) -> None:
    write_small_project(small_disk / "small.lacet")
    assert "all kept in the end" in run(small_disk / "small.lacet", "fill")
