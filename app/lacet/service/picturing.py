"""Pictures of items, read from files and kept: for command line and window alike."""

from collections.abc import Callable, Iterable, Sequence
from pathlib import Path

from lacet.intake.pictures import read_picture
from lacet.store import Picture, UnitOfWork

Step = Callable[[int, int], None]


def pictures_in(
    paths: Sequence[Path], *, alt: str = "", credit: str = "", step: Step | None = None
) -> list[Picture]:
    """Read every file, made small enough to be kept; the same words for all.

    Parameters
    ----------
    alt, credit
        What the pictures show, for those who can't see them, and whose they are.
    step
        Hears how many are read, and of how many.

    Raises
    ------
    LacetError
        When one can't be read: then none is.
    """
    made = []
    for number, path in enumerate(paths):
        if step is not None:
            step(number, len(paths))
        read = read_picture(path)
        made.append(
            Picture(
                payload=read.payload, media_type=read.media_type, width=read.width, height=read.height,
                alt=alt, credit=credit,
            )
        )  # fmt: skip
    return made


def keep_pictures(unit: UnitOfWork, pictures: Iterable[Picture]) -> list[str]:
    """Keep pictures and return their ids; one that is there keeps its words unless it brings others."""
    return [
        picture.id
        if not (picture.alt or picture.credit) and unit.pictures.get(picture.id) is not None
        else unit.pictures.keep(picture)
        for picture in pictures
    ]
