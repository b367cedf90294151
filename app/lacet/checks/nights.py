"""What several checks ask of a night: who sleeps where. Each group of sleepers of a house is told once."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from lacet.checks.case import Case
from lacet.figures.values import DayFigures
from lacet.price.rooms import sleepers
from lacet.trip.library import Lodging
from lacet.trip.trip import Night


@dataclass(frozen=True, slots=True)
class Sleep:
    """One night in one house; `house` is None when the library doesn't hold it."""

    day: DayFigures
    night: Night
    house: Lodging | None
    travellers: tuple[str, ...]

    @property
    def on(self) -> date | None:
        return self.day.on


def sleeps(case: Case) -> Iterator[Sleep]:
    """Every night of every house in which somebody sleeps, but for the night after the last day."""
    for planned, day in case.days():
        for night in planned.day.nights:
            who = sleepers(case.trip.party, planned.number, planned.day, night)
            if who:
                yield Sleep(day, night, case.catalogue.get(Lodging, night.lodging), who)


def without_bed(case: Case, number: int) -> tuple[str, ...]:
    """Guests who stay the night after a day and have no lodging."""
    day = case.day(number)
    housed = {who for night in day.nights for who in sleepers(case.trip.party, number, day, night)}
    return tuple(
        guest.id
        for guest in case.trip.party.travellers
        if guest.sleeps_after(number) and guest.id not in housed
    )
