"""Guests reach the hub in time for what takes them away, and set out only after they have arrived."""

from collections.abc import Iterator
from typing import Any

from lacet.checks.case import Case
from lacet.checks.making import fix, group_finding
from lacet.checks.words import clock, duration
from lacet.figures.day import clock_s
from lacet.figures.values import DayFigures, GroupFigures
from lacet.trip import edits
from lacet.trip.finding import Finding, Level
from lacet.trip.itinerary import crossing_of
from lacet.trip.trip import Crossing, Ride
from lacet.trip.words import Means

ID = "arrival_and_departure"
SAYS = "Guests are at the hub well before their flight, boat or train, and nothing begins before they land."


def check(case: Case) -> Iterator[Finding]:
    last = len(case.variant.days)
    for day, group in case.groups():
        arrival = crossing_of(case.trip.arrivals, group.travellers[0])
        if arrival is not None and day.number == (arrival.day or 1):
            yield from _arrives(day, group, arrival)
        leave = crossing_of(case.trip.departures, group.travellers[0])
        if leave is not None and day.number == (leave.day or last):
            yield from _leaves(case, day, group, leave)


def _arrives(day: DayFigures, group: GroupFigures, arrival: Crossing) -> Iterator[Finding]:
    if arrival.at is None or group.departs_s is None or group.departs_s >= clock_s(arrival.at):
        return
    says = f"Out at {clock(group.departs_s)}, but they land at {clock(clock_s(arrival.at))}. Set out later."
    yield group_finding(ID, Level.STOP, day, group, says, "arrival", figure=group.departs_s, unit="s")


def _leaves(case: Case, day: DayFigures, group: GroupFigures, leave: Crossing) -> Iterator[Finding]:
    if group.end_place is not None and group.end_place != leave.hub:
        here, hub = case.place_name(group.end_place), case.place_name(leave.hub)
        ride = Ride(id="", from_place=group.end_place, to_place=leave.hub)
        says = f"The last day ends at {here}, but they leave from {hub}. Add a transfer."
        mend = fix(f"Transfer {here} to {hub}", edits.place_item, case, day.id, ride)
        yield group_finding(ID, Level.STOP, day, group, says, "hub", fixes=(mend,))
    if leave.at is None or group.done_s is None:
        return
    spare_s = clock_s(leave.at) - group.done_s
    stop_s, warn_s = _margins(case, leave)
    if spare_s < warn_s:
        level = Level.STOP if spare_s < stop_s else Level.WARN
        limit_s = stop_s if level is Level.STOP else warn_s
        left = duration(spare_s) if spare_s > 0 else "nothing"
        goes = f"the {leave.means.value} goes at {clock(clock_s(leave.at))}"
        says = (
            f"At the hub by {clock(group.done_s)}, {goes}: {left} left, {duration(limit_s)} is usual. "
            "Set out earlier or shorten the day."
        )
        more: dict[str, Any] = {"figure": spare_s, "limit": limit_s, "unit": "s", "worse_is_more": False}
        yield group_finding(ID, level, day, group, says, "departure", **more)


def _margins(case: Case, leave: Crossing) -> tuple[float, float]:
    """(stop, warn) [s]: flights longer than boats and trains, long-haul flights longest."""
    rules = case.rules
    if leave.means is not Means.FLIGHT:
        return rules.before_boat_stop_s, rules.before_boat_warn_s
    warn_s = rules.before_long_haul_s if leave.long_haul else rules.before_flight_warn_s
    return rules.before_flight_stop_s, warn_s
