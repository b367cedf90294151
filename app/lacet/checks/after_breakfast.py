"""Nobody sets out before there was time for breakfast."""

from collections.abc import Iterator
from datetime import time
from typing import Any

from lacet.checks.case import DayCase
from lacet.checks.making import clock_time, fix, group_finding
from lacet.figures.values import DayFigures, GroupFigures
from lacet.language import to_say
from lacet.trip import edits
from lacet.trip.finding import Finding, Level
from lacet.trip.itinerary import night_of
from lacet.trip.library import Lodging
from lacet.trip.words import Board

ID = "after_breakfast"
SAYS = "The day sets out three quarters of an hour or more after breakfast opens."


def check_day(case: DayCase) -> Iterator[Finding]:
    for day, group in case.groups():
        if day.number > 1 and group.departs_s is not None:
            for house in _breakfasts(case, day, group):
                yield from _judge(case, day, group, group.departs_s, house)


def _breakfasts(case: DayCase, day: DayFigures, group: GroupFigures) -> list[Lodging]:
    """The houses in which the group has breakfast that morning, each once."""
    nights = [night_of(case.day(day.number - 1), who) for who in group.travellers]
    houses = [
        case.catalogue.get(Lodging, night.lodging)
        for night in dict.fromkeys(nights)
        if night is not None and night.board is not Board.ROOM_ONLY
    ]
    return [house for house in houses if house is not None]


def _judge(
    case: DayCase, day: DayFigures, group: GroupFigures, departs_s: float, house: Lodging
) -> Iterator[Finding]:
    opens_s = _opens_s(house.breakfast)
    about = {"lodging": house.id}
    if opens_s is None:
        says = to_say(
            "When breakfast at {house} opens isn't known; they are out at {departs_s:clock}. Ask.",
            house=house.name,
            departs_s=departs_s,
        )
        yield group_finding(ID, "hours_unknown", Level.NOTE, day, group, says, about, unit="s", unknown=True)
        return
    spare_s = departs_s - opens_s
    if spare_s >= case.rules.breakfast_s:
        return
    earliest_s = opens_s + case.rules.breakfast_s
    says = to_say(
        "Out at {departs_s:clock}, but breakfast at {house} opens at {opens_s:clock}. Set out "
        "at {earliest_s:clock} or ask for an early breakfast.",
        departs_s=departs_s,
        house=house.name,
        opens_s=opens_s,
        earliest_s=earliest_s,
    )
    mend = fix(
        to_say("Set out at {earliest_s:clock}", earliest_s=earliest_s),
        edits.set_departs,
        case,
        day.id,
        clock_time(earliest_s),
    )
    more: dict[str, Any] = {
        "figure": spare_s,
        "limit": case.rules.breakfast_s,
        "unit": "s",
        "worse_is_more": False,
    }
    yield group_finding(ID, "too_early", Level.WARN, day, group, says, about, fixes=(mend,), **more)


def _opens_s(hours: str) -> float | None:
    """'07:30-10:00' -> seconds after midnight; None where nothing is said or it can't be read."""
    try:
        opens = time.fromisoformat(hours.split("-")[0].strip())
    except ValueError:
        return None
    return opens.hour * 3600.0 + opens.minute * 60.0
