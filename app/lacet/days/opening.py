"""Questions to opening hours: open at a moment, when on a day, how long still.

The rule of this module: a state is True (open), False (closed) or None (unknown), and None is an answer of
its own; never test it with `not`. Times are what the clocks at the place show.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from lacet.days.holidays import NO_HOLIDAYS, Holidays
from lacet.days.hours import DAY_MINUTES, Opening, OpeningRefused, opening, pieces, runs
from lacet.days.opening_words import sentence, times_of
from lacet.days.zones import zone

__all__ = [
    "DayHours",
    "Opening",
    "OpeningRefused",
    "intervals",
    "next_change",
    "next_two_weeks",
    "open_overlaps",
    "open_throughout",
    "opening",
    "sentence",
    "state",
]

State = bool | None
Interval = tuple[datetime, datetime, State]

_ONE_DAY = timedelta(days=1)
_TWO_WEEKS_DAYS = 14


@dataclass(frozen=True, slots=True)
class DayHours:
    """One day's hours for showing: when open or perhaps open, which holiday, and a plain phrase."""

    day: date
    intervals: tuple[Interval, ...]
    holiday: str | None
    says: str


def state(hours: Opening, moment: datetime, holidays: Holidays = NO_HOLIDAYS) -> State:
    """Return whether a place is open at a moment, None if that isn't known.

    Parameters
    ----------
    moment
        Local time of the place; a moment with a zone is first taken to the opening's own zone if it has one.
    """
    at = _clock_at(hours, moment)
    minute = at.hour * 60 + at.minute
    return next(piece.state for piece in pieces(hours, at.date(), holidays) if minute < piece.end)


def intervals(hours: Opening, day: date, holidays: Holidays = NO_HOLIDAYS) -> tuple[Interval, ...]:
    """Return what a day comes to: intervals (start, end, state) from midnight on, without a gap.

    The day's last interval, unless closed, runs on past midnight to its true end on the next day; one that
    lasts all of the next day too ends at midnight. Local times without a zone.
    """
    midnight = datetime.combine(day, time())
    found = runs(hours, day, holidays)
    return tuple((midnight + _minutes(begin), midnight + _minutes(end), state) for begin, end, state in found)


def open_overlaps(
    hours: Opening, day: date, start: time, end: time, holidays: Holidays = NO_HOLIDAYS
) -> State:
    """Return whether a place is open at any time from `start` to `end` on a day.

    An end before the start is on the next day; an end at the start asks for that one moment. None if it may
    be open.
    """
    states = {state for _, _, state in _between(hours, day, start, end, holidays)}
    return True if True in states else None if None in states else False


def open_throughout(
    hours: Opening, day: date, start: time, end: time, holidays: Holidays = NO_HOLIDAYS
) -> State:
    """Return whether a place is open all the time from `start` to `end`; ends as in `open_overlaps`."""
    states = {state for _, _, state in _between(hours, day, start, end, holidays)}
    return False if False in states else None if None in states else True


def next_change(
    hours: Opening, moment: datetime, holidays: Holidays = NO_HOLIDAYS, most_days: int = 400
) -> datetime | None:
    """Return when the state next changes, in local time without a zone; None if it stays for `most_days`."""
    at = _clock_at(hours, moment).replace(tzinfo=None)
    now = state(hours, at, holidays)
    for number in range(most_days + 1):
        day = at.date() + number * _ONE_DAY
        midnight = datetime.combine(day, time())
        for piece in pieces(hours, day, holidays):
            begin = midnight + _minutes(piece.start)
            if begin > at and piece.state is not now:
                return begin
    return None


def next_two_weeks(hours: Opening, from_day: date, holidays: Holidays = NO_HOLIDAYS) -> tuple[DayHours, ...]:
    """Return the hours of 14 days from a day on, for showing beside the text that a person typed."""
    days = (from_day + number * _ONE_DAY for number in range(_TWO_WEEKS_DAYS))
    return tuple(_day_hours(hours, day, holidays) for day in days)


def _day_hours(hours: Opening, day: date, holidays: Holidays) -> DayHours:
    found = intervals(hours, day, holidays)
    shown = tuple(interval for interval in found if interval[2] is not False)
    return DayHours(day, shown, holidays.name_on(day), times_of(hours, day, holidays) or "closed")


def _between(
    hours: Opening, day: date, start: time, end: time, holidays: Holidays
) -> Iterator[tuple[int, int, State]]:
    begin, stop = (clock.hour * 60 + clock.minute for clock in (start, end))
    if stop < begin:
        stop += DAY_MINUTES
    stop = max(stop, begin + 1)
    for number in (0, 1):
        shift = number * DAY_MINUTES
        for first, last, state in pieces(hours, day + number * _ONE_DAY, holidays):
            if first + shift < stop and last + shift > begin:
                yield first + shift, last + shift, state


def _clock_at(hours: Opening, moment: datetime) -> datetime:
    return moment.astimezone(zone(hours.zone)) if moment.tzinfo and hours.zone else moment


def _minutes(number: int) -> timedelta:
    return timedelta(minutes=number)
