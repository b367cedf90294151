"""Takes out of texts what no page can print: control characters, halves of letters, tricks of direction.

Everything else stays as it was written, whatever it looks like to a template or a browser.
"""

import unicodedata
from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace
from typing import Any, TypeVar

from lacet.documents.material.values import Drawn, Shown

Value = TypeVar("Value")
# Line ends and tabs are kept. What turns the reading direction for whatever follows isn't (Unicode Standard
# Annex 9, explicit formatting characters): in a page it would reach beyond the text it stands in.
_KEPT = "\n\t"
_TURNING = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


def clean(text: str) -> str:
    """A text without signs that can't be printed."""
    if text.isprintable():
        return text
    return "".join(sign for sign in text if _printed(sign))


def _printed(sign: str) -> bool:
    if sign in _KEPT:
        return True
    return unicodedata.category(sign) not in ("Cc", "Cs", "Co", "Cn") and sign not in _TURNING


def cleaned(value: Value) -> Value:
    """A value of the material with all its texts clean; drawings and pictures are as they were made."""
    made: Value = _cleaned(value)
    return made


def _cleaned(value: Any) -> Any:
    if isinstance(value, str):
        return clean(value)
    if isinstance(value, tuple):
        return tuple(_cleaned(each) for each in value)
    if isinstance(value, Mapping):
        return {key: _cleaned(each) for key, each in value.items()}
    if is_dataclass(value) and not isinstance(value, type | Drawn):
        kept = ("payload",) if isinstance(value, Shown) else ()
        parts = {each.name: getattr(value, each.name) for each in fields(value) if each.name not in kept}
        return replace(value, **{name: _cleaned(part) for name, part in parts.items()})
    return value
