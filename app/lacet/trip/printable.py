"""Takes out of texts what no page can print: control characters, halves of letters, tricks of direction.

Everything that leaves in a file or as data goes through here; what is kept loses controls and tricks of
direction alone. Everything else stays as it was written, whatever it looks like to a template or a browser.
"""

import re
import unicodedata
from collections.abc import Callable
from typing import Any

# Line ends and tabs are kept. What turns the reading direction for whatever follows isn't (Unicode Standard
# Annex 9, explicit formatting characters): in a page it would reach beyond the text it stands in.
_KEPT = "\n\t"
_TURNING = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
# What nobody types on purpose, and no text keeps: controls, and what turns the reading direction.
_COMMANDS = re.compile(f"[\x00-\x08\x0b-\x1f\x7f-\x9f{''.join(sorted(_TURNING))}]")


def without_commands(text: str) -> str:
    """A text as it is kept: without controls and turns of direction; whatever else there is stays."""
    return _COMMANDS.sub("", text)


def clean(text: str) -> str:
    """A text without signs that can't be printed."""
    if text.isprintable():
        return text
    return "".join(sign for sign in text if _printed(sign))


def clean_plain(data: Any, by: Callable[[str], str] = clean) -> Any:
    """Plain data (dictionaries, lists, texts) with all its texts clean."""
    if isinstance(data, str):
        return by(data)
    if isinstance(data, dict):
        return {clean_plain(name, by): clean_plain(part, by) for name, part in data.items()}
    if isinstance(data, list | tuple):
        return [clean_plain(part, by) for part in data]
    return data


def _printed(sign: str) -> bool:
    if sign in _KEPT:
        return True
    return unicodedata.category(sign) not in ("Cc", "Cs", "Co", "Cn") and sign not in _TURNING
