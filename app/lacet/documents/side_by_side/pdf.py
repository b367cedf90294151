"""The comparison as a tagged PDF on A4 across."""

from dataclasses import asdict
from datetime import datetime

from lacet.documents.side_by_side.values import SideBySide
from lacet.documents.typeset import typeset
from lacet.documents.typeset.glyphs import printable

TEMPLATE = "side_by_side"


def write_pdf(told: SideBySide, made_at: datetime) -> bytes:
    """Return a PDF/UA-1 document; `made_at` (aware) stands in its metadata.

    Raises
    ------
    TypesetRefused
        When the typesetter doesn't take it.
    """
    # A name may hold nothing that can be printed; a heading can't be empty.
    data = asdict(told) | {"heading": printable(told.title).strip() or "–"}
    # Drawings go beside the data, as files of their own.
    drawings = {name: data.pop(name) and getattr(told, name) for name in ("profile", "map")}
    return typeset(
        TEMPLATE,
        data,
        title=f"{told.title}: variants side by side",
        language="en",
        made_at=made_at,
        drawings={name: each for name, each in drawings.items() if each is not None},
    )
