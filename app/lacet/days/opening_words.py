"""Opening hours as a plain English sentence.

The rule of this module: the sentence is made from what the hours come to in a week, not from how they are
written, so that it can't say something else than the checks find. Where a week (or a week a season) doesn't
tell all, the text itself is given in its plainest form instead of a sentence that leaves something out.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, timedelta
from functools import lru_cache
from itertools import chain

from lacet.days import osm_hours
from lacet.days.calendar import MONTH_NAMES, WEEKDAY_NAMES
from lacet.days.holidays import NO_HOLIDAYS, Holidays, holidays_for
from lacet.days.hours import DAY_MINUTES, Opening, Piece, opening, runs

# Any Monday does: what is told here doesn't depend on the date.
_WEEK = tuple(date(2027, 6, 7) + timedelta(days=number) for number in range(7))
_YEAR = tuple(date(2027, 1, 1) + timedelta(days=number) for number in range(365))
_MONTHS = "|".join(name[:3] for name in MONTH_NAMES)
_SEASON_END = rf"(?:{_MONTHS})(?: \d{{1,2}})?"
_SEASON = re.compile(
    rf"(?P<first>{_SEASON_END})(?:-(?P<last>{_SEASON_END}|\d{{1,2}}))?(?:\s*:\s*|\s+|$)(?![-,]|\d+(?![\d:]))"
)
# Whatever makes one week differ from the next, other than a season at the head of a rule.
_BEYOND_A_WEEK = re.compile(rf"\b(?:{_MONTHS}|week|easter|\d{{4}})\b(?!:)|\[|\bdays?\b")
# Who closes at weekends is open Monday to Friday; who closes on other days is open daily but for these.
_WEEKEND = [5, 6]
_MOST_DAYS_OFF = 2


@lru_cache(maxsize=2048)
def sentence(hours: Opening) -> str:
    """Return opening hours in words, such as 'open daily 18:00 to 22:00, closed on Mondays'."""
    said = _in_words(hours) or f"open {hours.normal}"
    remarks = osm_hours.comments(hours.text) if "||" not in hours.text and '"' not in said else ()
    return f"{said} ({'; '.join(remarks)})" if remarks else said


def times_of(hours: Opening, day: date, holidays: Holidays = NO_HOLIDAYS) -> str:
    """Return the times of a day in words, such as '11:30 to 14:00 and 18:00 to 22:00'; nothing when closed.

    Hours that began the day before are told there.
    """
    told = [piece for piece in _own_runs(hours, day, holidays) if piece.state is not False]
    phrases: list[str] = []
    for number, piece in enumerate(told):
        before = told[number - 1] if number else None
        if before and before.state and piece.state is None and before.end == piece.start:
            alone = before.end - before.start == 1
            phrases[-1] = f"from {_clock(before.start)}" if alone else f"{phrases[-1]} or later"
        else:
            phrases.append(_span(piece))
    return _listed(phrases)


def _in_words(hours: Opening) -> str | None:
    text = hours.text
    first, *others = osm_hours.fallback_parts(text)
    if others:
        return _with_fallback(first, others)
    if osm_hours.mentions_sun(text) or osm_hours.mentions_school_holidays(text):
        return None
    rules = osm_hours.rules(text)
    heads = [_SEASON.match(rule) for rule in rules]
    if not any(heads):
        return None if _reaches_beyond_a_week(text) else _week_in_words(hours)
    return _seasons_in_words(rules, heads)


def _with_fallback(first: str, others: Sequence[str]) -> str | None:
    said = _in_words(opening(first))
    remark = osm_hours.comments(others[0])
    if said is None or len(others) > 1 or not re.fullmatch(r'(?:unknown)?\s*(?:"[^"]*")?', others[0]):
        return None
    return f"{said}, otherwise {remark[0] if remark else 'not known'}"


def _seasons_in_words(rules: Sequence[str], heads: Sequence[re.Match[str] | None]) -> str | None:
    """Return a clause for each season and one for the rest of the year, None if seasons overlap."""
    split = next(number for number, head in enumerate(heads) if head)
    everyday = list(rules[:split])
    groups: dict[str, list[str]] = {}
    for rule, head in zip(rules[split:], heads[split:], strict=True):
        if head is None:
            return None
        groups.setdefault(head[0], []).append(rule[head.end() :] or "open")
    if any(_reaches_beyond_a_week(rule) for rule in (*everyday, *chain(*groups.values()))):
        return None
    days = [_days_of(head) for head in groups]
    if sum(map(len, days)) > len(set().union(*days)):
        return None
    clauses = [
        f"{_season_in_words(head)} {_week_in_words(opening('; '.join((*everyday, *own))))}"
        for head, own in groups.items()
    ]
    if set(_YEAR) - set().union(*days):
        rest = _week_in_words(opening("; ".join(everyday))) if everyday else "closed"
        clauses = [rest, *clauses] if everyday else [*clauses, "otherwise closed"]
    return "; ".join(clauses)


def _week_in_words(hours: Opening) -> str:
    table = [times_of(hours, day) for day in _WEEK]
    if not osm_hours.mentions_public_holidays(hours.text):
        return _table_in_words(table)
    on_holidays = [times_of(hours, day, _only_holiday(day)) for day in _WEEK]
    if on_holidays == table:
        return _table_in_words(table)
    if len(set(on_holidays)) > 1:
        return f"{_table_in_words(table)}, other hours on some public holidays"
    if not on_holidays[0]:
        return _table_in_words(table, ["public holidays"])
    return f"{_table_in_words(table)}, on public holidays {on_holidays[0]}"


def _table_in_words(table: Sequence[str], also_closed: Sequence[str] = ()) -> str:
    """Return a week of seven phrases as one clause, days with the same hours together."""
    groups: dict[str, list[int]] = {}
    for weekday, times in enumerate(table):
        groups.setdefault(times, []).append(weekday)
    closed = groups.pop("", [])
    if not groups:
        return "closed"
    said = [f"{_days_in_words(weekdays)} {times}" for times, weekdays in groups.items()]
    if len(groups) == 1 and len(closed) <= _MOST_DAYS_OFF and closed != _WEEKEND:
        said = [f"daily {next(iter(groups))}"]
    days_off = [f"{WEEKDAY_NAMES[day]}s" for day in closed] if len(closed) <= _MOST_DAYS_OFF else []
    off = _listed([*days_off, *also_closed])
    return f"open {', '.join(said)}" + (f", closed on {off}" if off else "")


def _days_in_words(weekdays: Sequence[int]) -> str:
    if len(weekdays) > 2 and weekdays[-1] - weekdays[0] == len(weekdays) - 1:
        return f"{WEEKDAY_NAMES[weekdays[0]]} to {WEEKDAY_NAMES[weekdays[-1]]}"
    return _listed([f"{WEEKDAY_NAMES[weekday]}s" for weekday in weekdays])


def _season_in_words(head: str) -> str:
    match = _SEASON.match(head)
    assert match is not None
    first, last = match["first"], match["last"]
    if last and last.isdigit():
        last = f"{first[:3]} {last}"
    if last:
        return f"from {_end_in_words(first)} to {_end_in_words(last)}"
    return f"on {_end_in_words(first)}" if " " in first else f"in {_end_in_words(first)}"


def _end_in_words(end: str) -> str:
    month, _, day = end.partition(" ")
    name = next(name for name in MONTH_NAMES if name.startswith(month))
    return f"{int(day)} {name}" if day else name


def _days_of(head: str) -> set[date]:
    season = opening(head.strip().rstrip(":"))
    return {day for day in _YEAR if times_of(season, day)}


def _reaches_beyond_a_week(text: str) -> bool:
    return _BEYOND_A_WEEK.search(re.sub(r'"[^"]*"', '""', text)) is not None


def _only_holiday(day: date) -> Holidays:
    return holidays_for(((day.isoformat(), "holiday"),))


def _own_runs(hours: Opening, day: date, holidays: Holidays) -> tuple[Piece, ...]:
    found = runs(hours, day, holidays)
    yesterday = runs(hours, day - timedelta(days=1), holidays)[-1]
    return found[1:] if yesterday.end > DAY_MINUTES else found


def _span(piece: Piece) -> str:
    whole_day = piece.start == 0 and piece.end == DAY_MINUTES
    times = "day and night" if whole_day else f"{_clock(piece.start)} to {_clock(piece.end)}"
    return times if piece.state else f"perhaps {times}"


def _clock(minute: int) -> str:
    if minute == DAY_MINUTES:
        return "24:00"
    return f"{minute // 60 % 24:02}:{minute % 60:02}"


def _listed(words: Sequence[str]) -> str:
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"
