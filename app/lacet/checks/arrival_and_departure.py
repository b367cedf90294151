"""Guests reach the hub in time for what takes them away, and set out only after they have arrived."""

from collections.abc import Iterator
from datetime import date, timedelta
from functools import partial
from typing import Any, NamedTuple, TypeAlias

from lacet.checks.case import Case
from lacet.checks.making import clock_time, fix, group_finding
from lacet.checks.mending import ride_between, set_out_earlier
from lacet.checks.words import guests
from lacet.figures.day import AFTER_ARRIVAL_S, clock_s
from lacet.figures.values import DayFigures, GroupFigures
from lacet.language import marked, to_count, to_say
from lacet.trip import edits
from lacet.trip.finding import Finding, Fix, Level, subject
from lacet.trip.itinerary import arrives_on, crossing_of, leaves_on
from lacet.trip.trip import Crossing, Trip
from lacet.trip.words import Means

ID = "arrival_and_departure"
SAYS = "Guests are at the hub well before their flight, boat or train, and nothing begins before they land."


_CLOSE = marked(
    "At the hub by {done_s:clock}, the {means} goes at {goes_s:clock}: {left_s:duration} left, "
    "{usual_s:duration} is usual. Set out earlier or shorten the day."
)
_MISSED = marked(
    "At the hub by {done_s:clock}, the {means} goes at {goes_s:clock}: too late for it, "
    "{usual_s:duration} is usual. Set out earlier or shorten the day."
)
_APART = {
    "arrival": (
        marked(
            "{who:begun} comes on {on:day}, but the first day is {wanted_on:day}. "
            "Change the {means} or the dates of the trip."
        ),
        marked(
            "{who:begun} come on {on:day}, but the first day is {wanted_on:day}. "
            "Change the {means} or the dates of the trip."
        ),
    ),
    "departure": (
        marked(
            "{who:begun} leaves on {on:day}, but the last day is {wanted_on:day}. "
            "Change the {means} or the dates of the trip."
        ),
        marked(
            "{who:begun} leave on {on:day}, but the last day is {wanted_on:day}. "
            "Change the {means} or the dates of the trip."
        ),
    ),
}


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
            yield from _arrives(case, day, group, arrival, who)
        for leave, who in _crossing(day, group, go):
            yield from _reaches_hub(case, day, group, leave, who)
            yield from _in_time(case, day, group, leave, who)


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
    crossing, off = crosses.crossing, timedelta(days=crosses.number - crosses.wanted)
    on, wanted_on = (start + timedelta(days=number - 1) for number in (crosses.number, crosses.wanted))
    says = to_count(
        _APART[what][0],
        _APART[what][1],
        1 if len(who) in (1, len(case.trip.party.travellers)) else 2,
        who=guests(case, who),
        on=on,
        wanted_on=wanted_on,
        means=crossing.means,
    )
    mend = Fix(
        says=to_say("Start the trip on {start:day}", start=start + off), edit=partial(_started, start + off)
    )
    return Finding(
        check=ID, code=f"{what}_date", level=Level.STOP, subject=subject({"hub": crossing.hub, "guest": who}),
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
    case: Case, day: DayFigures, group: GroupFigures, arrival: Crossing, who: list[str]
) -> Iterator[Finding]:
    if group.departs_s is None or arrival.at is None or group.departs_s >= clock_s(arrival.at):
        return
    lands_s = clock_s(arrival.at)
    ready_s = lands_s + AFTER_ARRIVAL_S
    says = to_say(
        "Out at {departs_s:clock}, but they land at {lands_s:clock}. Set out later.",
        departs_s=group.departs_s,
        lands_s=lands_s,
    )
    more: dict[str, Any] = {
        "figure": group.departs_s,
        "limit": lands_s,
        "unit": "s",
        "worse_is_more": False,
        "fixes": (
            fix(
                to_say("Set out at {ready_s:clock}", ready_s=ready_s),
                edits.set_departs,
                case,
                day.id,
                clock_time(ready_s),
            ),
        )
        if ready_s < 86_400
        else (),
    }
    yield group_finding(
        ID, "before_landing", Level.STOP, day, group, says, {"hub": arrival.hub, "guest": who}, **more
    )


def _reaches_hub(
    case: Case, day: DayFigures, group: GroupFigures, leave: Crossing, who: list[str]
) -> Iterator[Finding]:
    if group.end_place is None or group.end_place == leave.hub:
        return
    here, hub = case.place_name(group.end_place), case.place_name(leave.hub)
    says = to_say(
        "The last day ends at {here}, but they leave from {hub}. Add a transfer.", here=here, hub=hub
    )
    mend = Fix(
        says=to_say("Transfer {here} to {hub}", here=here, hub=hub),
        edit=partial(_with_transfer, case, day, group, leave.hub),
    )
    yield group_finding(
        ID, "hub", Level.STOP, day, group, says, {"hub": leave.hub, "guest": who}, fixes=(mend,)
    )


def _with_transfer(case: Case, day: DayFigures, group: GroupFigures, hub: str, trip: Trip) -> Trip:
    travellers = None if len(day.groups) == 1 else group.travellers
    ride = ride_between(case, str(group.end_place), hub, travellers, len(group.travellers))
    return edits.place_item(trip, case.variant_id, day.id, ride)


def _in_time(
    case: Case, day: DayFigures, group: GroupFigures, leave: Crossing, who: list[str]
) -> Iterator[Finding]:
    about = {"hub": leave.hub, "guest": who}
    if group.done_s is None:
        return
    if leave.at is None:
        # A standard trip has no boat yet: the hour is asked when a trip is made of it.
        if not case.trip.standard:
            says = to_say(
                "Nobody has said when their {means} goes. Ask, and enter the hour.", means=leave.means
            )
            yield group_finding(
                ID, "hour_unknown", Level.NOTE, day, group, says, about, unit="s", unknown=True
            )
        return
    spare_s = clock_s(leave.at) - group.done_s
    stop_s, warn_s = _margins(case, leave)
    if spare_s >= warn_s:
        return
    level = Level.STOP if spare_s < stop_s else Level.WARN
    says = to_say(
        _CLOSE if spare_s > 0 else _MISSED,
        done_s=group.done_s,
        means=leave.means,
        goes_s=clock_s(leave.at),
        left_s=spare_s,
        usual_s=warn_s,
    )
    more: dict[str, Any] = {
        "figure": spare_s,
        "limit": stop_s if level is Level.STOP else warn_s,
        "unit": "s",
        "worse_is_more": False,
        "fixes": set_out_earlier(case, day, group, warn_s - spare_s),
    }
    yield group_finding(ID, "too_late", level, day, group, says, about, **more)


def _margins(case: Case, leave: Crossing) -> tuple[float, float]:
    """(stop, warn) [s]: flights longer than boats and trains, long-haul flights longest."""
    rules = case.rules
    if leave.means is Means.CAR:
        return 0.0, 0.0
    if leave.means is not Means.FLIGHT:
        return rules.before_boat_stop_s, rules.before_boat_warn_s
    warn_s = rules.before_long_haul_s if leave.long_haul else rules.before_flight_warn_s
    return rules.before_flight_stop_s, warn_s
