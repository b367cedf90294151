"""Nobody sets out before there was time for breakfast."""

from collections.abc import Iterator
from datetime import time
from typing import Any

from lacet.checks.case import Case
from lacet.checks.making import fix, group_finding
from lacet.checks.words import clock
from lacet.trip import edits
from lacet.trip.finding import Finding, Level
from lacet.trip.itinerary import night_of
from lacet.trip.library import Lodging

ID = "after_breakfast"
SAYS = "The day sets out three quarters of an hour or more after breakfast opens."


def check(case: Case) -> Iterator[Finding]:
    for day, group in case.groups():
        if day.number == 1 or group.departs_s is None:
            continue
        night = night_of(case.day(day.number - 1), group.travellers[0])
        house = case.catalogue.get(Lodging, night.lodging) if night else None
        opens_s = _opens_s(house.breakfast) if house else None
        if house is None or opens_s is None:
            continue
        spare_s = group.departs_s - opens_s
        if spare_s < case.rules.breakfast_s:
            earliest_s = opens_s + case.rules.breakfast_s
            says = (
                f"Out at {clock(group.departs_s)}, but breakfast at {house.name} opens at {clock(opens_s)}. "
                f"Set out at {clock(earliest_s)} or ask for an early breakfast."
            )
            departs = time(int(earliest_s // 3600), int(earliest_s % 3600 // 60))
            mend = fix(f"Set out at {clock(earliest_s)}", edits.set_departs, case, day.id, departs)
            more: dict[str, Any] = {
                "figure": spare_s,
                "limit": case.rules.breakfast_s,
                "unit": "s",
                "worse_is_more": False,
            }
            yield group_finding(ID, Level.WARN, day, group, says, fixes=(mend,), **more)


def _opens_s(hours: str) -> float | None:
    """'07:30-10:00' -> seconds after midnight; None where nothing is said or it can't be read."""
    try:
        opens = time.fromisoformat(hours.split("-")[0].strip())
    except ValueError:
        return None
    return opens.hour * 3600.0 + opens.minute * 60.0
