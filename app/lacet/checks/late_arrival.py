"""No leg on the day of arrival when the guests get away only in the afternoon."""

from collections.abc import Iterator
from functools import partial
from typing import Any

from lacet.checks.case import DayCase
from lacet.checks.making import fix, group_finding
from lacet.checks.mending import ride_between
from lacet.figures.day import clock_s
from lacet.figures.values import LegFigures
from lacet.language import to_say
from lacet.trip import edits
from lacet.trip.finding import Finding, Fix, Level
from lacet.trip.itinerary import arrives_on, crossing_of
from lacet.trip.trip import Trip

ID = "late_arrival"
SAYS = "A stage on the day of arrival begins only when guests land early enough."


def check_day(case: DayCase) -> Iterator[Finding]:
    limit_s = case.rules.arrival_leg_until_minute * 60.0
    for day, group in case.groups():
        guest = case.traveller(group.travellers[0])
        arrival = crossing_of(case.trip.arrivals, guest.id)
        if arrival is None or day.number != arrives_on(case.trip, arrival, guest) or not group.legs:
            continue
        first = group.legs[0]
        more: dict[str, Any] = {"limit": limit_s, "unit": "s", "fixes": _fixes(case, first)}
        # A standard trip has no boat yet: the hour is asked when a trip is made of it.
        if arrival.at is None and not case.trip.standard:
            says = to_say(
                "Nobody has said when they land, and a stage begins that day. Ask, and enter the hour."
            )
            yield group_finding(ID, "hour_unknown", Level.NOTE, day, group, says, unknown=True, **more)
        elif arrival.at is not None and first.starts_s > limit_s:
            says = to_say(
                "They land at {clock_s:clock} and would begin at {starts_s:clock}. Keep the first day "
                "free, or ride to where the stage ends.",
                clock_s=clock_s(arrival.at),
                starts_s=first.starts_s,
            )
            yield group_finding(ID, "too_late", Level.WARN, day, group, says, figure=first.starts_s, **more)


def _fixes(case: DayCase, first: LegFigures) -> tuple[Fix, ...]:
    if first.from_place is None or first.to_place is None:
        return ()
    if first.from_place == first.to_place:
        return (fix(to_say("Take the stage out of the first day"), edits.remove_item, case, first.leg.id),)
    says = to_say("Transfer to {place} instead", place=case.place_name(first.to_place))
    return (Fix(says=says, edit=partial(_with_transfer, case, first)),)


def _with_transfer(case: DayCase, first: LegFigures, trip: Trip) -> Trip:
    here, there, leg = str(first.from_place), str(first.to_place), first.leg
    ride = ride_between(case, here, there, leg.travellers, len(first.travellers))
    return edits.replace_item(trip, case.variant_id, leg.id, ride)
