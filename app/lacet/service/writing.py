"""Files that leave the house: written whole or not at all, remembered, and taken back where that fails."""

import os
import shutil
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path

from lacet.passing import passing_folder
from lacet.store import Project
from lacet.trip.errors import LacetError


class NotWritten(LacetError):
    """A file that can't be written where it was asked for."""


def write_file(path: Path, content: bytes, *, over: bool = False) -> None:
    """Write a file beside its place and then put it there.

    Parameters
    ----------
    over
        Whether a person chose the place and agreed to it: it then takes the place of another file of that
        name. Else there mustn't be one, and its folder is made if need be.

    Raises
    ------
    NotWritten
        When something of that name is there already, or the disk refuses.
    """
    if not over and os.path.lexists(path):
        raise NotWritten("{path} is there already; move it away or choose another name.", path=path)
    try:
        if not over:
            path.parent.mkdir(parents=True, exist_ok=True)
        with passing_folder(path.parent) as passing:
            (passing / path.name).write_bytes(content)
            (passing / path.name).replace(path)
    except OSError as error:
        raise NotWritten(
            "{path} can't be written: {strerror}. Choose another folder.",
            path=path,
            strerror=error.strerror or error,
        ) from error


def need_ending(path: Path, *endings: str) -> str:
    """The ending of a file's name, which must be one of these.

    Raises
    ------
    NotWritten
        When it is another.
    """
    ending = path.suffix.lower()
    if ending not in endings:
        raise NotWritten("{path}: the name must end in {endings}.", path=path, endings=" or ".join(endings))
    return ending


@contextmanager
def taken_back_on_failure(files: Iterable[Path]) -> Iterator[None]:
    """Remove written files, folders whole, where what belongs to them and is done in the block fails."""
    try:
        yield
    except BaseException:
        for each in files:
            if each.is_dir():
                shutil.rmtree(each)
            else:
                each.unlink(missing_ok=True)
        raise


def save_remembered(
    project: Project, kind: str, trip_id: str, path: Path, content: bytes, *, over: bool = False
) -> None:
    """Write one file of a trip and remember where, for erasing guest data to tell; both or neither.

    Raises
    ------
    NotWritten, StoreError
    """
    with project.noting_written(kind, trip_id, [path]):
        write_file(path, content, over=over)
