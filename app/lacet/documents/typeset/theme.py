"""An office's look on paper and page: name, logo, colours and fonts, in one small TOML file.

What is left out is as in ours. A file that can't be used is refused in a sentence.
"""

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, fields, replace
from pathlib import Path
from typing import Any

from lacet.documents.drawing.look import COLOUR
from lacet.documents.drawing.look import Look as DrawingLook
from lacet.documents.page_look import OURS as OUR_LOOK
from lacet.documents.page_look import Look
from lacet.documents.typeset.fonts import FALLBACK, fonts, picture_trouble
from lacet.files import FileRefused, is_folder, need_file, whole, within
from lacet.trip.errors import LacetError
from lacet.trip.printable import clean

COLOURS = tuple(each.name for each in fields(Look) if each.name != "fonts")
# Hairlines carry nothing that can't be read otherwise.
TEXT_COLOURS = ("ink", "soft", "walking", "cycling")
# WCAG 2.2, success criterion 1.4.3, level AA.
LEAST_CONTRAST = 4.5
LOGOS = {".svg": "svg", ".png": "png", ".jpg": "jpg", ".jpeg": "jpg"}
MOST_LOGO_BYTES = 2_000_000
MOST_BYTES = 64_000
MOST_FONT_BYTES = 100_000_000
# A key of n parts takes the reader n² memory, and a key stands on one line.
LONGEST_LINE = 2_000
_COLOUR = re.compile(r"#[0-9a-fA-F]{6}")


class ThemeRefused(LacetError):
    """A theme file that can't be used."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Theme:
    """`name` stands for the operator's own where it is given. `fonts` are families; `folder` holds them."""

    name: str = ""
    look: Look = OUR_LOOK
    fonts: tuple[str, ...] = ()
    folder: Path | None = None
    logo: bytes = b""
    logo_format: str = ""

    @property
    def families(self) -> tuple[str, ...]:
        """Families in the order in which a sign is looked for."""
        return tuple(dict.fromkeys((*self.fonts, *FALLBACK)))

    @property
    def drawn(self) -> DrawingLook:
        """How maps and profiles look beside the text."""
        look = self.look
        # Further scripts are found without being named; every family that is named is read for each drawing.
        family = ", ".join((*self.fonts, COLOUR.family))
        return replace(
            COLOUR, family=family, ink=look.ink, quiet=look.soft, foot=look.walking, bike=look.cycling
        )


OURS = Theme()


def read_theme(path: Path) -> Theme:
    """Return the theme of a file.

    Raises
    ------
    ThemeRefused
        When the file can't be read, or something in it isn't what it should be.
    """
    told = _told(path)
    _known(path, "", told, ("name", "logo", "colours", "fonts"))
    family, folder = _fonts(path, _table(path, told, "fonts"))
    logo, kind = _logo(path, _text(path, told, "logo"))
    return Theme(
        name=_text(path, told, "name"), look=_look(path, _table(path, told, "colours")), fonts=family,
        folder=folder, logo=logo, logo_format=kind,
    )  # fmt: skip


def _told(path: Path) -> dict[str, Any]:
    try:
        text = whole(path, MOST_BYTES).decode("utf-8")
    except FileRefused as refusal:
        raise ThemeRefused(
            "The theme {path} can't be read: {reason}.", path=path, reason=refusal.reason
        ) from None
    except UnicodeDecodeError:
        raise ThemeRefused("The theme {path} isn't text in UTF-8; save it as such.", path=path) from None
    for number, line in enumerate(text.splitlines(), start=1):
        if len(line) > LONGEST_LINE:
            raise ThemeRefused(
                "The theme {path}, line {number}, has over {longest_line:,} characters.",
                path=path,
                number=number,
                longest_line=LONGEST_LINE,
            )
    try:
        return tomllib.loads(text)
    except RecursionError:
        raise ThemeRefused("The theme {path} nests lists deeper than any theme does.", path=path) from None
    # Besides its own error the reader lets pass what a date or a number of thousands of digits raises.
    except ValueError as error:
        raise ThemeRefused("The theme {path} isn't TOML: {error}.", path=path, error=error) from None


def faint_colours(theme: Theme) -> tuple[str, ...]:
    """Sentences about colours of text that are too near to the paper's (WCAG 2.2, 1.4.3)."""
    return tuple(_faint(theme.look))


