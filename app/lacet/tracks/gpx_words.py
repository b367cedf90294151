"""Words of the GPX reader: texts made fit to be shown, and the parser's complaints in plain sentences."""

from __future__ import annotations

import pyexpat
import re

from lacet.language import to_say
from lacet.tracks.problem import GpxRefused

LONGEST_NAME = 200
LONGEST_DESCRIPTION = 4_000

# C0 and C1 controls, DEL, line and paragraph separators, byte order marks and lone surrogates; also the
# overrides and isolates of writing direction, which can turn round the text that follows them. The plain
# marks of direction and the joiner that emoji need stay.
_UNFIT = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff\ud800-\udfff]+"
)
_FORMATS = {
    "html": "this is a web page, not GPX (a download that needed a log-in?)",
    "kml": "this is KML, not GPX; export it as GPX",
    "TrainingCenterDatabase": "this is TCX, not GPX; export it as GPX",
    "osm": "this is OpenStreetMap data, not GPX",
    "svg": "this is a drawing (SVG), not GPX",
    "rss": "this is a news feed, not GPX",
}
_CODES = pyexpat.errors.codes
_COMPLAINTS = {
    "no element found": "the file is cut off here, or holds no GPX",
    "unclosed token": "the file is cut off here, or a tag is not closed",
    "partial character": "the file is cut off here, within a character",
    "unclosed CDATA section": "the file is cut off here",
    "mismatched tag": "a tag is closed that was not the last one opened; the file is damaged",
    "duplicate attribute": "an attribute is given twice in one tag",
    "junk after document element": "more text follows after the end of the document",
    "undefined entity": "an entity that XML doesn't know (such as &nbsp;) is used",
    "unbound prefix": "a tag uses a prefix that is declared nowhere",
    "XML declaration not well-formed": "the XML declaration can't be read (only XML 1.0 is)",
    "XML or text declaration not at start of entity": "a second XML declaration stands inside the document",
    "reference to invalid character number": "a character that XML does not allow is written as a number",
}
_INVALID = "a character that XML does not allow here (a bare & or <, or damage)"


def fit(text: str) -> str:
    """Return a text without signs that hide or turn text; line ends and tabs stay."""
    return _UNFIT.sub("", text)


def one_line(text: str, longest: int = LONGEST_NAME) -> str:
    """Return a name on one line, without signs that hide or turn text, cut at a length."""
    return _cut(" ".join(_UNFIT.sub(" ", text).split()), longest)


def paragraph(text: str, longest: int = LONGEST_DESCRIPTION) -> str:
    """Return a text with its line ends, otherwise as `one_line`."""
    lines = (" ".join(_UNFIT.sub(" ", line).split()) for line in text.splitlines())
    return _cut("\n".join(lines).strip(), longest)


def refusal_for_root(root: str, name: str, line_number: int) -> GpxRefused:
    """Return the refusal of a document by its outermost element."""
    shown = one_line(root, 40)
    reason = _FORMATS.get(root, f"the outermost element is <{shown}>, not <gpx>")
    return GpxRefused(name, to_say("{reason}.", reason=reason), line_number)


def refusal_for(error: pyexpat.ExpatError, name: str) -> GpxRefused:
    """Return the parser's complaint as a sentence that names the line."""
    complaint = pyexpat.ErrorString(error.code) or ""
    reason = _COMPLAINTS.get(
        complaint, _INVALID if "invalid token" in complaint else f"damaged XML ({complaint})"
    )
    return GpxRefused(name, to_say("{reason}.", reason=reason), error.lineno)


def _cut(text: str, longest: int) -> str:
    return text if len(text) <= longest else f"{text[: longest - 1]}…"
