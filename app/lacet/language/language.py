"""A language: fixed text by gettext catalogues, figures and dates by its locale.

English is the source. A text is marked where it stands, `speech.say("Day {number}", number=3)` or
`speech.many("{count} night", "{count} nights", 2)`; what is said elsewhere is a `Text`, or a `marked` word.
What people wrote is only ever a part of a sentence, never its pattern, so its braces and signs stay text.
Babel is imported only for what plain English can't say, since it takes a while to wake up.

A text as a value is a marked English pattern, and what is to stand in it by name:

    to_say("{away_m:length} from {here} to {lodging}.", away_m=1830.0, here="Lime Cove", lodging="Tarn Inn")

Values stay what they are (metres, seconds, dates, money, names, texts, tuples of these) and their names carry
the unit; the pattern says how each is said (`HOW` lists the ways). So another language can order and say them
its own way, and the values are what a program reads.
"""

import gettext
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, time
from enum import StrEnum
from functools import cache
from typing import Any

from lacet.wording import ENGLISH, LONG_MONTHS, LONG_WEEKDAYS, UNKNOWN, Amount, Wording, listed, spoken

SOURCE_LANGUAGE = "en"

_DAY_S = 86_400


@dataclass(frozen=True, slots=True)
class Text:
    """Something to be said. `str()` says it in plain English; `Language.say` in any language.

    Attributes
    ----------
    pattern
        The English source, with its parts in braces; said as it is where there are no values.
    values
        What stands in it, by name. A name that the pattern doesn't use is there for programs.
    several
        The plural of the pattern, where the value `count` decides between the two; else empty.
    """

    pattern: str
    values: tuple[tuple[str, object], ...] = ()
    several: str = ""

    @property
    def named(self) -> Mapping[str, object]:
        """The values by name."""
        return dict(self.values)

    def __str__(self) -> str:
        return in_english(spoken()).say(self)


def to_say(pattern: str, /, **values: object) -> Text:
    """A marked text with its values, to be said later."""
    return Text(pattern, tuple(values.items()))


def to_count(one: str, several: str, count: int, /, **values: object) -> Text:
    """A marked text in two forms; `count` decides between them and may stand in it."""
    return Text(one, (("count", count), *values.items()), several)


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

    def say(self, text: str | Text, /, **parts: object) -> str:
        """A marked text in this language, its parts put in; or a text value with its own."""
        if isinstance(text, Text):
            return self._said(text)
        said = self._texts.gettext(text) if text else ""
        return said.format(**parts) if parts else said

    def sentence(self, text: Text) -> str:
        """A text value as a sentence by itself: its first letter large."""
        return begun(self._said(text))

    def _said(self, text: Text) -> str:
        named = dict(text.values)
        if text.several:
            count = named["count"]
            said = self._texts.ngettext(text.pattern, text.several, count if isinstance(count, int) else 2)
        else:
            said = self._texts.gettext(text.pattern) if text.pattern else ""
        return said.format(**{name: _Part(value, self) for name, value in named.items()}) if named else said

    def many(self, one: str, several: str, count: int, **parts: object) -> str:
        """The form of a marked text that goes with a count; `count` is put in, as a word to twelve."""
        counted = self._texts.gettext(NUMBERS[count]) if 2 <= count < len(NUMBERS) else count
        return self._texts.ngettext(one, several, count).format(count=counted, **parts)

    def word(self, text: str) -> str:
        """A word that is marked elsewhere, or as it is where nobody marked it."""
        return self._texts.gettext(text) if text else ""

    @property
    def _plain(self) -> bool:
        """Whether it is the English that is said without Babel, which takes a while to wake up."""
        return self.wording.language == ENGLISH.language

    def listed(self, names: Sequence[str]) -> str:
        """'Ann, Ben and Cleo', by the language's own rule."""
        if self.tag == SOURCE_LANGUAGE:
            return listed(names)
        from babel.lists import format_list

        return format_list(list(names), locale=self.wording.language)

    def some(self, names: Sequence[str], most: int = 3) -> str:
        """'Ann, Ben, Cleo and 4 more'."""
        if len(names) <= most + 1:
            return self.listed(names)
        return self.listed([*names[:most], self.say("{count} more", count=len(names) - most)])

    def either(self, names: Sequence[str]) -> str:
        """'Ann, Ben or Cleo'."""
        from babel.lists import format_list

        return format_list(list(names), style="or", locale=self.wording.language)

    def clock(self, seconds: float | None) -> str:
        """'14:05', or '1:20 the next day'."""
        if seconds is None or round(seconds / 60) * 60 < _DAY_S:
            return self.wording.clock(seconds)
        return self.say("{clock} the next day", clock=self.wording.clock(seconds - _DAY_S))

    def about(self, seconds: float | None) -> str:
        """A clock time that is an estimate, to five minutes."""
        return self.clock(None if seconds is None else round(seconds / 300) * 300)

    def money(self, money: Amount | None, *, starting: bool = False) -> str:
        """'€1,482.00', or 'from €1,482.00'."""
        said = self.wording.money(money)
        return self.say("from {price}", price=said) if starting and money is not None else said

    def day(self, on: date | None, skeleton: str = "yMMMMd") -> str:
        """A date by a skeleton of the Unicode locale data (UTS 35): '8 May 2027'."""
        if on is None:
            return ""
        if self._plain and skeleton in ("MMMMd", "yMMMMd"):
            said = f"{on.day} {LONG_MONTHS[on.month - 1]}"
            return f"{said} {on.year}" if skeleton == "yMMMMd" else said
        from babel.dates import format_date, format_skeleton

        if skeleton == "yMMMMd":
            return format_date(on, "long", locale=self.wording.language)
        return format_skeleton(skeleton, on, locale=self.wording.language)

    def weekday(self, on: date | None) -> str:
        """'Saturday 8 May'."""
        if on is None:
            return ""
        return self.say("{weekday} {day}", weekday=self.weekday_name(on), day=self.day(on, "MMMMd"))

    def weekday_name(self, on: date) -> str:
        """'Saturday'."""
        if self._plain:
            return LONG_WEEKDAYS[on.weekday()]
        from babel.dates import format_date

        return format_date(on, "EEEE", locale=self.wording.language)

    def month(self, number: int) -> str:
        """'May'."""
        from babel.dates import format_date

        return format_date(date(2000, number, 1), "LLLL", locale=self.wording.language)

    def dates(self, first: date, last: date) -> str:
        """'8–16 May 2027'."""
        from babel.dates import format_interval

        return format_interval(first, last, "yMMMMd", locale=self.wording.language)


