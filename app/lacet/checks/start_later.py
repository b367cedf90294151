"""A candidate fix for whatever is shut on one day: start the trip a few days later."""

from collections.abc import Callable
from datetime import date, timedelta
from functools import partial

from lacet.checks.case import Ground
from lacet.language import to_count
from lacet.trip import edits
from lacet.trip.finding import Fix
from lacet.trip.trip import Trip

MOST_DAYS = 7


def start_later(case: Ground, on: date | None, fits: Callable[[date], bool]) -> tuple[Fix, ...]:
    """Start so much later that `fits` holds for the day that is now `on`, by a week at most.

    Not offered to a party under way, nor where suppliers were asked: their dates stand.
    """
    start = case.trip.start
    if on is None or start is None or case.trip.fixed_through or case.asked:
        return ()
    for days in range(1, MOST_DAYS + 1):
        if fits(on + timedelta(days=days)):
            new = start + timedelta(days=days)
            says = to_count(
                "Start a day later, on {on:weekday}",
                "Start {count} days later, on {on:weekday}",
                days,
                on=new,
            )
            return (Fix(says=says, edit=partial(_started, new)),)
    return ()


def _started(start: date, trip: Trip) -> Trip:
    return edits.set_start(trip, start)
