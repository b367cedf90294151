"""Seasons and closures: stretches of the calendar written as text in the library.

The rule of this module: a season is a set of days, both ends included, and a text that isn't clear is
refused. The forms are

* '11-01..03-15': every year, over New Year if it ends before it begins;
* '2027-04-10..2027-05-02': once;
* '12-24' or '2027-06-12': one day;
* 'Mo' or 'Mo,We-Fr': weekdays; '05 Mo[1]': the first Monday in May; 'easter-2', 'easter..easter+49': with
  Easter;
* '07-01..08-31 Mo': a stretch and weekdays, both must hold;
* several of them with ';' between, any of which may hold.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache

from lacet.days.holidays import WEEKDAYS, day_of_rule
from lacet.language import Text
from lacet.trip.errors import LacetError

_WEEKDAY = f"(?:{'|'.join(WEEKDAYS)})"
_WEEKDAY_LIST = re.compile(rf"{_WEEKDAY}(?:-{_WEEKDAY})?(?:,{_WEEKDAY}(?:-{_WEEKDAY})?)*")
_DATED = re.compile(r"\d{4}-")
_ALL_WEEK = frozenset(range(7))
_ONE_DAY = timedelta(days=1)


class SeasonRefused(LacetError):
    """A season text that can't be read."""

    def __init__(self, text: str, why: str | Text) -> None:
        self.text = text
        super().__init__(
            "The season '{text}' can't be read: {why}. Write it like 11-01..03-15 (every year), "
            "2027-04-10..2027-05-02 (once), Mo (weekdays) or 07-01..08-31 Mo (both).",
            text=text,
            why=why,
        )


@dataclass(frozen=True, slots=True)
class Stretch:
    """One part of a season: from a day to a day (rules of `holidays`; nothing: all year), on weekdays."""

    first: str
    last: str
    weekdays: frozenset[int] = _ALL_WEEK

    def covers(self, day: date) -> bool:
        """Return whether a day lies in this part."""
        if day.weekday() not in self.weekdays:
            return False
        return not self.first or any(begin <= day <= end for begin, end in self._runs(day.year))

    def _runs(self, year: int) -> Iterator[tuple[date, date]]:
        if _DATED.match(self.first):
            yield date.fromisoformat(self.first), date.fromisoformat(self.last)
            return
        # Over New Year a stretch that began last year may still run.
        for begins in (year - 1, year):
            begin, end = self._begin(begins), self._end(begins)
            if begin and end and end < begin:
                end = self._end(begins + 1)
            if begin and end:
                yield begin, end

    def _begin(self, year: int) -> date | None:
        return day_of_rule(self.first, year) or (date(year, 3, 1) if self._leap_day(self.first) else None)

    def _end(self, year: int) -> date | None:
        return day_of_rule(self.last, year) or (date(year, 2, 28) if self._leap_day(self.last) else None)

    def _leap_day(self, end: str) -> bool:
        # Who closes until 29 February closes until the end of February; the single day needs a leap year.
        return end == "02-29" and self.first != self.last


@dataclass(frozen=True, slots=True)
class Season:
    """A set of days, made by `season` from its text."""

    text: str
    stretches: tuple[Stretch, ...]

    def covers(self, day: date) -> bool:
        """Return whether a day lies in the season."""
        return any(stretch.covers(day) for stretch in self.stretches)

    def overlaps(self, first: date, last: date) -> bool:
        """Return whether any day from `first` to `last` (both included) lies in the season."""
        return next(self.days(first, last), None) is not None

    def days(self, first: date, last: date) -> Iterator[date]:
        """Return the days of the season from `first` to `last` (both included), in order."""
        for number in range((last - first).days + 1):
            day = first + number * _ONE_DAY
            if self.covers(day):
                yield day


@lru_cache(maxsize=4096)
def season(text: str) -> Season:
    """Read a season from its text.

    Raises
    ------
    SeasonRefused
        If the text isn't one of the forms of this module, names a day that doesn't exist, or ends before it
        begins.
    """
    parts = [part.strip() for part in text.split(";")]
    if not all(parts):
        raise SeasonRefused(text, "it is empty" if not text.strip() else "a part between ';' is empty")
    return Season(text, tuple(_stretch(part, text) for part in parts))


@lru_cache(maxsize=16384)
def covers(text: str, day: date) -> bool:
    """Return whether a season text covers a day; the form that hot paths ask."""
    return season(text).covers(day)


def _stretch(part: str, text: str) -> Stretch:
    period, weekdays = _split_weekdays(part, text)
    first, dots, last = (piece.strip() for piece in period.partition(".."))
    if not dots:
        last = first
    if period:
        _check(first, last, text)
    return Stretch(first, last, weekdays)


def _split_weekdays(part: str, text: str) -> tuple[str, frozenset[int]]:
    period, _, tail = part.rpartition(" ")
    if not _WEEKDAY_LIST.fullmatch(tail):
        return part, _ALL_WEEK
    days: set[int] = set()
    for item in tail.split(","):
        first, _, last = item.partition("-")
        begin, end = WEEKDAYS.index(first), WEEKDAYS.index(last or first)
        days.update((begin + step) % 7 for step in range((end - begin) % 7 + 1))
    return period.strip(), frozenset(days)


def _check(first: str, last: str, text: str) -> None:
    dated = [bool(_DATED.match(end)) for end in (first, last)]
    if dated[0] != dated[1]:
        raise SeasonRefused(text, "one end has a year and the other has none")
    for end in (first, last):
        # 2000 is a leap year, so that 02-29 is a day.
        if day_of_rule(end, int(end[:4]) if dated[0] else 2000) is None:
            raise SeasonRefused(text, f"'{end}' is no day" if end else "an end is missing")
    if dated[0] and last < first:
        raise SeasonRefused(text, "it ends before it begins")
