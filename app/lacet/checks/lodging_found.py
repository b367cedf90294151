"""Everybody has a bed every night of the trip."""

from collections.abc import Iterator

from lacet.checks.case import DayCase
from lacet.checks.making import day_finding, fix
from lacet.checks.nights import houses_at, takes, without_bed
from lacet.checks.several import Several
from lacet.checks.words import guests
from lacet.figures.values import DayFigures
from lacet.language import marked, to_say
from lacet.trip import edits
from lacet.trip.finding import Finding, Fix, Level
from lacet.trip.library import Lodging, Ref
from lacet.trip.trip import Night

ID = "lodging_found"
SAYS = "Every guest has a lodging for every night of the trip."
_MOST = 3


SEVERAL = {
    "none": Several(
        says=marked("{who:begun}: no lodging after days {number:days}. Choose one for each."), by=("who",)
    ),
}


def check_day(case: DayCase) -> Iterator[Finding]:
    day = case.figures
    if not case.is_last:
        missing = without_bed(case, day.number)
        if missing:
            says = to_say(
                "{who:begun}: no lodging after day {number}. Choose one.",
                who=guests(case, missing),
                number=day.number,
            )
            yield day_finding(
                ID,
                "none",
                Level.STOP,
                day,
                says,
                {"guest": missing},
                travellers=missing,
                fixes=_near(case, day, missing),
            )


def _near(case: DayCase, day: DayFigures, missing: tuple[str, ...]) -> tuple[Fix, ...]:
    """Houses at the place where their day ends that are open and have rooms; where the others sleep first."""
    group = next((each for each in day.groups if missing[0] in each.travellers), None)
    if group is None or group.end_place is None:
        return ()
    slept = {night.lodging.id for night in case.day(day.number).nights}
    houses = [
        house
        for house in houses_at(case.catalogue, group.end_place)
        if house.id in slept or takes(case, house, day, missing)
    ]
    houses.sort(key=lambda house: house.id not in slept)
    return tuple(_in(case, day, house, missing) for house in houses[:_MOST])


def _in(case: DayCase, day: DayFigures, house: Lodging, missing: tuple[str, ...]) -> Fix:
    whole = len(missing) == len(case.trip.party.travellers)
    night = Night(lodging=Ref(house.id, house.version), travellers=None if whole else missing)
    return fix(to_say("{house}", house=house.name), edits.set_night, case, day.id, night)
