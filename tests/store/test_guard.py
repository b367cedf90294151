"""What is not ours, newer, damaged or on a network share is refused in a sentence and left as it was."""

import shutil
import sqlite3
import sys
from contextlib import closing
from pathlib import Path

import pytest

from lacet.store import StoreError, guard, open_project, shares
from lacet.store.errors import (
    DamagedFile,
    FileMissing,
    FileReadOnly,
    NewerFile,
    NotALacetFile,
    OnNetworkShare,
)
from lacet.store.schema import SCHEMA
from tests.store.things import raw

PAGE = 4096


def overwrite(path: Path, at: int, data: bytes) -> None:
    with path.open("r+b") as file:
        file.seek(at)
        file.write(data)


def make_text(path: Path) -> None:
    path.write_text("This is a letter, and a long one at that. " * 20)


def make_empty(path: Path) -> None:
    path.touch()


def make_other_database(path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("CREATE TABLE addresses (name TEXT)")
        connection.commit()


def make_folder(path: Path) -> None:
    path.mkdir()


def make_short(path: Path) -> None:
    path.write_bytes(path.read_bytes()[: -3 * PAGE])


def make_scrambled(path: Path) -> None:
    ((page,),) = raw(path, "SELECT rootpage FROM sqlite_schema WHERE name = 'trips'")
    overwrite(path, (page - 1) * PAGE, b"\xff" * PAGE)


def make_header_scrambled(path: Path) -> None:
    overwrite(path, 18, b"\xff" * 8)


def make_newer(path: Path) -> None:
    raw(path, f"PRAGMA user_version = {SCHEMA + 1}")


@pytest.mark.parametrize(
    ("spoil", "kind", "says"),
    [
        (make_text, NotALacetFile, "is not a Lacet project"),
        (make_empty, NotALacetFile, "is not a Lacet project"),
        (make_other_database, NotALacetFile, "is not a Lacet project"),
        (make_folder, NotALacetFile, "is not a file"),
        (make_short, DamagedFile, "is damaged and was left untouched"),
        (make_scrambled, DamagedFile, "is damaged and was left untouched"),
        (make_header_scrambled, StoreError, "project.lacet"),
        (make_newer, NewerFile, f"file format {SCHEMA + 1}, this one knows {SCHEMA}"),
    ],
)
def test_a_file_that_is_refused_stays_as_it_was(
    spoil: object, kind: type[StoreError], says: str, filled_file: Path, tmp_path: Path
) -> None:
    path = tmp_path / "project.lacet"
    if spoil in (make_short, make_scrambled, make_header_scrambled, make_newer):
        shutil.copy(filled_file, path)
    assert callable(spoil)
    spoil(path)
    before = None if path.is_dir() else path.read_bytes()
    for create in (False, True):
        with pytest.raises(kind, match=says):
            open_project(path, create=create)
    assert path.is_dir() or path.read_bytes() == before
    assert [file.name for file in tmp_path.iterdir()] == ["project.lacet"]


def test_a_missing_file_and_a_missing_folder_are_told_apart(tmp_path: Path) -> None:
    with pytest.raises(FileMissing, match=r"no file 'a\.lacet'"):
        open_project(tmp_path / "a.lacet")
    with pytest.raises(FileMissing, match="no folder"):
        open_project(tmp_path / "nowhere" / "a.lacet", create=True)


def test_a_file_that_may_not_be_read_is_told(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(guard, "read_header", refuse)  # root may read everything, so it is played
    with pytest.raises(FileReadOnly, match="Change its permissions"):
        open_project(path)


def test_opening_an_existing_file_with_create_keeps_it(path: Path) -> None:
    with open_project(path, create=True) as project, project.reading() as unit:
        assert len(unit.trips.rows()) == 1


def test_a_killed_program_leaves_a_log_and_the_file_is_still_whole(path: Path, tmp_path: Path) -> None:
    # An older Lacet kept a file with a write-ahead log.
    with closing(sqlite3.connect(path, isolation_level=None)) as older:
        older.execute("PRAGMA journal_mode = WAL")
        older.execute("UPDATE trips SET name = 'only in the log'")
        # A copy taken now is what a killed program leaves behind: a file, and what it lacks in the log.
        left = tmp_path / "left.lacet"
        for end in ("", "-wal"):
            shutil.copy(f"{path}{end}", f"{left}{end}")
    assert b"only in the log" not in left.read_bytes()
    with open_project(left) as project, project.reading() as unit:
        assert [row.name for row in unit.trips.rows()] == ["only in the log"]
    assert raw(left, "PRAGMA journal_mode") == [("delete",)]
    assert [file.name for file in tmp_path.iterdir() if file.name.startswith("left")] == ["left.lacet"]


def test_a_network_share_is_refused_before_anything_is_made(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(guard, "network_share", lambda path: "nfs4")
    with pytest.raises(OnNetworkShare, match=r"network share \(nfs4\).*Copy it to a disk"):
        open_project(tmp_path / "a.lacet", create=True)
    assert list(tmp_path.iterdir()) == []


LINUX = r"""
/dev/sda1 / ext4 rw,relatime 0 0
server:/export /mnt/office nfs4 rw,vers=4.2 0 0
//nas/files /mnt/my\040files cifs rw 0 0
me@host:/ /home/me/far fuse.sshfs rw 0 0
/dev/sdb1 /mnt/office/local ext4 rw 0 0
tmpfs /mnt/office/local/over tmpfs rw 0 0
nas:/x /mnt/office/local/over nfs rw 0 0
"""
MACOS = """
/dev/disk1s1 on / (apfs, local, journaled)
//me@server._smb._tcp.local/share on /Volumes/share (smbfs, nodev, nosuid, mounted by me)
/dev/disk2s2 on /Volumes/my (old) disk (hfs, local, nodev)
"""


@pytest.mark.parametrize(
    ("where", "kind"),
    [
        ("/home/me/a.lacet", "ext4"),
        ("/home/me/far/a.lacet", "fuse.sshfs"),
        ("/home/me/farther/a.lacet", "ext4"),
        ("/mnt/office/a.lacet", "nfs4"),
        ("/mnt/my files/a.lacet", "cifs"),
        ("/mnt/office/local/a.lacet", "ext4"),
        ("/mnt/office/local/over/a.lacet", "nfs"),
    ],
)
def test_the_deepest_and_latest_mount_counts(where: str, kind: str) -> None:
    assert shares.kind_of_mount(Path(where), shares.read_linux_mounts(LINUX)) == kind


@pytest.mark.parametrize(
    ("where", "kind"),
    [("/Users/me/a", "apfs"), ("/Volumes/share/a", "smbfs"), ("/Volumes/my (old) disk/a", "hfs")],
)
def test_the_words_of_macos_are_read(where: str, kind: str) -> None:
    assert shares.kind_of_mount(Path(where), shares.read_macos_mounts(MACOS)) == kind


@pytest.mark.parametrize(
    ("path", "far"),
    [
        (r"\\server\share\a.lacet", True),
        ("//server/share/a.lacet", True),
        (r"\\?\UNC\server\share\a.lacet", True),
        (r"\\?\C:\trips\a.lacet", False),
        (r"C:\trips\a.lacet", False),
    ],
)
def test_windows_names_of_servers_are_known(path: str, far: bool) -> None:
    assert shares.is_unc(path) is far


@pytest.mark.skipif(sys.platform == "win32", reason="the mounts of Windows are drives, asked for by name")
def test_the_folder_of_the_tests_is_local(tmp_path: Path) -> None:
    assert shares.network_share(tmp_path / "not there yet.lacet") is None


def test_a_far_kind_is_far_and_a_local_one_is_not(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "platform", "linux")
    for kind, far in (("cifs", "cifs"), ("fuse.sshfs", "fuse.sshfs"), ("ext4", None), ("btrfs", None)):
        monkeypatch.setattr(shares, "_linux_mounts", lambda kind=kind: [("/", kind)])
        assert shares.network_share(Path("/any/where.lacet")) == far
