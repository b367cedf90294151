"""Sets a template with its data as a tagged PDF.

The template reads everything from JSON files in a folder of its own that nothing else is in, so no text can
be taken for markup and no file of the machine can be read. Equal data give equal bytes.
"""

import base64
import json
from collections.abc import Mapping
from datetime import datetime
from enum import StrEnum
from pathlib import Path
from typing import Any

import typst

from lacet.documents.material.values import Drawn, Shown
from lacet.documents.typeset.fonts import fonts
from lacet.documents.typeset.glyphs import drawable, printable, printable_all
from lacet.documents.typeset.theme import OURS, Theme
from lacet.passing import passing_folder
from lacet.resources import resource
from lacet.trip.errors import LacetError

FOLDER = "documents/typeset"
COMMON = "common.typ"
ENDINGS = {"image/jpeg": "jpg", "image/png": "png", "image/svg+xml": "svg", "image/webp": "webp"}
LONGEST_TITLE = 200


class Paper(StrEnum):
    """Sizes of paper, by the typesetter's names."""

    A4 = "a4"
    LETTER = "us-letter"


# By the words a person would use.
PAPERS = {"a4": Paper.A4, "letter": Paper.LETTER}


class TypesetRefused(LacetError):
    """A document that can't be set."""


def typeset(
    template: str,
    data: Mapping[str, Any],
    *,
    title: str,
    language: str,
    made_at: datetime,
    paper: Paper = Paper.A4,
    theme: Theme = OURS,
    drawings: Mapping[str, Drawn] | None = None,
    pictures: Mapping[str, Shown] | None = None,
) -> bytes:
    """Return a PDF/UA-1 document.

    Parameters
    ----------
    template
        The name of a template that ships, without ending: 'route_notes', 'card', 'proposal'.
    data
        What JSON can hold; all texts in it are plain text.
    language
        A BCP 47 tag.
    made_at
        When it is made, aware; stands in the document's metadata.

    Raises
    ------
    TypesetRefused
        When the typesetter doesn't take it, which no text should bring about.
    """
    with passing_folder() as root:
        _fill(root, template, data, title, language, paper, theme, drawings or {}, pictures or {})
        try:
            made = typst.Compiler(
                root / f"{template}.typ", root=root, font_paths=fonts(theme.folder)
            ).compile(format="pdf", pdf_standards=["ua-1"], timestamp=int(made_at.timestamp()))
        except (typst.TypstError, RuntimeError) as error:
            said = str(error).split("\n", maxsplit=1)[0]
            raise TypesetRefused(
                "The PDF can't be set: {said}. That is a fault of Lacet: report it with this sentence.",
                said=said,
            ) from error
    if not isinstance(made, bytes):
        raise TypesetRefused("The PDF can't be set: the typesetter returned nothing.")
    return made


def _fill(
    root: Path, template: str, data: Mapping[str, Any], title: str, language: str, paper: Paper, theme: Theme,
    drawings: Mapping[str, Drawn], pictures: Mapping[str, Shown],
) -> None:  # fmt: skip
    """Put all that the template reads into its folder."""
    for name in (COMMON, f"{template}.typ"):
        (root / name).write_bytes(resource(f"{FOLDER}/{name}").read_bytes())
    tongue, _, region = language.partition("-")
    whole = {
        **printable_all(dict(data), theme.folder),
        "title": printable(" ".join(title.split())[:LONGEST_TITLE], theme.folder) or "–",
        "lang": tongue.lower(),
        "region": region.lower() if len(region) == 2 else None,
        "paper": paper.value,
        "drawings": {key: _drawing(root, at, each, theme) for at, (key, each) in enumerate(drawings.items())},
        "pictures": {key: _picture(root, at, each, theme) for at, (key, each) in enumerate(pictures.items())},
    }
    (root / "data.json").write_text(json.dumps(whole), encoding="utf-8")
    (root / "theme.json").write_text(json.dumps(_theme(root, theme)), encoding="utf-8")


def _drawing(root: Path, at: int, drawing: Drawn, theme: Theme) -> dict[str, Any]:
    name = f"drawing-{at}.svg"
    (root / name).write_text(drawable(drawing.svg, theme.folder), encoding="utf-8")
    return {
        "path": f"/{name}", "width": drawing.width_mm, "height": drawing.height_mm,
        "alt": printable(drawing.alt, theme.folder),
    }  # fmt: skip


def _picture(root: Path, at: int, picture: Shown, theme: Theme) -> dict[str, Any]:
    name = f"picture-{at}.{ENDINGS.get(picture.media_type, 'jpg')}"
    (root / name).write_bytes(base64.b64decode(picture.payload))
    return {
        "path": f"/{name}", "alt": printable(picture.alt, theme.folder),
        "credit": printable(picture.credit, theme.folder),
    }  # fmt: skip


def _theme(root: Path, theme: Theme) -> dict[str, Any]:
    logo = ""
    if theme.logo:
        logo = f"/logo.{theme.logo_format}"
        (root / logo[1:]).write_bytes(theme.logo)
    look = theme.look
    return {
        "name": printable(theme.name, theme.folder), "logo": logo, "fonts": list(theme.families),
        "ink": look.ink, "paper": look.paper, "soft": look.soft, "rule": look.rule,
        "walking": look.walking, "cycling": look.cycling,
    }  # fmt: skip
