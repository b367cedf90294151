"""How hard a day is for those who go: the largest share of a guest's own limit, else of the house's."""

from lacet.checks.day_within_limits import measures
from lacet.documents.material.telling import Telling
from lacet.figures.values import DayFigures, GroupFigures

# Common practice, no source: well below what somebody would do at most is easy to them.
EASY_SHARE = 0.6


def hardness(telling: Telling, group: GroupFigures) -> float:
    """The largest share of any limit that length, climb or moving time of the day come to."""
    if not group.legs:
        return 0.0
    return max((measure.share for _, measure in measures(telling.case, group)), default=0.0)


def hardest_day(telling: Telling) -> int | None:
    """The number of the hardest day; None where fewer than two days have a stage."""
    shares = {day.number: _of_day(telling, day) for day in telling.figures.days}
    active = [number for number, share in shares.items() if share > 0.0]
    return max(active, key=lambda number: shares[number]) if len(active) > 1 else None


def _of_day(telling: Telling, day: DayFigures) -> float:
    return max((hardness(telling, group) for group in day.groups), default=0.0)
