"""Everything on paper: templates, an office's theme and data in, tagged PDF (PDF/UA-1) out.

Its rule: what people wrote is data and never markup, and nothing they can write makes a page fail. What no
font here can show is told before a document is made, and stands in it as an empty box.
"""

from lacet.documents.typeset.glyphs import missing_glyphs
from lacet.documents.typeset.setting import Paper, TypesetRefused, typeset
from lacet.documents.typeset.theme import OURS, Theme, ThemeRefused, faint_colours, read_theme

__all__ = [
    "OURS", "Paper", "Theme", "ThemeRefused", "TypesetRefused", "faint_colours", "missing_glyphs",
    "read_theme", "typeset",
]  # fmt: skip
