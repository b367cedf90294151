"""Is the file that is open still the file at its path? Asked before an edit is acknowledged.

A program that keeps folders alike on two machines replaces files under us; what is then written goes to a
file that nobody can find again. The answer rests on device and inode, the header, and the size.
"""

import os
import struct
from pathlib import Path

from lacet.store.errors import FileGone, FileLost, FileReplaced, FileSpoiled
from lacet.store.guard import HEADER_BYTES, Header, header_of
from lacet.store.schema import APPLICATION_ID

_COUNTER_AT = 24
_PIECE = 1 << 20
_AS_IT_IS = getattr(os, "O_CLOEXEC", 0) | getattr(os, "O_BINARY", 0)


class Standing:
    """One open descriptor of a project file, to hold its path to. Close it."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self._descriptor = os.open(path, os.O_RDONLY | _AS_IT_IS)
        self._opened_as = os.fstat(self._descriptor)

    def reopen(self) -> None:
        """Open the file again after closing, if it is closed; another than before is refused by `check`."""
        if self._descriptor < 0:
            try:
                self._descriptor = os.open(self._path, os.O_RDONLY | _AS_IT_IS)
            except (FileNotFoundError, NotADirectoryError) as error:
                raise FileGone.of(self._path) from error

    def check(self) -> None:
        """Hold the path to the open file. Ask under the lock of the file.

        Raises
        ------
        FileGone, FileReplaced, FileSpoiled
        """
        try:
            there = os.stat(self._path)
        except (FileNotFoundError, NotADirectoryError) as error:
            raise FileGone.of(self._path) from error
        if not os.path.samestat(self._opened_as, there):
            raise FileReplaced(
                "'{name}' was replaced by another file while it was open. Nothing more is kept "
                "there. Save what you have elsewhere.",
                name=self._path.name,
            )
        if not self.is_whole():
            raise FileSpoiled(
                "'{name}' was overwritten or cut short by another program. Nothing more is kept "
                "there. Save what you have elsewhere.",
                name=self._path.name,
            )

    def stands(self) -> bool:
        """Whether the path still leads to the open file."""
        try:
            self.check()
        except FileLost:
            return False
        return True

    def is_whole(self) -> bool:
        """Whether the open file itself, wherever it is now, looks like a whole project."""
        header = self._header()
        return (
            header is not None
            and header.application_id == APPLICATION_ID
            and os.fstat(self._descriptor).st_size >= header.pages * header.page_size
        )

    def counter(self) -> int:
        """SQLite's count of the commits to the file (file format, 1.3.7); -1 when it was emptied."""
        data = os.pread(self._descriptor, 4, _COUNTER_AT)
        return int(struct.unpack(">I", data)[0]) if len(data) == 4 else -1

    def copy_to(self, target: Path) -> None:
        """Write the bytes of the open file, of whatever name or none, to a file for its owner alone."""
        made = os.open(target, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(made, "wb") as stream:
            at = 0
            while piece := os.pread(self._descriptor, _PIECE, at):
                stream.write(piece)
                at += len(piece)
            stream.flush()
            os.fsync(stream.fileno())

    def close(self) -> None:
        """Close the descriptor."""
        if self._descriptor >= 0:
            os.close(self._descriptor)
            self._descriptor = -1

    def _header(self) -> Header | None:
        return header_of(os.pread(self._descriptor, HEADER_BYTES, 0))
