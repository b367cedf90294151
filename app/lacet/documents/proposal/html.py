"""The proposal as one web page that is complete in itself.

Nothing is fetched: style and script stand in the page and are allowed by their hashes alone; pictures are
part of it. What people wrote is printed as text; the script reads none of it.
"""

import base64
import hashlib
import re
from dataclasses import dataclass
from functools import cache

import jinja2
from markupsafe import Markup

from lacet.documents.material.values import Drawn, ProposalMaterial
from lacet.documents.page_look import OURS, Look, style_sheet
from lacet.resources import resource
from lacet.trip.printable import clean

FOLDER = "documents/proposal"
# CSS pixels of a millimetre (CSS Values and Units 3, section 6.2).
_FIGURE = re.compile(r"(?<=\d) (?=(?:km|mi|m|ft|cm|kg|h|min|%|€)(?!\w))|(?<=\d h) (?=\d\d\b)")
PIXELS_PER_MM = 96 / 25.4


@dataclass(frozen=True, slots=True)
class _Picture:
    """A drawing as an image of the page [CSS pixels]."""

    source: str
    alt: str
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class Logo:
    """An office's sign: a picture and its media type."""

    content: bytes
    media_type: str

    @property
    def source(self) -> str:
        return f"data:{self.media_type};base64,{base64.b64encode(self.content).decode()}"


def write_html(
    material: ProposalMaterial, look: Look = OURS, *, name: str = "", logo: Logo | None = None
) -> bytes:
    """Return the page, in UTF-8.

    Parameters
    ----------
    name
        What the office calls itself on its documents; empty = as the material has it.

    Raises
    ------
    LookRefused
        When a colour or a font of the look can't be used.
    """
    running = " · ".join(each for each in (material.draft, material.edition) if each)
    style = style_sheet(_read("page.css"), look, running)
    script = _read("map.js")
    page = _template().render(
        material=material,
        operator=clean(name) or material.operator,
        logo=logo,
        words=material.words,
        drawings={key: _picture(drawn) for key, drawn in material.drawings.items()},
        pictures=material.pictures,
        policy=policy(style, script),
        # Ours alone, and hashed as they stand: no text of a trip is in either.
        style=Markup(style),
        script=Markup(script),
    )
    return page.encode("utf-8")


def policy(style: str, script: str) -> str:
    """The Content-Security-Policy that allows exactly this style, this script and the page's own pictures.

    References
    ----------
    W3C Content Security Policy Level 3, sections 6.1 (directives) and 8.3 (hashes).
    """
    return (
        f"default-src 'none'; img-src data:; style-src '{_hash(style)}'; script-src '{_hash(script)}'; "
        "base-uri 'none'; form-action 'none'"
    )


def _hash(text: str) -> str:
    return f"sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}"


def _picture(drawn: Drawn) -> _Picture:
    packed = base64.b64encode(drawn.svg.encode()).decode()
    return _Picture(
        source=f"data:image/svg+xml;base64,{packed}",
        alt=drawn.alt,
        width=round(drawn.width_mm * PIXELS_PER_MM),
        height=round(drawn.height_mm * PIXELS_PER_MM),
    )


@cache
def _template() -> jinja2.Template:
    environment = jinja2.Environment(
        autoescape=True, undefined=jinja2.StrictUndefined, loader=jinja2.FunctionLoader(_read),
        keep_trailing_newline=True, finalize=bound,
    )  # fmt: skip
    return environment.get_template("page.html.j2")


def bound(value: object) -> object:
    """A text whose figures keep with their units at the end of a line; anything else as it is."""
    if isinstance(value, str) and not isinstance(value, Markup):
        return _FIGURE.sub("\u00a0", value)
    return value


def _read(name: str) -> str:
    return resource(f"{FOLDER}/{name}").read_text(encoding="utf-8")
