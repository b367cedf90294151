"""Guests are at their lodging with daylight to spare."""

from collections.abc import Iterator
from datetime import time

from lacet.checks.case import Case
from lacet.checks.words import clock, duration
from lacet.figures.values import DayFigures, GroupFigures
from lacet.trip.edits.days import set_departs
from lacet.trip.finding import Finding, Fix, Level
from lacet.trip.trip import Trip

ID = "done_by_sunset"
SAYS = (
    "Days on foot or by bike end before sunset: a stop with less than an hour to spare, a warning under two."
)
SOURCE = "common practice: plan to finish one to two hours before sunset; no official figure"
_EARLIEST_S = 8 * 3600.0


def check(case: Case) -> Iterator[Finding]:
    for day, group in case.groups():
        if group.legs and group.done_s is not None and day.sunset_s is not None:
            yield from _judge(case, day, group, group.done_s, day.sunset_s)


def _judge(
    case: Case, day: DayFigures, group: GroupFigures, done_s: float, sunset_s: float
) -> Iterator[Finding]:
    spare_s = sunset_s - done_s
    rules = case.rules
    if spare_s >= rules.sunset_warn_s:
        return
    level = Level.STOP if spare_s < rules.sunset_stop_s else Level.WARN
    left = f"{duration(spare_s)} of daylight left" if spare_s > 0 else "after dark"
    yield Finding(
        check=ID,
        level=level,
        subject=f"day {day.id} {' '.join(group.travellers)}",
        day=day.number,
        travellers=group.travellers,
        says=f"Done by {clock(done_s)}, sunset {clock(sunset_s)}: {left}. Set out earlier or shorten it.",
        figure=spare_s,
        limit=rules.sunset_stop_s if level is Level.STOP else rules.sunset_warn_s,
        unit="s",
        worse_is_more=False,
        source=SOURCE,
        fixes=_earlier(case, day, group, rules.sunset_warn_s - spare_s),
    )


def _earlier(case: Case, day: DayFigures, group: GroupFigures, needed_s: float) -> tuple[Fix, ...]:
    """Set out earlier by what is missing, to the quarter hour, where that isn't before eight."""
    if group.departs_s is None:
        return ()
    quarter = 900.0
    departs_s = (group.departs_s - needed_s) // quarter * quarter
    if departs_s < _EARLIEST_S:
        return ()
    variant_id, day_id, departs = case.variant.id, day.id, _time_of(departs_s)

    def edit(trip: Trip) -> Trip:
        return set_departs(trip, variant_id, day_id, departs)

    return (Fix(says=f"Set out at {clock(departs_s)}", edit=edit),)


def _time_of(seconds: float) -> time:
    minutes = int(seconds // 60)
    return time(minutes // 60, minutes % 60)
