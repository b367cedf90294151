"""Public holidays: a library's own list, the published ones of a country or region, or both.

The rule of this module: a holiday list is a value. Names are English, as the office reads them. The package
`holidays` takes longer to import than the first picture of the window may take, so it is imported when asked.
"""

from __future__ import annotations

import calendar
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache
from importlib.metadata import version
from types import MappingProxyType
from typing import NamedTuple

from lacet.trip.errors import LacetError
from lacet.trip.region import Region

WEEKDAYS = ("Mo", "Tu", "We", "Th", "Fr", "Sa", "Su")

_RULE = re.compile(
    r"""(?:(?P<year>\d{4})-)?(?P<month>\d{2})-(?P<day>\d{2})
    | easter(?:\s*(?P<shift>[+-]\s*\d{1,2})(?!\d))?
    | (?P<nth_month>\d{2})\s+(?P<weekday>Mo|Tu|We|Th|Fr|Sa|Su)\[(?P<nth>-1|[1-5])\]""",
    re.VERBOSE,
)


class HolidaysRefused(LacetError):
    """A holiday list that can't be read or isn't known."""


class Rule(NamedTuple):
    """One line of a library's own list: when ('MM-DD', 'easter+1', '05 Mo[1]', 'YYYY-MM-DD') and its name."""

    when: str
    name: str


@dataclass(frozen=True, slots=True)
class Holidays:
    """The public holidays of a place, good for any year.

    Own rules come after the published ones and win: they rename a day, and a rule without a name strikes the
    day out (published lists hold days on which nobody closes). `unset`: nobody has said which days are
    holidays, so any may be one. Made by `holidays_for`.
    """

    own: tuple[Rule, ...] = ()
    country: str = ""
    subdivision: str = ""
    unset: bool = False

    def name_on(self, day: date) -> str | None:
        """Return the name of the holiday on a day, or None on any other day."""
        return _names(self, day.year).get(day)

    def in_year(self, year: int) -> Mapping[date, str]:
        """Return the holidays of a year, in order."""
        return _names(self, year)

    @property
    def data_version(self) -> str:
        """What the dates rest on besides the own list, for digests; empty when the own list is all."""
        return f"holidays {version('holidays')} {self.country}-{self.subdivision}" if self.country else ""


NO_HOLIDAYS = Holidays()
HOLIDAYS_UNSET = Holidays(unset=True)


@lru_cache(maxsize=64)
def _checked(own: tuple[Rule, ...], country: str, subdivision: str) -> Holidays:
    for rule in own:
        _check(rule)
    if country:
        _published(country, subdivision, 2000)
    elif subdivision:
        raise HolidaysRefused(
            "The region '{subdivision}' has no country: give its two-letter code too.",
            subdivision=subdivision,
        )
    return Holidays(own, country, subdivision)


def holidays_for(
    own: Mapping[str, str] | Iterable[tuple[str, str]] = (), country: str = "", subdivision: str = ""
) -> Holidays:
    """Return the holidays of a place.

    Parameters
    ----------
    own
        The library's own list: when to name. 'MM-DD' comes every year, 'YYYY-MM-DD' once, 'easter',
        'easter+1' and 'easter-2' move with Easter, '05 Mo[1]' is the first and '05 Mo[-1]' the last Monday in
        May. An empty name strikes out a published day.
    country
        Two-letter code (ISO 3166-1) for the published list, or nothing.
    subdivision
        Code of the region (ISO 3166-2, its second part), or nothing.

    Raises
    ------
    HolidaysRefused
        If a rule can't be read, or the country or region isn't known.
    """
    pairs = own.items() if isinstance(own, Mapping) else own
    rules = tuple(Rule(when.strip(), name.strip()) for when, name in pairs)
    return _checked(rules, country.strip().upper(), subdivision.strip())


def holidays_of(region: Region) -> Holidays:
    """Return the holidays a library states: its own list, else its country's, else that nobody has said.

    Raises
    ------
    HolidaysRefused
        If a line can't be read, or the country or subdivision isn't known.
    """
    if region.holidays:
        return holidays_for(tuple(rule_of(line) for line in region.holidays))
    return holidays_for((), region.country, region.subdivision) if region.country else HOLIDAYS_UNSET


