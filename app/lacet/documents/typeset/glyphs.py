"""Texts as they can stand on paper, and what can't.

Signs no font here has become an empty box, which reads as 'something stood here'; words too long for any
column may break. Control characters have been taken out of the material before; here they are, once more.
"""

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import is_dataclass
from pathlib import Path
from typing import Any

from lacet.documents.material.cleaning import clean
from lacet.documents.typeset.fonts import unshown

BOX = "\u25a1"
# Longer than any word or address: a run that would reach beyond its column.
LONGEST_RUN = 28
BREAK = "\u200b"
MOST_SIGNS = 12
_RUN = re.compile(rf"[^\s{BREAK}]{{{LONGEST_RUN},}}")
# Marks of order that PDF/UA-1 refuses in text.
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
    return "".join(BOX if sign in lost else sign for sign in plain) if lost else plain


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
