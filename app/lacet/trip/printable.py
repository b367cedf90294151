"""Takes out of texts what no page can print: control characters, halves of letters, tricks of direction.

Everything that leaves in a file or as data goes through here. Everything else stays as it was written,
whatever it looks like to a template or a browser.
"""

import unicodedata
from typing import Any

# Line ends and tabs are kept. What turns the reading direction for whatever follows isn't (Unicode Standard
# Annex 9, explicit formatting characters): in a page it would reach beyond the text it stands in.
_KEPT = "\n\t"
_TURNING = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


def clean(text: str) -> str:
    """A text without signs that can't be printed."""
    if text.isprintable():
        return text
    return "".join(sign for sign in text if _printed(sign))


def clean_plain(data: Any) -> Any:
    """Plain data (dictionaries, lists, texts) with all its texts clean."""
    if isinstance(data, str):
        return clean(data)
    if isinstance(data, dict):
        return {clean_plain(name): clean_plain(part) for name, part in data.items()}
    if isinstance(data, list | tuple):
        return [clean_plain(part) for part in data]
    return data


def _printed(sign: str) -> bool:
    if sign in _KEPT:
        return True
    return unicodedata.category(sign) not in ("Cc", "Cs", "Co", "Cn") and sign not in _TURNING
