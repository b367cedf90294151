"""What several checks share: findings about a group of a day, and small questions about legs and dates."""

from calendar import monthrange
from collections.abc import Callable, Iterator, Mapping
from datetime import date, time, timedelta
from functools import lru_cache, partial
from typing import Any

from lacet.checks.case import DayCase, Evening, Ground
from lacet.days.seasons import season
from lacet.figures.values import DayFigures, GroupFigures, LegFigures
from lacet.language import Text
from lacet.trip.finding import Finding, Fix, Ids, Level, subject
from lacet.trip.library import Place, Stage
from lacet.trip.party import Traveller
from lacet.trip.trip import Leg, Trip

NOTHING_ELSE: Mapping[str, Ids] = {}


def group_finding(
    check: str,
    code: str,
    level: Level,
    day: DayFigures,
    group: GroupFigures,
    says: Text,
    about: Mapping[str, Ids] = NOTHING_ELSE,
    **more: Any,
) -> Finding:
    """A finding about one group of one day; `about` names by kind and id what else it is about."""
    return Finding(
        check=check,
        code=code,
        level=level,
        subject=subject({"day": day.id, "guest": group.travellers}) + subject(about),
        day=day.number,
        travellers=group.travellers,
        says=says,
        **more,
    )


def day_finding(
    check: str,
    code: str,
    level: Level,
    day: DayFigures | Evening,
    says: Text,
    about: Mapping[str, Ids] = NOTHING_ELSE,
    **more: Any,
) -> Finding:
    """A finding about a whole day."""
    return Finding(
        check=check,
        code=code,
        level=level,
        subject=subject({"day": day.id, **about}),
        day=day.number,
        says=says,
        **more,
    )


def each_leg(case: DayCase) -> Iterator[tuple[DayFigures, GroupFigures, LegFigures, Stage]]:
    """Every leg that the library knows, with its stage."""
    for day, group in case.groups():
        for leg in group.legs:
            yield day, group, leg, case.catalogue.need(Stage, leg.leg.stage)


def guests_of(case: Ground, group: GroupFigures) -> list[Traveller]:
    return [case.traveller(who) for who in group.travellers]


def fix(says: Text, edit: Callable[..., Trip], case: Ground, *words: Any, **more: Any) -> Fix:
    """A fix that is one edit of this variant; nothing is made before it is asked for."""
    return Fix(says=says, edit=partial(_edited, edit, case.variant_id, words, more))


def _edited(
    edit: Callable[..., Trip], variant_id: str, words: tuple[Any, ...], more: dict[str, Any], trip: Trip
) -> Trip:
    return edit(trip, variant_id, *words, **more)


def within_cut(leg: Leg, along_m: float, length_m: float) -> float | None:
    """A stage distance as the leg counts it, or None where the cut leaves it out."""
    begin = leg.cut_from_m or 0.0
    here = along_m - begin
    if not -1.0 <= here <= length_m + 1.0:
        return None
    return length_m - here if leg.backward else here


def place_of(case: Ground, place_id: str | None) -> Place | None:
    return None if place_id is None else case.catalogue.place(place_id)


def clock_time(clock_s: float) -> time:
    """Seconds after midnight as a time of the day, to the full minute below."""
    minutes = int(clock_s // 60)
    return time(minutes // 60, minutes % 60)


def shut(case: Ground, day: DayFigures | Evening, text: str) -> bool | None:
    """Whether a season covers the day: for certain where there is a date, else as far as the month tells.

    Raises
    ------
    SeasonRefused
        When the text can't be read.
    """
    if day.on is not None:
        return _covered(text, day.on, day.on)
    if case.trip.month is None:
        season(text)
        return None
    # An enquiry 'for May' may mean this year's or next year's: only what holds for both is certain.
    this, next_ = (_in_month(text, case.as_of.year + more, case.trip.month, day.number) for more in (0, 1))
    return this if this is next_ else None


def _in_month(text: str, year: int, month: int, day_number: int) -> bool | None:
    later = timedelta(days=day_number - 1)
    return _covered(text, date(year, month, 1) + later, date(year, month, monthrange(year, month)[1]) + later)


@lru_cache(maxsize=4096)
def _covered(text: str, first: date, last: date) -> bool | None:
    """True or False where the season holds for all days or none, None where only for some."""
    days = (last - first).days + 1
    count = sum(1 for _ in season(text).days(first, last))
    return None if 0 < count < days else count > 0