def contrast(one: str, other: str) -> float:
    """Contrast of two colours '#rrggbb', from 1 to 21.

    References
    ----------
    WCAG 2.2, definitions of 'contrast ratio' and 'relative luminance'.
    """
    lighter, darker = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def _luminance(colour: str) -> float:
    parts = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _faint(look: Look) -> Iterator[str]:
    for name in TEXT_COLOURS:
        colour = getattr(look, name)
        found = contrast(colour, look.paper)
        if found < LEAST_CONTRAST:
            yield (
                f"The theme's colour '{name}' ({colour}) is too faint on its paper ({look.paper}): contrast"
                f" {found:.1f} to 1, where text needs {LEAST_CONTRAST} to 1."
            )


def _look(path: Path, table: dict[str, Any]) -> Look:
    _known(path, "colours.", table, COLOURS)
    for name, value in table.items():
        if not isinstance(value, str) or not _COLOUR.fullmatch(value):
            raise ThemeRefused(
                "In {path}, 'colours.{name}' must be a colour such as \"#22302f\".", path=path, name=name
            )
    return replace(OUR_LOOK, **table)


def _fonts(path: Path, table: dict[str, Any]) -> tuple[tuple[str, ...], Path | None]:
    _known(path, "fonts.", table, ("text", "folder"))
    wanted = table.get("text", [])
    if not isinstance(wanted, list) or not all(isinstance(each, str) and each for each in wanted):
        raise ThemeRefused(
            "In {path}, 'fonts.text' must be a list of names such as [\"Libertinus Serif\"].", path=path
        )
    said = _text(path, table, "folder", "fonts.")
    folder = (path.parent / said).resolve() if said else None
    if folder is not None and not _is_folder(path, folder):
        raise ThemeRefused(
            "In {path}, 'fonts.folder' is {folder}, which is no folder.", path=path, folder=folder
        )
    if folder is not None:
        _need_fonts(path, folder)
    there = fonts(folder).families()
    for name in wanted:
        if name not in there:
            raise ThemeRefused(
                "In {path}, 'fonts.text' names '{name}', which is neither ours nor in 'fonts.folder'; "
                "ours are {fallback}.",
                path=path,
                name=name,
                fallback=", ".join(FALLBACK),
            )
    return tuple(wanted), folder


def _is_folder(path: Path, folder: Path) -> bool:
    try:
        return is_folder(folder)
    except FileRefused as refusal:
        raise ThemeRefused(
            "In {path}, 'fonts.folder' is {folder}: {reason}.",
            path=path,
            folder=folder,
            reason=refusal.reason,
        ) from None


def _need_fonts(path: Path, folder: Path) -> None:
    """The typesetter opens whatever lies there: a pipe would be waited for, a link back followed for ever."""
    try:
        for file in within(folder):
            need_file(file, MOST_FONT_BYTES)
    except FileRefused as refusal:
        raise ThemeRefused(
            "In {path}, 'fonts.folder' is {folder}; {name}: {reason}.",
            path=path,
            folder=folder,
            name=refusal.path.name,
            reason=refusal.reason,
        ) from None


def _logo(path: Path, said: str) -> tuple[bytes, str]:
    if not said:
        return b"", ""
    file = path.parent / said
    kind = LOGOS.get(file.suffix.lower())
    if kind is None:
        raise ThemeRefused(
            "In {path}, 'logo' must be an SVG, PNG or JPEG file, not '{said}'.", path=path, said=said
        )
    try:
        content = whole(file, MOST_LOGO_BYTES)
    except FileRefused as refusal:
        raise ThemeRefused(
            "In {path}, the logo {file} can't be read: {reason}.", path=path, file=file, reason=refusal.reason
        ) from None
    trouble = picture_trouble(content, kind)
    if trouble:
        raise ThemeRefused(
            "In {path}, the logo {file} can't be printed: {trouble}.", path=path, file=file, trouble=trouble
        )
    return content, kind


def _known(path: Path, within: str, table: dict[str, Any], names: tuple[str, ...]) -> None:
    for name in table:
        if name not in names:
            raise ThemeRefused(
                "In {path}, nobody knows '{within}{name}'; there is {names}.",
                path=path,
                within=within,
                name=name,
                names=", ".join(names),
            )


def _table(path: Path, told: dict[str, Any], name: str) -> dict[str, Any]:
    table = told.get(name, {})
    if not isinstance(table, dict):
        raise ThemeRefused("In {path}, '{name}' must be a table: [{name}].", path=path, name=name)
    return table


def _text(path: Path, told: dict[str, Any], name: str, within: str = "") -> str:
    text = told.get(name, "")
    if not isinstance(text, str):
        raise ThemeRefused(
            "In {path}, '{within}{name}' must be a text in quotation marks.",
            path=path,
            within=within,
            name=name,
        )
    if clean(text) != text:
        raise ThemeRefused(
            "In {path}, '{within}{name}' holds signs that can't be printed; take them out.",
            path=path,
            within=within,
            name=name,
        )
    return text.strip()
