"""How wide a text is when nobody knows the reader's fonts: rather a little too wide than too narrow.

Shares of the type size by character: the widest of four free italic book faces (DejaVu Serif, P052, C059, URW
Bookman), measured with Pillow. Scripts other than Latin go by their kind: common practice, no source.
"""

import unicodedata

_WIDTHS = (
    (" .,'|!ijl’‘·", 0.34),
    ("ftI()[]-:;", 0.42),
    ('rs/"z', 0.54),
    ("cvxekoy”“", 0.61),
    ("abdghnpqu0123456789LP", 0.67),
    ("FSTYZAVXBE", 0.73),
    ("KRC", 0.77),
    ("DGOQU", 0.84),
    ("Hw&", 0.89),
    ("mM", 1.02),
    ("W@%—…", 1.04),
)
_LATIN = {character: share for characters, share in _WIDTHS for character in characters}
SMALL, LARGE, WIDE, OTHER = 0.65, 0.86, 1.05, 0.8
BOLD_SHARE = 1.1


def width_mm(text: str, size_mm: float, *, bold: bool = False) -> float:
    """At most how wide a text is [mm]."""
    share = sum(_share(character) for character in text)
    return share * size_mm * (BOLD_SHARE if bold else 1.0)


def shortened(text: str, size_mm: float, most_mm: float) -> str:
    """The text, or as much of it as surely fits and an ellipsis."""
    if width_mm(text, size_mm) <= most_mm:
        return text
    room = most_mm - width_mm("…", size_mm)
    end = used = 0.0
    for character in text:
        used += _share(character) * size_mm
        if used > room:
            break
        end += 1
    return text[: int(end)].rstrip() + "…"


def _share(character: str) -> float:
    known = _LATIN.get(character)
    if known is not None:
        return known
    if unicodedata.east_asian_width(character) in "WF":
        return WIDE
    kind = unicodedata.category(character)
    if kind in {"Mn", "Me", "Cf"}:
        return 0.0
    if kind == "Lu":
        return LARGE
    if kind in {"Ll", "Nd", "Lm", "Zs"}:
        return SMALL
    # Emoji, and letters of scripts without case, of which Tamil and Myanmar have very wide ones.
    return WIDE if kind == "So" else OTHER
