"""Days of a trip that may not have a date yet.

The rule of this module: an enquiry for 'some time in May' and a standard trip have no start date, so weekday,
season, sun and opening times of their days are unknown. Unknown is None, all the way through: a check that
gets None says that it can't tell, and never guesses.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from typing import TypeVar

from lacet.days.holidays import Holidays
from lacet.days.seasons import season
from lacet.days.sun import Sun, sun

Answer = TypeVar("Answer")

WEEKDAY_NAMES = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTH_NAMES = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)


def if_known(day: date | None, ask: Callable[[date], Answer]) -> Answer | None:
    """Return what `ask` answers for a day, or None if the day isn't known."""
    return None if day is None else ask(day)


def date_of(start: date | None, day_number: int) -> date | None:
    """Return the date of a day of the trip (0 is the first), None while the trip has no start date."""
    return if_known(start, lambda first: first + timedelta(days=day_number))


def weekday_name(day: date | None) -> str | None:
    """Return 'Monday' to 'Sunday', None if the day isn't known."""
    return if_known(day, lambda known: WEEKDAY_NAMES[known.weekday()])


def in_season(text: str, day: date | None) -> bool | None:
    """Return whether a season text covers a day, None if the day isn't known.

    Raises
    ------
    SeasonRefused
        If the text can't be read.
    """
    read = season(text)
    return if_known(day, read.covers)


def holiday_name(holidays: Holidays, day: date | None) -> str | None:
    """Return the public holiday on a day; None both without one and without a date."""
    return if_known(day, holidays.name_on)


def sun_on(latitude_deg: float, longitude_deg: float, day: date | None, zone: str) -> Sun | None:
    """Return the daylight of a day, None if the day isn't known."""
    return if_known(day, lambda known: sun(latitude_deg, longitude_deg, known, zone))
