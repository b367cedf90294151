"""Hard days are told where two follow one another, and where the very first is the hardest of the trip."""

from collections.abc import Iterator
from functools import partial
from itertools import pairwise
from typing import Any

from lacet.checks.case import Case
from lacet.checks.day_within_limits import measures
from lacet.checks.making import day_finding, fix
from lacet.checks.mending import rest_after, take_the_other_way
from lacet.checks.several import Several
from lacet.figures.values import DayFigures
from lacet.language import marked, to_say
from lacet.trip import edits
from lacet.trip.finding import Finding, Level
from lacet.trip.kept import Kept

ID = "hard_days"
SAYS = "Two days in a row near a guest's limits are told, and a trip that begins with its hardest day."


_HARDNESS: Kept[float] = Kept(1024)


SEVERAL = {
    "two_on_end": Several(
        says=marked(
            "Days {number:days} are hard and follow one another. A rest day or a shorter stage between them "
            "helps."
        )
    ),
}


def check(case: Case) -> Iterator[Finding]:
    hardness = {day.number: _hardness(case, day) for day in case.figures.days}
    yield from _two_on_end(case, hardness)
    yield from _hardest_first(case, hardness)


def _two_on_end(case: Case, hardness: dict[int, float]) -> Iterator[Finding]:
    for before, after in pairwise(case.figures.days):
        shares = {day.number: hardness[day.number] for day in (before, after)}
        if min(shares.values()) < case.rules.hard_day_share:
            continue
        harder = max(shares, key=lambda number: shares[number])
        other = after.number if harder == before.number else before.number
        says = to_say(
            "Day {harder} ({harder_share:share} of a limit) and day {other} ({other_share:share}) are hard "
            "and follow one another. A rest day or a shorter stage between them helps.",
            harder=harder,
            harder_share=shares[harder],
            other=other,
            other_share=shares[other],
            number=(before.number, after.number),
        )
        resting = rest_after(case, before.number)
        mend = fix(to_say("A rest day between them"), edits.insert_day, case, before.number, resting)
        more: dict[str, Any] = {"figure": shares[harder], "limit": case.rules.hard_day_share, "unit": "share"}
        yield day_finding(
            ID, "two_on_end", Level.NOTE, after, says, {"after": before.id}, fixes=(mend,), **more
        )


def _hardest_first(case: Case, hardness: dict[int, float]) -> Iterator[Finding]:
    active = [number for number, share_of_limit in hardness.items() if share_of_limit > 0.0]
    if len(active) < 2:
        return
    first, *later = active
    if hardness[first] < case.rules.hard_day_share or hardness[first] <= max(hardness[day] for day in later):
        return
    says = to_say(
        "Day {first}, the first on the way, is the hardest ({hardness:share} of a limit). An "
        "easier one first lets them find their legs.",
        first=first,
        hardness=hardness[first],
    )
    more: dict[str, Any] = {"figure": hardness[first], "limit": case.rules.hard_day_share, "unit": "share"}
    day = case.figures.days[first - 1]
    yield day_finding(ID, "hardest_first", Level.NOTE, day, says, fixes=take_the_other_way(case, day), **more)


def _hardness(case: Case, day: DayFigures) -> float:
    """The largest share of a limit that any guest reaches that day."""
    rests_on = (day, case.trip.party, case.rules)
    return _HARDNESS.get(case.catalogue, rests_on, None, partial(_hardest, case, day))


def _hardest(case: Case, day: DayFigures) -> float:
    return max(
        (measure.share for group in day.groups if group.legs for _, measure in measures(case, group)),
        default=0.0,
    )
