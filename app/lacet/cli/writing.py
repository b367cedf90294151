"""Files the command line writes: whole or not at all, and never over another."""

import os
from pathlib import Path

from lacet.passing import passing_folder
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
        with passing_folder(path.parent) as passing:
            (passing / path.name).write_bytes(content)
            (passing / path.name).replace(path)
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
