"""Texts as they can stand on paper, and what can't.

Signs no font here has become an empty box, which reads as 'something stood here'; words too long for any
column may break. Control characters have been taken out of the material before; here they are, once more.
"""

import re
import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import is_dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from lacet.documents.typeset.fonts import picture_trouble, unshown
from lacet.trip.printable import clean

BOX = "\u25a1"
# Longer than any word or address: a run that would reach beyond its column.
LONGEST_RUN = 28
BREAK = "\u200b"
MOST_SIGNS = 12
_RUN = re.compile(rf"[^\s{BREAK}]{{{LONGEST_RUN},}}")
# Marks of order that PDF/UA-1 refuses in text.
_SVG = "http://www.w3.org/2000/svg"
_DRAWN = re.compile(r"(<text\b[^>]*>)([^<]*)(</text>)")
_FAMILY = re.compile(r'font-family="[^"]*"')
# Marks around European letters and joiners, without which a name can still be read; vowels of others aren't.
_ATTACHED = re.compile("[\u0300-\u036f\u20d0-\u20ff\u200b-\u200f\u2060-\u2064]")
_LAST_LATIN = "\u024f"
_REFUSED = re.compile("[\ufeff\ufff9-\ufffc\ufe0e\ufe0f]")


def missing_glyphs(texts: Iterable[str], folder: Path | None = None) -> tuple[str, ...]:
    """Sentences that tell, text by text, which signs a PDF can't show; empty when it shows all."""
    told = []
    for text in dict.fromkeys(_plain(each) for each in texts):
        unknown = unshown((text,), folder)
        lost = list(dict.fromkeys(sign for sign in text if sign in unknown))
        if lost:
            signs = " ".join(lost[:MOST_SIGNS]) + (" …" if len(lost) > MOST_SIGNS else "")
            told.append(
                f"A PDF can't show {signs} in '{_short(text)}'; there will be an empty box instead."
                " Write it in other letters, or give the theme a font that has them."
            )
    return tuple(told)


def printable(text: str, folder: Path | None = None) -> str:
    """A text with nothing in it that the typesetter refuses."""
    plain = _plain(text)
    if not plain.isascii() and (lost := unshown((plain,), folder)):
        plain = "".join(BOX if sign in lost else sign for sign in plain)
    return _RUN.sub(_broken, plain)


def printable_all(value: Any, folder: Path | None = None) -> Any:
    """Data as JSON takes it, with all texts printable; dataclasses become objects of their fields."""
    if isinstance(value, str):
        return printable(value, folder)
    if isinstance(value, dict):
        return {key: printable_all(each, folder) for key, each in value.items()}
    if isinstance(value, list | tuple):
        return [printable_all(each, folder) for each in value]
    if is_dataclass(value):
        return {name: printable_all(getattr(value, name), folder) for name in value.__dataclass_fields__}
    return value


def drawable(svg: str, folder: Path | None = None) -> str:
    """A drawing whose texts can all be shown."""
    if svg.isascii():
        return svg
    plain = _plain(svg)
    lost = unshown((plain,), folder)
    shown = "".join(BOX if sign in lost else sign for sign in plain) if lost else plain
    found = _FAMILY.search(shown)
    family = found[0] if found else ""
    return _DRAWN.sub(lambda text: f"{text[1]}{_drawn(text[2], family, folder)}{text[3]}", shown)


@lru_cache(maxsize=4096)
def _drawn(text: str, family: str, folder: Path | None) -> str:
    """A text of a drawing in the fullest form that can be shown.

    In a drawing the typesetter doesn't look for a font sign by sign, so signs that can all be shown in a
    sentence may be refused side by side.
    """
    return next((form for form in _forms(text) if not _trouble(form, family, folder)), "?" * len(text))


def _forms(text: str) -> Iterator[str]:
    yield text
    composed = unicodedata.normalize("NFC", text)
    yield composed
    simple = _ATTACHED.sub("", composed)
    yield simple
    yield "".join(BOX if sign > _LAST_LATIN else sign for sign in simple)


def _trouble(text: str, family: str, folder: Path | None) -> str:
    if text.isascii():
        return ""
    drawing = f'<svg xmlns="{_SVG}" width="9" height="9"><text y="9" {family}>{text}</text></svg>'
    return picture_trouble(drawing.encode(), "svg", folder)


def _plain(text: str) -> str:
    return _REFUSED.sub("", clean(text).replace("\t", " "))


def _broken(run: re.Match[str]) -> str:
    """A run with places to break at; scripts without spaces break by themselves, marks stay with letters."""
    signs = run[0]
    parts = []
    for index, sign in enumerate(signs):
        if index and index % (LONGEST_RUN // 2) == 0 and not unicodedata.combining(sign):
            parts.append(BREAK)
        parts.append(sign)
    return "".join(parts)


def _short(text: str, signs: int = 60) -> str:
    line = " ".join(text.split())
    return line if len(line) <= signs else f"{line[:signs]}…"
