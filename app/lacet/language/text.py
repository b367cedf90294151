"""A text as a value: a marked English pattern, and what is to stand in it by name.

    to_say("{away_m:length} from {here} to {lodging}.", away_m=1830.0, here="Lime Cove", lodging="Lake House")

Values stay what they are (metres, seconds, dates, money, names, texts, tuples of these) and their names carry
the unit; the pattern says how each is said (`language.HOW` lists the ways). So another language can order and
say them its own way, and `values` is what a program reads.
"""

from collections.abc import Mapping
from dataclasses import dataclass


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
        from lacet.language.language import in_english
        from lacet.wording import spoken

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
