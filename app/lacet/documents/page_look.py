"""How the page looks: colours and type, from the office's own choice or ours.

Colours are told as #rrggbb and fonts by name, so that nothing else can come into the style sheet.
"""

import re
from dataclasses import dataclass, fields
from string import Template

from lacet.trip.errors import LacetError

_COLOUR = re.compile(r"#[0-9a-fA-F]{6}")
_FONT = re.compile(r"[\w -]{1,60}")
SERIF = ("Libertinus Serif", "Iowan Old Style", "Palatino Linotype", "Palatino", "Noto Serif", "Georgia")


class LookRefused(LacetError):
    """A colour or a font that can't be used."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """Colours and fonts of the page. Text on paper keeps a contrast of 4.5 to 1 or more (WCAG 2.2, 1.4.3)."""

    ink: str = "#22302f"
    paper: str = "#fdfcf8"
    soft: str = "#566360"
    rule: str = "#d9d8cc"
    walking: str = "#9c431d"
    cycling: str = "#1f5c85"
    fonts: tuple[str, ...] = SERIF


OURS = Look()


def families(look: Look) -> str:
    """Its fonts as a style sheet and a drawing name them, the first that the reader's machine has."""
    return ", ".join([*(f'"{font}"' for font in look.fonts), "serif"])


def css_text(text: str) -> str:
    r"""A text for between quotes in a style sheet: whatever isn't a plain letter or figure as its code.

    References
    ----------
    W3C CSS Syntax Level 3, section 4.3.7: a backslash, up to six hexadecimal digits, a blank.
    """
    return "".join(
        sign if sign.isascii() and (sign.isalnum() or sign == " ") else f"\\{ord(sign):06x} " for sign in text
    )


def style_sheet(template: str, look: Look, running: str = "") -> str:
    """The style sheet in this look; `running` stands at the foot of printed pages.

    Raises
    ------
    LookRefused
        When a colour isn't one, or a font's name has signs that no name has.
    """
    for each in fields(Look):
        value = getattr(look, each.name)
        if each.name != "fonts" and not _COLOUR.fullmatch(value):
            raise LookRefused(
                "'{value}' is not a colour; write {each} like #22302f.", value=value, each=each.name
            )
    for font in look.fonts:
        if not _FONT.fullmatch(font):
            raise LookRefused("'{font}' can't be the name of a font.", font=font)
    colours = {each.name: getattr(look, each.name) for each in fields(Look) if each.name != "fonts"}
    return Template(template).substitute(colours, serif=families(look), running=css_text(running))