@dataclass(frozen=True, slots=True)
class _Part:
    """A value that stands in a text: said as the pattern asks, else by what it is."""

    value: Any
    language: Language

    def __format__(self, how: str) -> str:
        if how.endswith(BEGUN):
            return begun(self._said(how[: -len(BEGUN)].rstrip()))
        return self._said(how)

    def _said(self, how: str) -> str:
        value, language = self.value, self.language
        if how in HOW:
            return HOW[how](language, value)
        if how:
            return format(str(value) if isinstance(value, Text) else value, how)
        if value is None:
            return UNKNOWN
        if isinstance(value, Text):
            return language.say(value)
        if isinstance(value, tuple | list):
            return language.listed(_each(value, language))
        if isinstance(value, date):
            return language.wording.day(value, "d MMM yyyy")
        if isinstance(value, time):
            return f"{value:%H:%M}"
        if isinstance(value, StrEnum):
            return language.word(value.value)
        return language.money(value) if isinstance(value, Amount) else str(value)

    def __repr__(self) -> str:
        return repr(self.value)


def _each(values: object, language: Language) -> list[str]:
    found = values if isinstance(values, tuple | list) else (values,)
    return [format(_Part(each, language), "") for each in found]


def _runs(days: Sequence[int] | int) -> list[str]:
    """Days as figures, three and more on end as first and last: '2', '4–7'."""
    runs: list[list[int]] = []
    for day in sorted({days} if isinstance(days, int) else set(days)):
        if runs and day == runs[-1][-1] + 1:
            runs[-1].append(day)
        else:
            runs.append([day])
    return [
        text
        for run in runs
        for text in ([f"{run[0]}–{run[-1]}"] if len(run) > 2 else [str(day) for day in run])
    ]


BEGUN = "begun"
HOW: dict[str, Callable[[Language, Any], str]] = {
    "length": lambda language, length_m: language.wording.length(length_m),
    "height": lambda language, height_m: language.wording.height(height_m),
    "spot": lambda language, height_m: language.wording.spot_height(height_m),
    "away": lambda language, distance_m: language.wording.away(distance_m),
    "duration": lambda language, seconds: language.wording.duration(seconds),
    "clock": lambda language, seconds: language.clock(seconds),
    "share": lambda language, share: language.wording.share(share),
    "money": lambda language, money: language.wording.money(money),
    "day": lambda language, on: language.day(on, "MMMMd"),
    "date": lambda language, on: language.day(on),
    "weekday": lambda language, on: language.weekday(on),
    "evening": lambda language, on: language.weekday_name(on),
    "month": lambda language, number: language.month(number),
    "any": lambda language, values: language.either(_each(values, language)),
    "some": lambda language, values: language.some(_each(values, language)),
    "days": lambda language, days: language.listed(_runs(days)),
    "commas": lambda language, values: ", ".join(_each(values, language)),
    "lines": lambda language, values: "; ".join(_each(values, language)),
}
"""How a pattern may ask for a value, as in `{away_m:length}`: of metres, seconds, shares, dates, or many."""


@cache
def in_english(wording: Wording) -> Language:
    """English with the figures of a wording: what is said while nobody has chosen another language."""
    return Language(SOURCE_LANGUAGE, "ltr", wording, gettext.NullTranslations())


ENGLISH_SPEECH = in_english(ENGLISH)
