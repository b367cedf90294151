"""Opening hours as a value, and what they come to on one day.

The rule of this module: the answer for a day is a tuple of pieces that cover it from midnight to midnight,
each open, closed or unknown. Whatever can't be known (school holidays, open ends, the sun at a place without
a position) is read in every way it may turn out; where the readings differ, the state is unknown.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from functools import lru_cache, partial
from itertools import product
from typing import NamedTuple

# The library's stub leaves its own exception out.
from opening_hours import OpeningHours, ParserError, State  # type: ignore[attr-defined]

from lacet.days import osm_hours
from lacet.days.holidays import Holidays
from lacet.days.sun import Sun, sun
from lacet.language import Text, to_say
from lacet.trip.errors import LacetError

DAY_MINUTES = 24 * 60
_ONE_DAY = timedelta(days=1)
_LONGEST_TEXT = 1000
_PLACE = re.compile(r"--> \d+:(\d+)")
_STATES: dict[State, bool | None] = {State.OPEN: True, State.CLOSED: False, State.UNKNOWN: None}
# What people paste from a word processor, and what the specification wants there.
_TYPOGRAPHY = str.maketrans(
    {"–": "-", "—": "-", "−": "-", "“": '"', "”": '"', "„": '"', "\u00a0": " ", "\n": " "}
)
# The earliest and the latest the sun rises and sets within 60 degrees of latitude, in minutes: for a place
# without a position, and for days on which the sun doesn't rise or set.
_SHORTEST_LIGHT = {"dawn": 9 * 60, "sunrise": 10 * 60, "sunset": 15 * 60, "dusk": 16 * 60}
_LONGEST_LIGHT = {"dawn": 1, "sunrise": 2 * 60, "sunset": 23 * 60, "dusk": 24 * 60 - 1}


class OpeningRefused(LacetError):
    """Opening hours that can't be read; `place` counts characters from 1."""

    def __init__(self, text: str, place: int, why: str | Text) -> None:
        self.text = text
        self.place = place
        super().__init__(
            "The opening hours '{text}' can't be read: {why}. Write them in the OpenStreetMap "
            "form, such as 'Tu-Su 11:30-14:00,18:00-22:00; PH off'.",
            text=_shortened(text),
            why=why,
        )


@dataclass(frozen=True, slots=True)
class Opening:
    """Opening hours that have been read; made by `opening`.

    `normal` is the text in the evaluator's plainest form; `notes` are sentences about what can't be known or
    isn't looked at. Position [degrees] and zone serve sunrise and sunset, and moments given with a zone of
    their own.
    """

    text: str
    normal: str
    notes: tuple[str, ...] = ()
    latitude_deg: float | None = None
    longitude_deg: float | None = None
    zone: str = ""


class Piece(NamedTuple):
    """A stretch of one day [minutes after midnight] with one state: True open, False closed, None unknown."""

    start: int
    end: int
    state: bool | None


Pieces = tuple[Piece, ...]


@lru_cache(maxsize=4096)
def opening(
    text: str, latitude_deg: float | None = None, longitude_deg: float | None = None, zone: str = ""
) -> Opening:
    """Read opening hours in the OSM opening_hours syntax.

    Parameters
    ----------
    text
        Such as 'Apr-Oct: Tu-Su 11:30-14:00,18:00-22:00; PH off'.
    latitude_deg, longitude_deg, zone
        Where, for hours that hang on the sun; without them such hours are unknown where it matters.

    Raises
    ------
    OpeningRefused
        If the text can't be read; the sentence names the place in it.
    """
    plain = text.translate(_TYPOGRAPHY).strip().rstrip(";").rstrip()
    if not plain:
        raise OpeningRefused(text, 1, "nothing is written")
    if len(plain) > _LONGEST_TEXT:
        raise OpeningRefused(
            text,
            _LONGEST_TEXT + 1,
            to_say("it is longer than {longest_text} characters", longest_text=_LONGEST_TEXT),
        )
    parts = osm_hours.fallback_parts(plain)
    place = 0
    for part in parts:
        place = plain.index(part, place)
        _check(part, plain, place)
        place += len(part)
    spread = osm_hours.spelled_out(plain)
    normal = " || ".join(str(_evaluator(part).normalize()) for part in osm_hours.fallback_parts(spread))
    placed = latitude_deg is not None and longitude_deg is not None and bool(zone)
    return Opening(plain, normal, tuple(_notes(plain, placed)), latitude_deg, longitude_deg, zone)


@lru_cache(maxsize=16384)
def pieces(hours: Opening, day: date, holidays: Holidays) -> Pieces:
    """Return what opening hours come to on a day: pieces from minute 0 to minute 1440 without a gap."""
    text = osm_hours.spelled_out(hours.text)
    if osm_hours.mentions_public_holidays(text):
        # Hours past midnight belong to the day before, with its own holiday.
        both = (day - _ONE_DAY, day)
        chosen = [osm_hours.with_public_holidays(text, both, is_holiday) for is_holiday in _ways_of(holidays)]
    else:
        chosen = [text]
    readings = [_pieces_of(reading, day) for each in chosen for reading in _readings(each, hours, day)]
    return _together(readings, lambda states: states[0] if len(set(states)) == 1 else None)


def _ways_of(holidays: Holidays) -> tuple[Callable[[date], bool], ...]:
    """How to tell a holiday; while nobody has said which days are holidays, every day and none."""
    if holidays.unset:
        return (lambda _: True, lambda _: False)
    return (lambda day: holidays.name_on(day) is not None,)


