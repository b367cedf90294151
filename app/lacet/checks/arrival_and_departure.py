"""Guests reach the hub in time for what takes them away, and set out only after they have arrived."""

from collections.abc import Iterator
from datetime import date, timedelta
from functools import partial
from typing import Any, NamedTuple, TypeAlias

from lacet.checks.case import Case
from lacet.checks.making import clock_time, fix, group_finding
from lacet.checks.mending import ride_between, set_out_earlier
from lacet.checks.words import begun, clock, duration, guests, on_day
from lacet.figures.day import AFTER_ARRIVAL_S, clock_s
from lacet.figures.values import DayFigures, GroupFigures
from lacet.trip import edits
from lacet.trip.finding import Finding, Fix, Level
from lacet.trip.itinerary import arrives_on, crossing_of, leaves_on
from lacet.trip.trip import Crossing, Trip
from lacet.trip.words import Means

ID = "arrival_and_departure"
SAYS = "Guests are at the hub well before their flight, boat or train, and nothing begins before they land."


class _Crosses(NamedTuple):
    """What a guest comes or goes with, on which day (1-based), and which day it should be."""

    crossing: Crossing
    number: int
    wanted: int


_Crossings: TypeAlias = dict[str, _Crosses]


def check(case: Case) -> Iterator[Finding]:
    last = len(case.variant.days)
    come: _Crossings = {}
    go: _Crossings = {}
    for guest in case.trip.party.travellers:
        arrival = crossing_of(case.trip.arrivals, guest.id)
        leave = crossing_of(case.trip.departures, guest.id)
        if arrival is not None:
            come[guest.id] = _Crosses(arrival, arrives_on(case.trip, arrival, guest), guest.from_day)
        if leave is not None:
            go[guest.id] = _Crosses(leave, leaves_on(case.trip, leave, guest, last), guest.to_day or last)
    yield from _off_the_day(case, come, "arrival")
    yield from _off_the_day(case, go, "departure")
    for day, group in case.groups():
        for arrival, who in _crossing(day, group, come):
            yield from _arrives(case, day, group, arrival, " ".join(who))
        for leave, who in _crossing(day, group, go):
            yield from _reaches_hub(case, day, group, leave, " ".join(who))
            yield from _in_time(case, day, group, leave, " ".join(who))


def _off_the_day(case: Case, crossings: _Crossings, what: str) -> Iterator[Finding]:
    """A crossing keeps its date when the trip moves; here it is told where the two no longer fit."""
    apart: dict[_Crosses, list[str]] = {}
    for who, crosses in crossings.items():
        if crosses.number != crosses.wanted and case.trip.start is not None and case.variant.days:
            apart.setdefault(crosses, []).append(who)
    for crosses, together in apart.items():
        yield _apart(case, crosses, tuple(together), what)


def _apart(case: Case, crosses: _Crosses, who: tuple[str, ...], what: str) -> Finding:
    start = case.trip.start
    assert start is not None, "without a start no crossing is on another day"
    everybody = len(who) == len(case.trip.party.travellers)
    subject = "They" if everybody else begun(guests(case, who))
    day, verb = ("first", "come") if what == "arrival" else ("last", "leave")
    crossing, off = crosses.crossing, timedelta(days=crosses.number - crosses.wanted)
    on, wanted_on = (start + timedelta(days=number - 1) for number in (crosses.number, crosses.wanted))
    verb += "s" if len(who) == 1 and not everybody else ""
    says = (
        f"{subject} {verb} on {on_day(on)}, but the {day} day "
        f"is {on_day(wanted_on)}. Change the {crossing.means.value} or the dates of the trip."
    )
    mend = Fix(says=f"Start the trip on {on_day(start + off)}", edit=partial(_started, start + off))
    return Finding(
        check=ID, level=Level.STOP, subject=f"{what} date {crossing.hub} {' '.join(who)}",
        day=min(max(crosses.number, 1), len(case.variant.days)), travellers=who, says=says,
        figure=float(crosses.number), limit=float(crosses.wanted), unit="days",
        fixes=() if case.trip.fixed_through else (mend,),
    )  # fmt: skip


def _started(start: date, trip: Trip) -> Trip:
    return edits.set_start(trip, start)


