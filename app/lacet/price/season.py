"""Seasons of tariffs, asked through one function so that this room needn't know how calendars are written.

`assess` may hand in a fuller reader (Easter, weekdays); the one here reads plain stretches of the calendar:
'11-01..03-15' every year, over New Year if it ends before it begins, and '2027-04-10..2027-05-02' once;
several with ';' between; both ends included.
"""

import re
from collections.abc import Callable
from datetime import date
from typing import TypeAlias

from lacet.trip.errors import LacetError

InSeason: TypeAlias = Callable[[str, date], bool]
"""Whether a season text (never empty) covers a day. Raises LacetError when it can't read the text."""

_STRETCH = re.compile(r"((?:\d{4}-)?\d\d-\d\d)\.\.((?:\d{4}-)?\d\d-\d\d)")


class SeasonUnread(LacetError):
    """A season of a tariff that isn't a plain stretch of the calendar."""


def in_plain_season(text: str, day: date) -> bool:
    """Whether a plain season covers a day; see the module for the forms.

    Raises
    ------
    SeasonUnread
        When the text has another form.
    """
    return any(_covers(part.strip(), text, day) for part in text.split(";"))


def _covers(part: str, text: str, day: date) -> bool:
    found = _STRETCH.fullmatch(part)
    if found is None or len(found[1]) != len(found[2]):
        raise SeasonUnread(
            "The season '{text}' of a tariff can't be read; write it like 11-01..03-15 or "
            "2027-04-10..2027-05-02.",
            text=text,
        )
    first, last = found[1], found[2]
    today = day.isoformat()[-len(first) :]
    return first <= today <= last if first <= last else today >= first or today <= last