def runs(hours: Opening, day: date, holidays: Holidays) -> Pieces:
    """Return the pieces of a day, the last of them (unless closed) running on to its end on the next day.

    One that lasts all of the next day too ends at midnight, and so do hours that never end.
    """
    today = pieces(hours, day, holidays)
    last = today[-1]
    if last.state is False:
        return today
    following = pieces(hours, day + _ONE_DAY, holidays)[0]
    if following.state is not last.state or following.end == DAY_MINUTES:
        return today
    return (*today[:-1], last._replace(end=DAY_MINUTES + following.end))


def _readings(text: str, hours: Opening, day: date) -> Iterable[str]:
    """Return every way a text may turn out on a day."""
    ways: list[list[Callable[[str], str]]] = []
    if osm_hours.mentions_sun(text):
        lights = _lights(hours, day)
        ways.append([partial(osm_hours.with_sun_minutes, minutes=light) for light in lights])
    if osm_hours.mentions_school_holidays(text):
        ways.append([partial(osm_hours.with_school_holidays, every_day=each) for each in (False, True)])
    if osm_hours.has_open_end(text):
        ends: tuple[osm_hours.OpenEnd, ...] = ("shortest", "longest")
        ways.append([partial(osm_hours.with_open_ends, end=end) for end in ends])
    for changes in product(*ways):
        reading = text
        for change in changes:
            reading = change(reading)
        yield reading


def _lights(hours: Opening, day: date) -> Sequence[dict[str, int]]:
    if hours.latitude_deg is not None and hours.longitude_deg is not None and hours.zone:
        light = sun(hours.latitude_deg, hours.longitude_deg, day, hours.zone)
        events = {name: minute for name, minute in _minutes_of(light, day).items() if minute is not None}
        if len(events) == len(_SHORTEST_LIGHT):
            return (events,)
    return _SHORTEST_LIGHT, _LONGEST_LIGHT


def _minutes_of(light: Sun, day: date) -> dict[str, int | None]:
    midnight = datetime.combine(day, time())
    events = {
        "dawn": light.civil_dawn,
        "sunrise": light.sunrise,
        "sunset": light.sunset,
        "dusk": light.civil_dusk,
    }
    return {
        name: _minutes_after(midnight, at.replace(tzinfo=None)) if at else None for name, at in events.items()
    }


def _minutes_after(midnight: datetime, moment: datetime) -> int:
    return round((moment - midnight).total_seconds() / 60)


def _pieces_of(text: str, day: date) -> Pieces:
    """Evaluate a text without unknowns, fallback rules hour by hour.

    The evaluator takes a fallback for whole days only; the specification lets it count wherever nothing else
    does. A rule that closes does say something, so a fallback doesn't lift it.
    """
    *first, last = osm_hours.fallback_parts(text)
    found = _evaluated(last, day)
    for part in reversed(first):
        said = _evaluated(osm_hours.closed_as_unknown(part), day)
        found = _together(
            (_evaluated(part, day), said, found),
            lambda states: states[2] if states[0] is False and states[1] is False else states[0],
        )
    return found


def _evaluated(text: str, day: date) -> Pieces:
    start = datetime.combine(day, time())
    try:
        found = list(_evaluator(text).intervals(start, start + _ONE_DAY))
    except ParserError:
        # The text as typed was read; if it can't be read written out, nobody knows what it means.
        return (Piece(0, DAY_MINUTES, None),)
    return tuple(
        Piece(_minutes_after(start, begin), _minutes_after(start, end), _STATES[state])
        for begin, end, state, _ in found
    )


def _together(readings: Sequence[Pieces], choose: Callable[[list[bool | None]], bool | None]) -> Pieces:
    """Cut several readings of a day at all their changes, choose each state, and join equal neighbours."""
    cuts = sorted({piece.end for reading in readings for piece in reading})
    joined: list[Piece] = []
    start = 0
    places = [0] * len(readings)
    for end in cuts:
        for number, reading in enumerate(readings):
            while reading[places[number]].end <= start:
                places[number] += 1
        state = choose([reading[place].state for reading, place in zip(readings, places, strict=True)])
        if joined and joined[-1].state is state:
            joined[-1] = Piece(joined[-1].start, end, state)
        else:
            joined.append(Piece(start, end, state))
        start = end
    return tuple(joined)


@lru_cache(maxsize=8192)
def _evaluator(text: str) -> OpeningHours:
    # Never a country: it would bring national holiday lists, several of which are not those people go by.
    return OpeningHours(text, auto_country=False, auto_timezone=False)


def _check(part: str, text: str, offset: int) -> None:
    if not part:
        raise OpeningRefused(text, offset + 1, "a part beside '||' is empty")
    try:
        _evaluator(part)
    except ParserError as error:
        found = _PLACE.search(str(error))
        place = offset + (int(found[1]) if found else 1)
        rest = text[place - 1 :]
        why = (
            f"'{_shortened(rest)}' from character {place} on is not understood"
            if rest
            else "the end is missing"
        )
        raise OpeningRefused(text, place, why) from None


def _notes(text: str, placed: bool) -> Iterable[str]:
    if osm_hours.mentions_school_holidays(text):
        yield "School holidays are not known; where the hours depend on them they are unknown."
    if osm_hours.has_open_end(text):
        yield "A closing time is not stated; from then on the hours are unknown."
    if osm_hours.mentions_sun(text) and not placed:
        yield "The hours depend on the sun, but the place has no position: unknown near sunrise and sunset."
    if osm_hours.cuts_late_hours(text):
        yield "Hours past midnight end where a ';' rule holds the next day; join rules with ',' to keep them."
    for comment in osm_hours.comments(text):
        yield f"The house says: {comment}."


def _shortened(text: str) -> str:
    return text if len(text) <= 80 else f"{text[:79]}…"