def rule_of(line: str) -> Rule:
    """Read one line of an own list, such as '05-01 Labour Day' or 'easter+1 Easter Monday'.

    Raises
    ------
    HolidaysRefused
        If the line doesn't begin with a day.
    """
    match = _RULE.match(line.strip())
    name = line.strip()[match.end() :] if match else ""
    if match is None or (name and not name[0].isspace()):
        raise _unreadable(line)
    return Rule(match[0], name.strip())


def easter(year: int) -> date:
    """Return Easter Sunday of the Gregorian calendar.

    References
    ----------
    Meeus, J. (1998), Astronomical Algorithms, 2nd ed., chapter 8 (any year from 1583).
    """
    golden = year % 19
    century, rest = divmod(year, 100)
    leap, leap_rest = divmod(century, 4)
    correction = (century - (century + 8) // 25 + 1) // 3
    epact = (19 * golden + century - leap - correction + 15) % 30
    rest_leap, rest_rest = divmod(rest, 4)
    to_sunday = (32 + 2 * leap_rest + 2 * rest_leap - epact - rest_rest) % 7
    late = (golden + 11 * epact + 22 * to_sunday) // 451
    month, day = divmod(epact + to_sunday - 7 * late + 114, 31)
    return date(year, month, day + 1)


def nth_weekday(year: int, month: int, weekday: int, nth: int) -> date | None:
    """Return the nth (or, with -1, the last) weekday of a month, None if the month has no fifth one.

    Parameters
    ----------
    weekday
        0 (Monday) to 6.
    nth
        1 to 5, or -1.
    """
    last = calendar.monthrange(year, month)[1]
    days = [day for day in range(1, last + 1) if date(year, month, day).weekday() == weekday]
    index = nth - 1 if nth > 0 else nth
    return date(year, month, days[index]) if index < len(days) else None


@lru_cache(maxsize=512)
def _names(holidays: Holidays, year: int) -> Mapping[date, str]:
    published = _published(holidays.country, holidays.subdivision, year) if holidays.country else {}
    names = dict(published)
    for rule in holidays.own:
        if (day := day_of_rule(rule.when, year)) is not None:
            names[day] = rule.name
    return MappingProxyType({day: names[day] for day in sorted(names) if names[day]})


@lru_cache(maxsize=512)
def _published(country: str, subdivision: str, year: int) -> Mapping[date, str]:
    from holidays import country_holidays, list_supported_countries

    known = list_supported_countries(include_aliases=False)
    if country not in known:
        raise HolidaysRefused(
            "Public holidays of the country '{country}' are not known: give a two-letter code "
            "such as AT, or leave it empty and list the days yourself.",
            country=country,
        )
    if subdivision and subdivision not in known[country]:
        regions = ", ".join(known[country]) or "none"
        raise HolidaysRefused(
            "The region '{subdivision}' of {country} is not known: give one of {regions}, or leave it empty.",
            subdivision=subdivision,
            country=country,
            regions=regions,
        )
    days = country_holidays(country, subdiv=subdivision or None, years=year, language="en_US")
    return MappingProxyType({day: name for day, name in days.items() if day.year == year})


def _check(rule: Rule) -> None:
    match = _RULE.fullmatch(rule.when)
    # In a leap year, so that 29 February may be listed; it then comes in leap years alone.
    if not match or (day_of_rule(rule.when, int(match["year"] or 2000)) is None and match["nth"] != "5"):
        raise _unreadable(f"{rule.when} {rule.name}".strip())


def day_of_rule(when: str, year: int) -> date | None:
    """Return the day a rule names in a year, None if that year has none."""
    match = _RULE.fullmatch(when)
    if match is None:
        return None
    try:
        if match["month"]:
            return (
                date(year, int(match["month"]), int(match["day"]))
                if match["year"] in (None, f"{year:04}")
                else None
            )
        if match["nth"]:
            return nth_weekday(
                year, int(match["nth_month"]), WEEKDAYS.index(match["weekday"]), int(match["nth"])
            )
    except ValueError:
        return None
    return easter(year) + timedelta(days=int((match["shift"] or "0").replace(" ", "")))


def _unreadable(line: str) -> HolidaysRefused:
    return HolidaysRefused(
        "The holiday '{line}' can't be read: begin it with MM-DD, YYYY-MM-DD, easter+1, or 05 "
        "Mo[1] for the first Monday in May, then its name, such as '05-01 Labour Day'.",
        line=line,
    )
