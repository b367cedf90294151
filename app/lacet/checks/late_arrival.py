"""No leg on the day of arrival when the guests are at their first lodging only in the afternoon."""

from collections.abc import Iterator
from typing import Any

from lacet.checks.case import Case
from lacet.checks.making import fix, group_finding
from lacet.checks.words import clock
from lacet.figures.day import clock_s
from lacet.trip import edits
from lacet.trip.finding import Finding, Level
from lacet.trip.itinerary import crossing_of

ID = "late_arrival"
SAYS = "A stage on the day of arrival begins only when guests land early enough."


def check(case: Case) -> Iterator[Finding]:
    limit_s = case.rules.arrival_leg_until_minute * 60.0
    for day, group in case.groups():
        arrival = crossing_of(case.trip.arrivals, group.travellers[0])
        if arrival is None or arrival.at is None or day.number != (arrival.day or 1) or not group.legs:
            continue
        first = group.legs[0]
        if first.starts_s > limit_s:
            says = (
                f"They land at {clock(clock_s(arrival.at))} and would begin at {clock(first.starts_s)}. "
                "Keep the first day free, or move the stage to the next."
            )
            mend = fix("Take the stage out of the first day", edits.remove_item, case, first.leg.id)
            more: dict[str, Any] = {"figure": first.starts_s, "limit": limit_s, "unit": "s", "fixes": (mend,)}
            yield group_finding(ID, Level.WARN, day, group, says, **more)
