"""Two hard days on end are told, the harder first."""

from collections.abc import Iterator
from itertools import pairwise
from typing import Any

from lacet.checks.case import Case
from lacet.checks.day_within_limits import measures
from lacet.checks.making import day_finding, fix
from lacet.checks.words import share
from lacet.figures.values import DayFigures
from lacet.trip import edits
from lacet.trip.finding import Finding, Level
from lacet.trip.trip import Day, Rest

ID = "hard_days"
SAYS = "Two days in a row near a guest's limits are told, with the hardest named first."


def check(case: Case) -> Iterator[Finding]:
    for before, after in pairwise(case.figures.days):
        shares = {day.number: _hardness(case, day) for day in (before, after)}
        if min(shares.values()) < case.rules.hard_day_share:
            continue
        harder = max(shares, key=lambda number: shares[number])
        other = after.number if harder == before.number else before.number
        says = (
            f"Day {harder} ({share(shares[harder])} of a limit) and day {other} ({share(shares[other])}) are "
            "hard and follow one another. A rest day or a shorter stage between them helps."
        )
        resting = Day(id="", items=(Rest(id=""),), nights=case.day(before.number).nights)
        mend = fix("A rest day between them", edits.insert_day, case, before.number, resting)
        more: dict[str, Any] = {"figure": shares[harder], "limit": case.rules.hard_day_share, "unit": "share"}
        yield day_finding(ID, Level.NOTE, after, says, f"after {before.id}", fixes=(mend,), **more)


def _hardness(case: Case, day: DayFigures) -> float:
    """The largest share of a limit that any guest reaches that day."""
    return max(
        (
            measure.share
            for group in day.groups
            if group.legs
            for who in group.travellers
            for measure in measures(case.traveller(who), group, case.rules)
        ),
        default=0.0,
    )
