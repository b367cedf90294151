"""How findings say figures and people: by the wording spoken just now, English and metric at first."""

import re
from collections.abc import Sequence
from datetime import date

from lacet.checks.case import Ground
from lacet.days.calendar import MONTH_NAMES
from lacet.wording import listed, spoken

_YEARLY = re.compile(r"(\d\d)-(\d\d)\.\.(\d\d)-(\d\d)")

__all__ = [
    "begun",
    "clock",
    "duration",
    "guests",
    "kilometres",
    "listed",
    "metres",
    "on_day",
    "season_end",
    "season_words",
    "share",
]


def clock(seconds: float | None) -> str:
    """'14:05'."""
    return spoken().clock(seconds)


def duration(seconds: float | None) -> str:
    """'4 h 20'."""
    return spoken().duration(seconds)


def kilometres(length_m: float | None) -> str:
    """'13.6 km', or '8.5 mi' where miles are spoken."""
    return spoken().length(length_m)


def metres(height_m: float | None) -> str:
    """'540 m', or '1770 ft' where feet are spoken."""
    return spoken().height(height_m)


def share(value: float | None) -> str:
    """'48 %'."""
    return spoken().share(value)


def guests(case: Ground, travellers: Sequence[str]) -> str:
    """Who is meant: 'everybody', or their names, or 'guest 3' for those without one."""
    if len(travellers) == len(case.trip.party.travellers):
        return "everybody"
    return listed([case.trip.party.name_of(who) for who in travellers])


def on_day(on: date) -> str:
    """'8 May'."""
    return f"{on.day} {MONTH_NAMES[on.month - 1]}"


def begun(text: str) -> str:
    """A text that begins a sentence: its first letter large, the rest as it is."""
    return text[:1].upper() + text[1:]


def season_words(text: str) -> str:
    """A yearly season as people say it ('from 1 December to 15 March'); other forms as they are written."""
    found = _YEARLY.fullmatch(text)
    return text if found is None else f"from {_day(*found.groups()[:2])} to {_day(*found.groups()[2:])}"


def season_end(text: str) -> str:
    """The last day of a yearly season ('15 March'); other forms as they are written."""
    found = _YEARLY.fullmatch(text)
    return text if found is None else _day(*found.groups()[2:])


def _day(month: str, day: str) -> str:
    return f"{int(day)} {MONTH_NAMES[int(month) - 1]}"
