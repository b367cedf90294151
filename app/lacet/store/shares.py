"""Is a path on a network share? What keeps programs apart on one file are locks, and those must be honest.

On network file systems they often aren't (https://sqlite.org/lockingv3.html, 6.0, 'How To Corrupt Your
Database Files'), and the damage shows weeks later. Asking the system is a function of its own per
system; reading its answer is pure and tested everywhere. 9p is not listed: local containers use it.
"""

import re
import subprocess
import sys
from collections.abc import Iterable
from pathlib import Path

NETWORK_KINDS = frozenset(
    [
        "nfs",
        "nfs4",
        "cifs",
        "smb",
        "smb2",
        "smb3",
        "smbfs",
        "ncpfs",
        "afs",
        "afpfs",
        "davfs",
        "webdav",
        "ceph",
        "glusterfs",
        "lustre",
        "gfs2",
        "ocfs2",
        "beegfs",
        "fuse.sshfs",
        "fuse.davfs",
        "fuse.rclone",
        "fuse.s3fs",
        "fuse.gvfsd-fuse",
        "fuse.glusterfs",
        "fuse.curlftpfs",
        "fuse.cifs",
        "fuse.smbnetfs",
        "fuse.gcsfuse",
        "fuse.ceph",
        "fuse.nfs",
        "sshfs",
        "osxfuse_sshfs",
        "macfuse_sshfs",
    ]
)


def network_share(path: Path) -> str | None:
    """The kind of network share a path lies on ("nfs4", "smbfs", "network drive"), or None when it is local.

    The file need not exist; links are followed as far as they do.
    """
    if sys.platform == "win32":
        return _windows_share(path)
    where = path.expanduser().resolve()
    kind = kind_of_mount(where, _macos_mounts() if sys.platform == "darwin" else _linux_mounts())
    return kind if kind in NETWORK_KINDS else None


def kind_of_mount(where: Path, mounts: Iterable[tuple[str, str]]) -> str:
    """The file system under a resolved path, given (mount point, kind) pairs in order of mounting.

    The deepest mount point wins, and of two at one place the later, which covers the earlier.
    """
    depth, found = -1, ""
    for point, kind in mounts:
        mounted = Path(point)
        if len(mounted.parts) >= depth and where.is_relative_to(mounted):
            depth, found = len(mounted.parts), kind
    return found


def read_linux_mounts(text: str) -> list[tuple[str, str]]:
    """(mount point, kind) of each line of /proc/mounts; blanks in names are written as \\040 there."""
    rows = (line.split(" ") for line in text.splitlines())
    return [(_unescaped(row[1]), row[2]) for row in rows if len(row) >= 3]


def read_macos_mounts(text: str) -> list[tuple[str, str]]:
    """(mount point, kind) of each line of `mount`: '//me@host/share on /Volumes/share (smbfs, nodev)'."""
    found = (re.fullmatch(r".+? on (/.*) \(([^,)]+).*\)", line) for line in text.splitlines())
    return [(match[1], match[2].strip()) for match in found if match]


def _unescaped(text: str) -> str:
    return re.sub(r"\\([0-7]{3})", lambda octal: chr(int(octal[1], 8)), text)


def _linux_mounts() -> list[tuple[str, str]]:
    try:
        return read_linux_mounts(Path("/proc/self/mounts").read_text(errors="surrogateescape"))
    except OSError:
        return []


def _macos_mounts() -> list[tuple[str, str]]:
    try:
        answer = subprocess.run(["/sbin/mount"], capture_output=True, text=True, timeout=5, check=False)
    except (OSError, subprocess.TimeoutExpired):
        return []
    return read_macos_mounts(answer.stdout)


def is_unc(path: str) -> bool:
    r"""Whether a Windows path names a server: \\server\share or \\?\UNC\server\share, but not \\?\C:\..."""
    plain = path.replace("/", "\\")
    if plain.startswith(("\\\\?\\", "\\\\.\\")):
        return plain[4:8].upper() == "UNC\\"
    return plain.startswith("\\\\")


def _windows_share(path: Path) -> str | None:
    import ctypes

    where = str(path.expanduser().resolve())
    if is_unc(where):
        return "network share"
    drive_remote = 4  # DRIVE_REMOTE, GetDriveTypeW, Windows API
    # Only Windows has `windll`, which type checkers on other systems know.
    kind = getattr(ctypes, "windll").kernel32.GetDriveTypeW(  # noqa: B009 - see above
        f"{Path(where).drive}\\"
    )
    return "network drive" if kind == drive_remote else None
