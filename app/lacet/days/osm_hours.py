"""What is done to an OSM opening_hours text before the evaluator sees it.

The rule of this module: text in, text out, and never inside quotes. The evaluator knows no list of holidays
of ours, no zone that a library states itself, no open ends and no fallback by the hour, so these are written
out for one day.

Public holidays: `PH` becomes the weekdays of those days, among the few looked at, that are holidays. Days
looked at lie less than a week apart, so that a weekday names exactly one of them and the text means the same
as with a list of dates; where none is a holiday, `PH` stays and matches nothing, because the evaluator is
never given a country.

References
----------
OpenStreetMap wiki, Key:opening_hours/specification, version 0.7.2 (grammar).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from datetime import date, timedelta
from typing import Literal

from lacet.days.holidays import WEEKDAYS

OpenEnd = Literal["shortest", "longest"]

_QUOTED = re.compile(r'("[^"]*")')
_WEEKDAY = rf"(?:{'|'.join(WEEKDAYS)})"
_WEEKDAY_RANGE = rf"{_WEEKDAY}(?:-{_WEEKDAY})?"
_SPACED_WEEKDAYS = rf"(?P<weekdays>\s+{_WEEKDAY_RANGE}(?:,{_WEEKDAY_RANGE})*(?!\[))?"
_OFFSET = r"(?:\s*(?P<offset>[+-]\s*\d+)\s+days?)?"
_PUBLIC_HOLIDAY = re.compile(rf"\bPH\b{_OFFSET}{_SPACED_WEEKDAYS}")
_SCHOOL_HOLIDAY = re.compile(rf"\bSH\b{_SPACED_WEEKDAYS}")
_SUN_EVENT = re.compile(
    r"\(\s*(?P<name>dawn|sunrise|sunset|dusk)\s*(?P<sign>[+-])\s*(?P<hours>\d{1,2}):(?P<minutes>\d{2})\s*\)"
    r"|\b(?P<alone>dawn|sunrise|sunset|dusk)\b"
)
_CLOCK = r"\d{1,2}:\d{2}"
_TIME = rf"(?:{_CLOCK}|\([^()]*\)|dawn|sunrise|sunset|dusk)"
_SPAN = rf"(?:{_TIME})(?:\s*-\s*(?:{_TIME}))?\+?"
_SPANS = re.compile(rf"(?<![\w:(-])(?P<spans>{_SPAN}(?:\s*,\s*{_SPAN})*)(?P<modifier>\s+(?:open|unknown)\b)?")
_START_AND_END = re.compile(rf"(?P<start>{_TIME})\s*-\s*(?P<end>{_TIME})(?P<open_end>\+?)")
_OPEN_END = re.compile(rf"(?P<start>{_CLOCK})(?:\s*-\s*(?P<end>{_CLOCK}))?\+")
_CLOCK_SPAN = re.compile(rf"({_CLOCK})\s*-\s*({_CLOCK})")
_LOOSE_HOLIDAY = re.compile(rf"({_WEEKDAY}|\])\s+(?=(?:PH|SH)\b)")
_COMMENT_RULE = re.compile(r'(^|\|\||[;,])(\s*)("[^"]*")(\s*)(?=$|\|\||[;,])')
_FALLBACK = re.compile(r"\s*\|\|\s*")
_LAST_MINUTE = 24 * 60 - 1
_NOON = 12 * 60
_CLOSED = re.compile(r"\b(?:off|closed)\b")


def mentions_public_holidays(text: str) -> bool:
    """Return whether a rule speaks of public holidays."""
    return _found(_PUBLIC_HOLIDAY, text)


def mentions_school_holidays(text: str) -> bool:
    """Return whether a rule speaks of school holidays."""
    return _found(_SCHOOL_HOLIDAY, text)


def mentions_sun(text: str) -> bool:
    """Return whether a time hangs on the sun."""
    return _found(_SUN_EVENT, text)


def has_open_end(text: str) -> bool:
    """Return whether a time has no stated end ('18:00+')."""
    return _found(_OPEN_END, text)


def cuts_late_hours(text: str) -> bool:
    """Return whether one of several ';' rules has hours past midnight.

    The specification lets a ';' rule replace the whole calendar day, the hours after midnight of the evening
    before included, which few who write 'Fr-Sa 18:00-02:00; Su off' mean.
    """
    spans = _CLOCK_SPAN.findall(_QUOTED.sub('""', text))
    return len(rules(text)) > 1 and any(_minutes(end) <= _minutes(start) for start, end in spans)


def comments(text: str) -> tuple[str, ...]:
    """Return what stands in quotes, in order."""
    return tuple(quoted.strip('"') for quoted in _QUOTED.findall(text) if quoted.strip('"'))


def fallback_parts(text: str) -> tuple[str, ...]:
    """Split at '||': each part counts only where those before it say nothing."""
    parts = [""]
    for number, piece in enumerate(_QUOTED.split(text)):
        first, *more = [piece] if number % 2 else _FALLBACK.split(piece)
        parts[-1] += first
        parts.extend(more)
    return tuple(part.strip() for part in parts)


def rules(text: str) -> tuple[str, ...]:
    """Split at ';' into rules, of which a later one replaces earlier ones for its days."""
    blank = _QUOTED.sub(lambda quoted: "x" * len(quoted[0]), text)
    ends = [match.start() for match in re.finditer(";", blank)]
    return tuple(
        text[begin:end].strip()
        for begin, end in zip([0, *(at + 1 for at in ends)], [*ends, None], strict=True)
    )


def spelled_out(text: str) -> str:
    """Say in full what the evaluator takes otherwise than meant.

    A rule that is only a comment is unknown, not open, as the specification has it; 'Su PH' is a list; a
    comment stands apart from what it follows.
    """
    pieces = _QUOTED.split(_COMMENT_RULE.sub(r"\1\2unknown \3\4", text))
    for number in range(0, len(pieces) - 1, 2):
        if pieces[number][-1:].isalnum():
            pieces[number] += " "
    return _outside_quotes("".join(pieces), lambda piece: _LOOSE_HOLIDAY.sub(r"\1,", piece))


def with_public_holidays(text: str, days: Iterable[date], is_holiday: Callable[[date], bool]) -> str:
    """Write `PH` out for some days that lie less than a week apart.

    'PH' becomes the weekdays of the holidays, 'PH Mo-Fr' (holidays that fall on these weekdays) those among
    them, and 'PH +1 day' the weekdays of the days after holidays.
    """
    known = tuple(days)

    def weekdays(match: re.Match[str]) -> str:
        offset = timedelta(days=int((match["offset"] or "0").replace(" ", "")))
        matched = {day.weekday() for day in known if is_holiday(day - offset)}
        return _weekday_list(matched & _weekdays_of(match["weekdays"])) or "PH"

    return _outside_quotes(text, lambda piece: _PUBLIC_HOLIDAY.sub(weekdays, piece))


def with_school_holidays(text: str, every_day: bool) -> str:
    """Write `SH` out as if it were school holidays every day, or never."""

    def weekdays(match: re.Match[str]) -> str:
        return _weekday_list(_weekdays_of(match["weekdays"])) if every_day else "SH"

    return _outside_quotes(text, lambda piece: _SCHOOL_HOLIDAY.sub(weekdays, piece))


def with_sun_minutes(text: str, minutes: Mapping[str, int]) -> str:
    """Write dawn, sunrise, sunset and dusk out as clock times (minutes after midnight).

    A span that the sun leaves no room for ('17:00-sunset' in December) is taken out: the evaluator would read
    it as running to the next day. Only a span from after noon to before noon does run past midnight.
    """

    def value(match: re.Match[str]) -> int:
        minute = minutes[match["alone"] or match["name"]]
        if match["name"]:
            shift = int(match["hours"]) * 60 + int(match["minutes"])
            minute += shift if match["sign"] == "+" else -shift
        return min(max(minute, 0), _LAST_MINUTE)

    def clocks(times: str) -> str:
        return _SUN_EVENT.sub(lambda match: _clock(value(match)), times)

    def with_room(span: str) -> bool:
        match = _START_AND_END.fullmatch(span)
        if match is None or not _SUN_EVENT.search(span):
            return True
        start, end = (_minutes(clocks(match[side])) for side in ("start", "end"))
        return start < end or end < _NOON <= start

    def spans(match: re.Match[str]) -> str:
        left = [clocks(span) for span in re.split(r"\s*,\s*", match["spans"]) if with_room(span)]
        return f"{','.join(left)}{match['modifier'] or ''}" if left else "off"

    return _outside_quotes(text, lambda piece: _SPANS.sub(spans, piece))


def with_open_ends(text: str, end: OpenEnd) -> str:
    """Give times without a stated end the shortest or the longest end they can mean.

    The shortest is the stated part ('18:00-22:00+' until 22:00; one minute for '18:00+', which does open);
    the longest is midnight, or six in the morning for a stated part that runs past midnight.
    """

    def ended(match: re.Match[str]) -> str:
        start = _minutes(match["start"])
        stated = _minutes(match["end"]) if match["end"] else start + 1
        if end == "shortest":
            return f"{_clock(start)}-{_clock(stated)}"
        return f"{_clock(start)}-{'24:00' if stated > start else '30:00'}"

    return _outside_quotes(text, lambda piece: _OPEN_END.sub(ended, piece))


def closed_as_unknown(text: str) -> str:
    """Make closing rules unknown ones, which shows when a day is closed by a rule and not for want of one."""
    return _outside_quotes(text, lambda piece: _CLOSED.sub("unknown", piece))


def _outside_quotes(text: str, change: Callable[[str], str]) -> str:
    pieces = _QUOTED.split(text)
    return "".join(piece if number % 2 else change(piece) for number, piece in enumerate(pieces))


def _found(pattern: re.Pattern[str], text: str) -> bool:
    return pattern.search(_QUOTED.sub('""', text)) is not None


def _weekdays_of(text: str | None) -> set[int]:
    if not text:
        return set(range(7))
    found: set[int] = set()
    for item in text.strip().split(","):
        first, _, last = item.partition("-")
        begin, end = WEEKDAYS.index(first), WEEKDAYS.index(last or first)
        found.update((begin + step) % 7 for step in range((end - begin) % 7 + 1))
    return found


def _weekday_list(weekdays: Iterable[int]) -> str:
    return ",".join(WEEKDAYS[weekday] for weekday in sorted(weekdays))


def _minutes(clock: str) -> int:
    hours, _, minutes = clock.partition(":")
    return int(hours) * 60 + int(minutes)


def _clock(minutes: int) -> str:
    return f"{minutes // 60:02}:{minutes % 60:02}"
