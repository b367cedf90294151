"""What a check gets to read: a day with the evening before it, or one variant whole, at one date.

What a check is handed is what it rests on. A `DayCase` holds nothing of other days, so a finding about a day
can't come to rest on them unseen, and holds until the day or what is common to all days changes.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from lacet.figures.values import DayFigures, GroupFigures, VariantFigures
from lacet.inputs import Inputs
from lacet.price.quote import Quote
from lacet.trip.bookings import LIVE
from lacet.trip.catalogue import Catalogue
from lacet.trip.commitments import Commitments
from lacet.trip.hires import hires_by_day
from lacet.trip.house_rules import HouseRules
from lacet.trip.itinerary import ItineraryDay
from lacet.trip.party import Traveller
from lacet.trip.trip import Day, Hire, Trip


class Ground:
    """What every case holds, whatever it can see of the days."""

    __slots__ = ()
    trip: Trip
    variant_id: str
    catalogue: Catalogue
    rules: HouseRules
    commitments: Commitments
    as_of: date
    kept: dict[str, Any]
    asked: bool

    def day(self, number: int) -> Day:
        """The planned day of a 1-based number."""
        raise NotImplementedError

    def hires_on(self, number: int) -> tuple[Hire, ...]:
        """The hires that cover a day (1-based), in the variant's order."""
        raise NotImplementedError

    def traveller(self, traveller_id: str) -> Traveller:
        """A guest who is known to be in the party.

        Raises
        ------
        KeyError
            When the id isn't in the party: itinerary and figures only name those who are.
        """
        return self.guests[traveller_id]

    @property
    def guests(self) -> Mapping[str, Traveller]:
        """The party by id, in its order."""
        kept: dict[str, Traveller] | None = self.kept.get("guests")
        if kept is None:
            kept = self.kept["guests"] = {guest.id: guest for guest in self.trip.party.travellers}
        return kept

    def place_name(self, place_id: str | None) -> str:
        """A place as a person says it."""
        if place_id is None:
            return "on the way"
        return self.catalogue.place_name(place_id)


@dataclass(frozen=True, slots=True)
class Evening:
    """The evening of a day: which day it is, and as `day` its nights and meals, without the rest of it."""

    number: int
    id: str
    on: date | None
    day: Day


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class DayCase(Ground):
    """One day, the evening before it, and what holds for every day.

    Attributes
    ----------
    trip
        Party, dates and crossings only: its variants are left out.
    asked
        Whether suppliers were asked for anything: the dates of the trip then stand.
    before
        The evening before, None on the first day.
    last
        How many days the variant has.
    hires
        Those that cover the day.
    """

    trip: Trip
    variant_id: str
    catalogue: Catalogue
    rules: HouseRules
    commitments: Commitments
    as_of: date
    asked: bool
    number: int
    planned: ItineraryDay
    figures: DayFigures
    before: Evening | None
    last: int
    hires: tuple[Hire, ...]
    kept: dict[str, Any] = field(default_factory=dict, repr=False)
    """What several checks look up in the same case, by the name of what was looked up."""

    @property
    def is_last(self) -> bool:
        """Whether no day follows: nobody sleeps after it."""
        return self.number == self.last

    def day(self, number: int) -> Day:
        """This day as planned, or nights and meals of the one before.

        Raises
        ------
        ValueError
            For any other day: what is said of a day rests on these two alone.
        """
        if number == self.number:
            return self.planned.day
        if self.before is None or number != self.before.number:
            raise ValueError(f"Day {number} can't be seen from day {self.number}.")
        return self.before.day

    def hires_on(self, number: int) -> tuple[Hire, ...]:
        if number != self.number:
            raise ValueError(f"Hires of day {number} can't be seen from day {self.number}.")
        return self.hires

    def evening(self, number: int) -> Evening | DayFigures:
        """Which night is meant: that of this day, or of the one before."""
        return self.before if self.before is not None and number == self.before.number else self.figures

    def groups(self) -> Iterator[tuple[DayFigures, GroupFigures]]:
        """Each group of the day."""
        for group in self.figures.groups:
            yield self.figures, group


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Case(Inputs, Ground):
    """Everything a check of the whole trip may look at: the inputs and what was worked out from them.

    Days of `itinerary`, `figures.days` and `variant.days` run parallel.
    """

    itinerary: tuple[ItineraryDay, ...]
    figures: VariantFigures
    quote: Quote
    asked: bool
    kept: dict[str, Any] = field(default_factory=dict, repr=False)
    """What several checks look up in the same case, by the name of what was looked up."""

    def groups(self) -> Iterator[tuple[DayFigures, GroupFigures]]:
        """Each group of each day."""
        for day in self.figures.days:
            for group in day.groups:
                yield day, group

    def hires_on(self, number: int) -> tuple[Hire, ...]:
        kept: list[tuple[Hire, ...]] | None = self.kept.get("hires")
        if kept is None:
            kept = self.kept["hires"] = hires_by_day(self.variant)
        return kept[number - 1]

    def day(self, number: int) -> Day:
        return self.variant.days[number - 1]


def case_of(
    inputs: Inputs, itinerary: tuple[ItineraryDay, ...], figures: VariantFigures, quote: Quote
) -> Case:
    """The inputs with what was worked out from them."""
    return Case(
        trip=inputs.trip,
        variant_id=inputs.variant_id,
        catalogue=inputs.catalogue,
        rules=inputs.rules,
        commitments=inputs.commitments,
        bookings=inputs.bookings,
        as_of=inputs.as_of,
        itinerary=itinerary,
        figures=figures,
        quote=quote,
        asked=any(booking.state in LIVE for booking in inputs.bookings),
    )