def _crossing(
    day: DayFigures, group: GroupFigures, crossings: _Crossings
) -> list[tuple[Crossing, list[str]]]:
    """Those of the group who come or go that day, by what they come or go with."""
    found: dict[Crossing, list[str]] = {}
    for who in group.travellers:
        crosses = crossings.get(who)
        if crosses is not None and day.number == crosses.number:
            found.setdefault(crosses.crossing, []).append(who)
    return list(found.items())


def _arrives(
    case: Case, day: DayFigures, group: GroupFigures, arrival: Crossing, who: str
) -> Iterator[Finding]:
    if group.departs_s is None or arrival.at is None or group.departs_s >= clock_s(arrival.at):
        return
    lands_s = clock_s(arrival.at)
    ready_s = lands_s + AFTER_ARRIVAL_S
    says = f"Out at {clock(group.departs_s)}, but they land at {clock(lands_s)}. Set out later."
    more: dict[str, Any] = {
        "figure": group.departs_s,
        "limit": lands_s,
        "unit": "s",
        "worse_is_more": False,
        "fixes": (fix(f"Set out at {clock(ready_s)}", edits.set_departs, case, day.id, clock_time(ready_s)),)
        if ready_s < 86_400
        else (),
    }
    yield group_finding(ID, Level.STOP, day, group, says, f"arrival {arrival.hub} {who}", **more)


def _reaches_hub(
    case: Case, day: DayFigures, group: GroupFigures, leave: Crossing, who: str
) -> Iterator[Finding]:
    if group.end_place is None or group.end_place == leave.hub:
        return
    here, hub = case.place_name(group.end_place), case.place_name(leave.hub)
    says = f"The last day ends at {here}, but they leave from {hub}. Add a transfer."
    mend = Fix(says=f"Transfer {here} to {hub}", edit=partial(_with_transfer, case, day, group, leave.hub))
    yield group_finding(ID, Level.STOP, day, group, says, f"hub {leave.hub} {who}", fixes=(mend,))


def _with_transfer(case: Case, day: DayFigures, group: GroupFigures, hub: str, trip: Trip) -> Trip:
    travellers = None if len(day.groups) == 1 else group.travellers
    ride = ride_between(case, str(group.end_place), hub, travellers, len(group.travellers))
    return edits.place_item(trip, case.variant_id, day.id, ride)


def _in_time(
    case: Case, day: DayFigures, group: GroupFigures, leave: Crossing, who: str
) -> Iterator[Finding]:
    about = f"departure {leave.hub} {who}"
    if group.done_s is None:
        return
    if leave.at is None:
        # A standard trip has no boat yet: the hour is asked when a trip is made of it.
        if not case.trip.standard:
            says = f"Nobody has said when their {leave.means.value} goes. Ask, and enter the hour."
            yield group_finding(ID, Level.NOTE, day, group, says, about, unit="s", unknown=True)
        return
    spare_s = clock_s(leave.at) - group.done_s
    stop_s, warn_s = _margins(case, leave)
    if spare_s >= warn_s:
        return
    level = Level.STOP if spare_s < stop_s else Level.WARN
    left = f"{duration(spare_s)} left" if spare_s > 0 else "too late for it"
    says = (
        f"At the hub by {clock(group.done_s)}, the {leave.means.value} goes at {clock(clock_s(leave.at))}: "
        f"{left}, {duration(warn_s)} is usual. Set out earlier or shorten the day."
    )
    more: dict[str, Any] = {
        "figure": spare_s,
        "limit": stop_s if level is Level.STOP else warn_s,
        "unit": "s",
        "worse_is_more": False,
        "fixes": set_out_earlier(case, day, group, warn_s - spare_s),
    }
    yield group_finding(ID, level, day, group, says, about, **more)


def _margins(case: Case, leave: Crossing) -> tuple[float, float]:
    """(stop, warn) [s]: flights longer than boats and trains, long-haul flights longest."""
    rules = case.rules
    if leave.means is Means.CAR:
        return 0.0, 0.0
    if leave.means is not Means.FLIGHT:
        return rules.before_boat_stop_s, rules.before_boat_warn_s
    warn_s = rules.before_long_haul_s if leave.long_haul else rules.before_flight_warn_s
    return rules.before_flight_stop_s, warn_s
