"""The language of a document: fixed text by gettext catalogues, figures and dates by Babel's locales.

English is the source. A text is marked where it stands, `speech.say("Day {number}", number=3)` or
`speech.many("{count} night", "{count} nights", 2)`; `marked("inn")` marks a word that is said elsewhere.
What people wrote is only ever a part of a sentence, never its pattern, so its braces and signs stay text.
"""

import gettext
import io
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date
from functools import cache

from babel import Locale, UnknownLocaleError
from babel.dates import format_date, format_interval, format_skeleton
from babel.lists import format_list
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po

from lacet.resources import resource
from lacet.trip.errors import LacetError
from lacet.trip.money import Money
from lacet.wording import Wording

SOURCE_LANGUAGE = "en"
CATALOGUE = "languages/{language}/LC_MESSAGES/lacet.po"
_USUAL_PLACE = {"en": "en_GB", "de": "de_DE"}
_DAY_S = 86_400


class LanguageRefused(LacetError):
    """A language in which documents can't be written."""


def marked(text: str) -> str:
    """The text itself: marks a word for translation where it isn't said yet."""
    return text


NUMBERS = (
    "",
    "",
    marked("two"),
    marked("three"),
    marked("four"),
    marked("five"),
    marked("six"),
    marked("seven"),
    marked("eight"),
    marked("nine"),
    marked("ten"),
    marked("eleven"),
    marked("twelve"),
)


def begun(text: str) -> str:
    """A text that begins a sentence: its first letter large, the rest as it is."""
    return text[:1].upper() + text[1:]


@dataclass(frozen=True, slots=True)
class Language:
    """A language, its locale and its way with figures. Unknown figures are a dash, as everywhere."""

    tag: str
    direction: str
    wording: Wording
    _texts: gettext.NullTranslations = field(repr=False, compare=False)

    def say(self, text: str, **parts: object) -> str:
        """A marked text in this language, its parts put in."""
        said = self._texts.gettext(text) if text else ""
        return said.format(**parts) if parts else said

    def many(self, one: str, several: str, count: int, **parts: object) -> str:
        """The form of a marked text that goes with a count; `count` is put in, as a word to twelve."""
        counted = self._texts.gettext(NUMBERS[count]) if 2 <= count < len(NUMBERS) else count
        return self._texts.ngettext(one, several, count).format(count=counted, **parts)

    def word(self, text: str) -> str:
        """A word that is marked elsewhere, or as it is where nobody marked it."""
        return self._texts.gettext(text) if text else ""

    def listed(self, names: Sequence[str]) -> str:
        """'Ann, Ben and Cleo', by the language's own rule."""
        return format_list(list(names), locale=self.wording.language)

    def clock(self, seconds: float | None) -> str:
        """'14:05', or '1:20 the next day'."""
        if seconds is None or round(seconds / 60) * 60 < _DAY_S:
            return self.wording.clock(seconds)
        return self.say("{clock} the next day", clock=self.wording.clock(seconds - _DAY_S))

    def about(self, seconds: float | None) -> str:
        """A clock time that is an estimate, to five minutes."""
        return self.clock(None if seconds is None else round(seconds / 300) * 300)

    def money(self, money: Money | None, *, starting: bool = False) -> str:
        """'€1,482.00', or 'from €1,482.00'."""
        said = self.wording.money(money)
        return self.say("from {price}", price=said) if starting and money is not None else said

    def day(self, on: date | None, skeleton: str = "yMMMMd") -> str:
        """A date by a skeleton of the Unicode locale data (UTS 35): '8 May 2027'."""
        if on is None:
            return ""
        if skeleton == "yMMMMd":
            return format_date(on, "long", locale=self.wording.language)
        return format_skeleton(skeleton, on, locale=self.wording.language)

    def weekday(self, on: date | None) -> str:
        """'Saturday 8 May'."""
        if on is None:
            return ""
        weekday = format_date(on, "EEEE", locale=self.wording.language)
        return self.say("{weekday} {day}", weekday=weekday, day=self.day(on, "MMMMd"))

    def month(self, number: int) -> str:
        """'May'."""
        return format_date(date(2000, number, 1), "LLLL", locale=self.wording.language)

    def dates(self, first: date, last: date) -> str:
        """'8–16 May 2027'."""
        return format_interval(first, last, "yMMMMd", locale=self.wording.language)


def language(tag: str = SOURCE_LANGUAGE, *, imperial: bool = False) -> Language:
    """The language of a tag (BCP 47), such as 'de' or 'en-US'.

    Raises
    ------
    LanguageRefused
        When the tag is none, or no catalogue of that language ships.
    """
    try:
        locale = Locale.parse(tag.strip().replace("-", "_"))
    except (ValueError, UnknownLocaleError):
        raise _refused(tag) from None
    texts = _catalogue(locale.language)
    if texts is None:
        raise _refused(tag)
    named = str(locale) if locale.territory else _USUAL_PLACE.get(locale.language, locale.language)
    return Language(
        tag=named.replace("_", "-") if locale.territory else locale.language,
        direction=locale.text_direction,
        wording=Wording(named, imperial),
        _texts=texts,
    )


@cache
def languages() -> tuple[tuple[str, str], ...]:
    """(tag, name of the language in itself) of all languages that documents can be written in."""
    folder = resource("languages")
    tags = sorted({SOURCE_LANGUAGE, *(each.name for each in folder.iterdir() if each.is_dir())})
    return tuple((tag, Locale.parse(tag).get_display_name() or tag) for tag in tags)


@cache
def _catalogue(name: str) -> gettext.NullTranslations | None:
    if name == SOURCE_LANGUAGE:
        return gettext.NullTranslations()
    try:
        source = resource(CATALOGUE.format(language=name))
    except FileNotFoundError:
        return None
    packed = io.BytesIO()
    # The readable catalogue ships; what gettext reads is made from it in memory, in a few milliseconds.
    with source.open("rb") as written:
        write_mo(packed, read_po(written, locale=name))
    packed.seek(0)
    return gettext.GNUTranslations(packed)


def _refused(tag: str) -> LanguageRefused:
    known = ", ".join(f"{each} ({name})" for each, name in languages())
    return LanguageRefused(f"Documents can't be written in '{tag}'; there is {known}.")
