"""A made file onto the disk: whole or not at all, and any refusal as a sentence. No Qt."""

from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from lacet.trip.errors import LacetError


class NotSaved(LacetError):
    """The file could not be written."""


def save_file(path: Path, make: Callable[[], bytes]) -> None:
    """Make the content, write it beside, then put it in its place.

    Raises
    ------
    NotSaved
        When the folder refuses it.
    LacetError
        When it can't be made.
    """
    content = make()
    draft = path.with_name(f".{path.name}.part")
    try:
        draft.write_bytes(content)
        draft.replace(path)
    except OSError as error:
        with suppress(OSError):
            draft.unlink(missing_ok=True)
        raise NotSaved(
            f"{path.name} could not be written: {error.strerror or error}. Choose another folder."
        ) from error
