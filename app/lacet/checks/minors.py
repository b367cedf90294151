"""Nobody under eighteen goes without an adult in the same group."""

from collections.abc import Iterator
from typing import Any

from lacet.checks.case import DayCase
from lacet.checks.making import group_finding, guests_of
from lacet.checks.mending import all_together
from lacet.checks.words import guests
from lacet.language import to_say
from lacet.trip.finding import Finding, Level

ID = "minors"
SAYS = "Under-18s have an adult in their group; nobody can overrule it."
ADULT_FROM = 18


def check_day(case: DayCase) -> Iterator[Finding]:
    for day, group in case.groups():
        members = guests_of(case, group)
        minors = [guest.id for guest in members if guest.age is not None and guest.age < ADULT_FROM]
        if minors and len(minors) == len(members):
            says = to_say(
                "{who:begun} would go without an adult. Let one join them that day.", who=guests(case, minors)
            )
            more: dict[str, Any] = {
                "figure": float(len(minors)),
                "limit": 0.0,
                "unit": "guests",
                "may_overrule": False,
            }
            yield group_finding(
                ID,
                "without_adult",
                Level.STOP,
                day,
                group,
                says,
                fixes=all_together(case, day, group),
                **more,
            )
