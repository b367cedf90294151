"""Names of files that every system takes, made from names people gave.

Its rule: a name made here is a single path part. It can't climb out of a folder, be hidden, be a device of
Windows or end up cut in the middle of a letter, whatever the text it was made from.
"""

import re
import unicodedata
from collections.abc import Iterator, Sequence

# Most file systems allow 255 bytes; folders and the tools of phones need some of them, too.
LONGEST_BYTES = 120
# Of these, for what is put around a name: a day's number, a number behind equal names, an ending.
AROUND_BYTES = 20

# Forbidden on Windows (Microsoft, "Naming Files, Paths, and Namespaces"), or read as path parts somewhere.
_FORBIDDEN = re.compile(r'[<>:"/\\|?*]+')
_DEVICES = re.compile(r"(con|prn|aux|nul|conin\$|conout\$|com[0-9¹²³]|lpt[0-9¹²³])(\..*)?", re.IGNORECASE)


def safe_name(text: str, otherwise: str = "unnamed", longest_bytes: int = LONGEST_BYTES) -> str:
    """Return a text as a file's name without ending, as near to it as all systems allow."""
    composed = unicodedata.normalize("NFC", text)
    # Controls, invisible joiners and marks that turn the reading direction, surrogates, private use.
    seen = "".join(" " if unicodedata.category(sign)[0] in "CZ" else sign for sign in composed)
    plain = " ".join(_FORBIDDEN.sub("-", seen).split())
    name = _short(plain, longest_bytes).strip(" .-~")
    if _DEVICES.fullmatch(name):
        name = f"{name.split('.')[0]}-"
    return name or otherwise


def day_name(number: int, days: int, text: str) -> str:
    """Return '03 Ciderfold to Brack Harbour': names in day order even where they are sorted as text."""
    return f"{number:0{max(2, len(str(days)))}d} {part_of_name(text, 'day')}"


def part_of_name(text: str, otherwise: str) -> str:
    """Return a text as the middle of a file's name, with room for a number before it and an ending."""
    return safe_name(text, otherwise, LONGEST_BYTES - AROUND_BYTES)


def all_different(names: Sequence[str]) -> Iterator[str]:
    """Yield names in order, with a number behind those that came before in any case of letters."""
    seen: set[str] = set()
    for name in names:
        own, count = name, 1
        while own.casefold() in seen:
            count += 1
            own = f"{name} {count}"
        seen.add(own.casefold())
        yield own


def _short(text: str, longest_bytes: int) -> str:
    kept = text
    while len(kept.encode()) > longest_bytes:
        kept = kept[:-1]
    # A mark that joins on to the letter before it goes with its letter.
    if len(kept) < len(text):
        while unicodedata.combining(text[len(kept)]) and kept:
            text, kept = text[: len(kept)], kept[:-1]
    return kept
