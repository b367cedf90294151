"""Guests are at the house while somebody is there to let them in. Who slept there already has a key."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import time

from lacet.checks.beds import night_of
from lacet.checks.case import DayCase
from lacet.checks.making import fix, group_finding
from lacet.checks.mending import set_out_earlier
from lacet.figures.day import clock_s
from lacet.figures.values import DayFigures, GroupFigures
from lacet.language import to_say
from lacet.trip import edits
from lacet.trip.finding import Finding, Fix, Level
from lacet.trip.library import Lodging
from lacet.trip.trip import Night

ID = "reception_open"
SAYS = "The house is reached before its reception closes, unless a late key is noted."


def check_day(case: DayCase) -> Iterator[Finding]:
    for day, group in case.groups():
        if group.done_s is not None and day.number < case.last:
            for night in _first_nights(case, day.number, group):
                house = case.catalogue.get(Lodging, night.lodging)
                if house is not None and not night.late_key:
                    yield from _judge(case, day, group, group.done_s, night, house)


def _first_nights(case: DayCase, number: int, group: GroupFigures) -> list[Night]:
    """The group's nights in houses they come to that day, each once."""
    found: dict[str, Night] = {}
    for who in group.travellers:
        night = night_of(case, number, who)
        before = night_of(case, number - 1, who)
        stays = before is not None and night is not None and before.lodging.id == night.lodging.id
        if night is not None and not stays and case.traveller(who).sleeps_after(number):
            found.setdefault(night.lodging.id, night)
    return list(found.values())


def _judge(
    case: DayCase, day: DayFigures, group: GroupFigures, done_s: float, night: Night, house: Lodging
) -> Iterator[Finding]:
    closes_s = _closes_s(house.check_in)
    if closes_s is None:
        says = to_say(
            "Until when {house} receives guests isn't known; they reach it at {done_s:clock}. Ask the house.",
            house=house.name,
            done_s=done_s,
        )
        yield group_finding(
            ID, "hours_unknown", Level.NOTE, day, group, says, {"lodging": house.id}, unknown=True
        )
    elif done_s > closes_s:
        says = to_say(
            "They reach {house} at {done_s:clock}, reception closes at {closes_s:clock}. Set out "
            "earlier, or arrange a late key.",
            house=house.name,
            done_s=done_s,
            closes_s=closes_s,
        )
        fixes = _late_key(case, day.id, night, house) + set_out_earlier(case, day, group, done_s - closes_s)
        yield group_finding(
            ID, "closed", Level.STOP, day, group, says, {"lodging": house.id}, figure=done_s,
            limit=closes_s, unit="s", source="the house's check-in hours", fixes=fixes,
        )  # fmt: skip


def _late_key(case: DayCase, day_id: str, night: Night, house: Lodging) -> tuple[Fix, ...]:
    if not house.late_key:
        return ()
    noted = replace(night, late_key=True)
    return (fix(to_say("Note the late key that the house offers"), edits.set_night, case, day_id, noted),)


def _closes_s(hours: str) -> float | None:
    """'15:00-21:00' -> the end; None where nothing is said or it can't be read."""
    try:
        closes = clock_s(time.fromisoformat(hours.rpartition("-")[2].strip().replace("24:00", "00:00")))
    except ValueError:
        return None
    # '16:00-00:00' and '16:00-01:00' run past midnight.
    opens = hours.partition("-")[0].strip()
    return closes + 86_400.0 if closes < _opens_s(opens) else closes


def _opens_s(text: str) -> float:
    try:
        return clock_s(time.fromisoformat(text))
    except ValueError:
        return 0.0
