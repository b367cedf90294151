"""Everybody has a bed every night of the trip."""

from collections.abc import Iterator

from lacet.checks.case import Case
from lacet.checks.making import day_finding, fix
from lacet.checks.nights import without_bed
from lacet.checks.words import begun, guests
from lacet.trip import edits
from lacet.trip.finding import Finding, Fix, Level
from lacet.trip.library import Lodging, Ref
from lacet.trip.trip import Night

ID = "lodging_found"
SAYS = "Every guest has a lodging for every night of the trip."


def check(case: Case) -> Iterator[Finding]:
    for day in case.figures.days[:-1]:
        missing = without_bed(case, day.number)
        if missing:
            says = f"{begun(guests(case, missing))}: no lodging after day {day.number}. Choose one."
            yield day_finding(
                ID,
                Level.STOP,
                day,
                says,
                " ".join(missing),
                travellers=missing,
                fixes=_near(case, day.number),
            )


def _near(case: Case, number: int) -> tuple[Fix, ...]:
    """Houses at the place where the day ends."""
    group = case.figures.days[number - 1].group
    here = group.end_place if group else None
    houses = [house for house in case.catalogue.current(Lodging) if here is not None and house.place == here]
    day_id = case.figures.days[number - 1].id
    return tuple(
        fix(house.name, edits.set_night, case, day_id, Night(lodging=Ref(house.id, house.version)))
        for house in houses[:3]
    )
