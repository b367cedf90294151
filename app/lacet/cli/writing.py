"""Files the command line writes: whole or not at all, and never over another."""

import os
import tempfile
from pathlib import Path

from lacet.trip.errors import LacetError


class NotWritten(LacetError):
    """A file that can't be written where it was asked for."""


def write_new(path: Path, content: bytes) -> None:
    """Write a file that isn't there yet; its folder is made if need be.

    Raises
    ------
    NotWritten
        When something of that name is there already, or the disk refuses.
    """
    if os.path.lexists(path):
        raise NotWritten(f"{path} is there already; move it away or choose another name.")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, passing = tempfile.mkstemp(prefix=".lacet-", dir=path.parent)
        try:
            with os.fdopen(handle, "wb") as stream:
                stream.write(content)
            # A passing file is its owner's alone; the document is as readable as any other made here.
            os.chmod(passing, 0o666 & ~_umask())
            os.replace(passing, path)
        except OSError:
            os.unlink(passing)
            raise
    except OSError as error:
        raise NotWritten(f"{path} can't be written: {error.strerror or error}.") from error


def need_ending(path: Path, *endings: str) -> str:
    """The ending of a file's name, which must be one of these.

    Raises
    ------
    NotWritten
        When it is another.
    """
    ending = path.suffix.lower()
    if ending not in endings:
        raise NotWritten(f"{path}: the name must end in {' or '.join(endings)}.")
    return ending


def _umask() -> int:
    # There is no way to ask but to set it.
    mask = os.umask(0)
    os.umask(mask)
    return mask
