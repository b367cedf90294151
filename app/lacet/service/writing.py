"""Files that leave the house: written whole or not at all, remembered, and taken back where that fails."""

import os
import shutil
from collections.abc import Iterable, Iterator
from contextlib import ExitStack, contextmanager
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
    with _written(path, content, over=over):
        pass


@contextmanager
def _written(path: Path, content: bytes, *, over: bool) -> Iterator[None]:
    """A file in its place for good if the block, in which what belongs to it is done, ends well.

    If not, the one that was there before is there again, or none.
    """
    if not over and os.path.lexists(path):
        raise NotWritten(f"{path} is there already; move it away or choose another name.")
    with ExitStack() as stack:
        try:
            if not over:
                path.parent.mkdir(parents=True, exist_ok=True)
            passing = stack.enter_context(passing_folder(path.parent))
            made, former = passing / "made", passing / "former"
            made.write_bytes(content)
            was_there = path.is_file() and not path.is_symlink()
            if was_there:
                _kept_aside(path, former)
            made.replace(path)
        except OSError as error:
            raise NotWritten(
                f"{path} can't be written: {error.strerror or error}. Choose another folder."
            ) from error
        try:
            yield
        except BaseException:
            if was_there:
                former.replace(path)
            else:
                path.unlink(missing_ok=True)
            raise


def _kept_aside(path: Path, former: Path) -> None:
    try:
        os.link(path, former)
    except OSError:
        # Not every disk knows second names.
        shutil.copy2(path, former)


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
    with _written(path, content, over=over):
        project.remember_written(kind, trip_id, [path])
