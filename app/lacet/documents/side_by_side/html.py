"""The comparison as one web page, complete in itself: no script, nothing fetched, fit to be printed."""

import base64
import hashlib
from functools import cache

import jinja2
from markupsafe import Markup

from lacet.documents.material.values import Drawn
from lacet.documents.side_by_side.values import SideBySide
from lacet.resources import resource

FOLDER = "documents/side_by_side"
_SHAPES = {"better": "▽", "worse": "▲", "": ""}


def write_html(told: SideBySide) -> bytes:
    """Return the page, in UTF-8."""
    style = _read("page.css")
    page = _template().render(
        told=told,
        shapes=_SHAPES,
        profile=_packed(told.profile),
        map="" if told.map is None else _packed(told.map),
        policy=policy(style),
        # Ours alone, and hashed as it stands: no text of a trip is in it.
        style=Markup(style),
    )
    return page.encode("utf-8")


def policy(style: str) -> str:
    """The Content-Security-Policy that allows exactly this style and the page's own picture.

    References
    ----------
    W3C Content Security Policy Level 3, sections 6.1 (directives) and 8.3 (hashes).
    """
    digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    return (
        f"default-src 'none'; img-src data:; style-src 'sha256-{digest}'; base-uri 'none'; form-action 'none'"
    )


def _packed(drawn: Drawn) -> str:
    return base64.b64encode(drawn.svg.encode()).decode()


@cache
def _template() -> jinja2.Template:
    environment = jinja2.Environment(
        autoescape=True, undefined=jinja2.StrictUndefined, loader=jinja2.FunctionLoader(_read),
        trim_blocks=True, lstrip_blocks=True,
    )  # fmt: skip
    return environment.get_template("page.html.j2")


def _read(name: str) -> str:
    return resource(f"{FOLDER}/{name}").read_text(encoding="utf-8")
