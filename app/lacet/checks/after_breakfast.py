"""Nobody sets out before there was time for breakfast."""

from collections.abc import Iterator
from datetime import time
from typing import Any

from lacet.checks.case import DayCase
from lacet.checks.making import clock_time, fix, group_finding
from lacet.checks.words import clock
from lacet.figures.values import DayFigures, GroupFigures
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
    about = f"breakfast {house.id}"
    if opens_s is None:
        says = f"When breakfast at {house.name} opens isn't known; they are out at {clock(departs_s)}. Ask."
        yield group_finding(ID, Level.NOTE, day, group, says, about, unit="s", unknown=True)
        return
    spare_s = departs_s - opens_s
    if spare_s >= case.rules.breakfast_s:
        return
    earliest_s = opens_s + case.rules.breakfast_s
    says = (
        f"Out at {clock(departs_s)}, but breakfast at {house.name} opens at {clock(opens_s)}. "
        f"Set out at {clock(earliest_s)} or ask for an early breakfast."
    )
    mend = fix(f"Set out at {clock(earliest_s)}", edits.set_departs, case, day.id, clock_time(earliest_s))
    more: dict[str, Any] = {
        "figure": spare_s,
        "limit": case.rules.breakfast_s,
        "unit": "s",
        "worse_is_more": False,
    }
    yield group_finding(ID, Level.WARN, day, group, says, about, fixes=(mend,), **more)


def _opens_s(hours: str) -> float | None:
    """'07:30-10:00' -> seconds after midnight; None where nothing is said or it can't be read."""
    try:
        opens = time.fromisoformat(hours.split("-")[0].strip())
    except ValueError:
        return None
    return opens.hour * 3600.0 + opens.minute * 60.0
