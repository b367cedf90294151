"""Guests are at the house while somebody is there to let them in."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import time

from lacet.checks.case import Case
from lacet.checks.making import fix, group_finding
from lacet.checks.words import clock
from lacet.figures.day import clock_s
from lacet.trip import edits
from lacet.trip.finding import Finding, Fix, Level
from lacet.trip.itinerary import night_of
from lacet.trip.library import Lodging
from lacet.trip.trip import Night

ID = "reception_open"
SAYS = "The house is reached before its reception closes, unless a late key is noted."


def check(case: Case) -> Iterator[Finding]:
    for day, group in case.groups():
        night = night_of(case.day(day.number), group.travellers[0])
        house = case.catalogue.get(Lodging, night.lodging) if night else None
        closes_s = _closes_s(house.check_in) if house else None
        if night is None or house is None or closes_s is None or group.done_s is None or night.late_key:
            continue
        if group.done_s > closes_s:
            says = (
                f"They reach {house.name} at {clock(group.done_s)}, reception closes at {clock(closes_s)}. "
                "Set out earlier, or arrange a late key."
            )
            yield group_finding(
                ID,
                Level.STOP,
                day,
                group,
                says,
                house.id,
                figure=group.done_s,
                limit=closes_s,
                unit="s",
                source="the house's check-in hours",
                fixes=_late_key(case, day.id, night, house),
            )


def _late_key(case: Case, day_id: str, night: Night, house: Lodging) -> tuple[Fix, ...]:
    if not house.late_key:
        return ()
    noted = replace(night, late_key=True)
    return (fix("Note the late key that the house offers", edits.set_night, case, day_id, noted),)


def _closes_s(hours: str) -> float | None:
    """'15:00-21:00' -> the end; None where nothing is said or it can't be read."""
    try:
        return clock_s(time.fromisoformat(hours.rpartition("-")[2].strip()))
    except ValueError:
        return None
