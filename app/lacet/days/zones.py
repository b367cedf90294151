"""Clocks: which zone a place keeps, and which moments a day there really has.

The rule of this module: zone data comes from the `tzdata` package alone. Python's `zoneinfo` prefers the
operating system's copy, which can be older, so that the same trip would get other times on another machine.
"""

from __future__ import annotations

import re
import struct
from datetime import UTC, date, datetime, time, timedelta
from functools import lru_cache
from importlib.resources import files
from io import BytesIO
from zoneinfo import ZoneInfo

import tzdata

from lacet.trip.errors import LacetError

# IEEE Std 1003.1, "Environment Variables", TZ: std offset [dst [offset], start [/time], end [/time]].
# The standard lets both rule and summer name be left out; a summer name without its rule means whatever
# the machine chooses, so that form is refused.
_NAME = r"(?:[A-Za-z]{3,}|<[A-Za-z0-9+-]{3,}>)"
_OFFSET = r"[+-]?\d{1,2}(?::[0-5]\d(?::[0-5]\d)?)?"
_RULE = r"(?:M(?:1[0-2]|[1-9])\.[1-5]\.[0-6]|J\d{1,3}|\d{1,3})(?:/[+-]?\d{1,3}(?::[0-5]\d(?::[0-5]\d)?)?)?"
_POSIX = re.compile(f"{_NAME}({_OFFSET})(?:{_NAME}({_OFFSET})?,{_RULE},{_RULE})?")
_HIGHEST_OFFSET_H = 24


class ZoneRefused(LacetError):
    """A zone that is neither a name in the zone data nor a rule that can be read."""

    def __init__(self, name: str) -> None:
        self.name = name
        super().__init__(
            "The time zone '{name}' is not known: give a name of the IANA time zone database such "
            "as Europe/Vienna, or a rule in POSIX form such as VRT1VRST,M3.5.0/0,M10.5.0/1.",
            name=name,
        )


@lru_cache(maxsize=256)
def zone(name: str) -> ZoneInfo:
    """Return the clock rules of a zone.

    Parameters
    ----------
    name
        A name of the IANA time zone database ('Europe/Vienna') or a rule in POSIX TZ form for places that
        state their own ('VRT1VRST,M3.5.0/0,M10.5.0/1', where offsets count west of Greenwich as the standard
        has it).

    Raises
    ------
    ZoneRefused
        If the name is unknown or the rule can't be read.

    References
    ----------
    IANA time zone database as packaged in `tzdata`; RFC 8536 (TZif); IEEE Std 1003.1 (TZ).
    """
    if name in zone_names():
        data = files("tzdata").joinpath("zoneinfo", *name.split("/")).read_bytes()
        return ZoneInfo.from_file(BytesIO(data), key=name)
    return _posix_zone(name)


def zone_data_version() -> str:
    """Return the release of the IANA zone data in use, such as '2026f', for digests and notes."""
    return str(tzdata.IANA_VERSION)


def local(day: date, clock: time, zone_name: str) -> datetime:
    """Return the moment at which the clocks of a zone show a time on a day.

    A clock time that is skipped when clocks go forward becomes the moment as many minutes after the change as
    it lies after the skipped hour's begin (02:30 becomes 03:30): never a time that no clock shows. A clock
    time that comes twice when clocks go back is the first of the two, still summer time.
    """
    naive = datetime.combine(day, clock.replace(tzinfo=None, fold=0))
    aware = naive.replace(tzinfo=zone(zone_name))
    # A time in the gap doesn't survive the way to UTC and back; the way back lands behind the gap.
    return aware.astimezone(UTC).astimezone(aware.tzinfo)


def clock_status(day: date, clock: time, zone_name: str) -> int:
    """Return how often the clocks of a zone show a time on a day: 0 (skipped), 1 or 2 (set back)."""
    rules = zone(zone_name)
    moments = [datetime.combine(day, clock.replace(fold=fold), tzinfo=rules) for fold in (0, 1)]
    first, second = (moment.astimezone(UTC) for moment in moments)
    if first == second:
        return 1
    # In a gap the standard library reads fold=0 with the offset before the change, which is the later moment.
    return 2 if first < second else 0


def clock_changes(year: int, zone_name: str) -> tuple[date, ...]:
    """Return the days of a year on which the clocks of a zone are changed, in order."""
    first = date(year, 1, 1)
    days = (first + timedelta(days=number) for number in range((date(year + 1, 1, 1) - first).days))
    return tuple(day for day in days if day_length_h(day, zone_name) != 24)


def day_length_h(day: date, zone_name: str) -> float:
    """Return how long a day of the calendar lasts in a zone [h]: 24, or 23 and 25 when clocks change."""
    return elapsed_h(local(day, time(), zone_name), local(day + timedelta(days=1), time(), zone_name))


def elapsed_h(start: datetime, end: datetime) -> float:
    """Return the hours that really pass between two aware moments [h], clock changes counted.

    Subtracting two datetimes of one zone subtracts what the clocks show, which is an hour off across a
    change.
    """
    return (end.astimezone(UTC) - start.astimezone(UTC)).total_seconds() / 3600


@lru_cache(maxsize=1)
def zone_names() -> frozenset[str]:
    """Every name of the zone database."""
    # The package's own list: a file system that ignores case would find 'europe/vienna' on one machine only.
    return frozenset(files("tzdata").joinpath("zones").read_text(encoding="utf-8").split())


def _posix_zone(rule: str) -> ZoneInfo:
    """Wrap a POSIX rule into an otherwise empty TZif file, which `zoneinfo` reads (RFC 8536, section 3)."""
    match = _POSIX.fullmatch(rule)
    if match is None:
        raise ZoneRefused(rule)
    if any(offset and abs(_offset_s(offset)) > _HIGHEST_OFFSET_H * 3600 for offset in match.groups()):
        raise ZoneRefused(rule)
    abbreviation = b"LMT\0"
    header = struct.pack(">4sc15x6l", b"TZif", b"2", 0, 0, 0, 0, 1, len(abbreviation))
    block = struct.pack(">lBB", -_offset_s(match[1]), 0, 0) + abbreviation
    data = (header + block) * 2 + f"\n{rule}\n".encode()
    try:
        return ZoneInfo.from_file(BytesIO(data), key=rule)
    except ValueError:
        raise ZoneRefused(rule) from None


def _offset_s(text: str) -> int:
    sign = -1 if text.startswith("-") else 1
    hours, minutes, seconds = (*(int(part) for part in text.lstrip("+-").split(":")), 0, 0)[:3]
    return sign * (hours * 3600 + minutes * 60 + seconds)
