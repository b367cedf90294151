"""What a check gets to read: one variant with its figures and its price, at one date."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from lacet.figures.values import DayFigures, GroupFigures, VariantFigures
from lacet.inputs import Inputs
from lacet.price.quote import Quote
from lacet.trip.itinerary import ItineraryDay
from lacet.trip.party import Traveller
from lacet.trip.trip import Day


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Case(Inputs):
    """Everything a check may look at: the inputs and what was worked out from them.

    Days of `itinerary`, `figures.days` and `variant.days` run parallel.
    """

    itinerary: tuple[ItineraryDay, ...]
    figures: VariantFigures
    quote: Quote
    kept: dict[str, Any] = field(default_factory=dict, repr=False)
    """What several checks look up in the same case, by the name of what was looked up."""

    def days(self) -> Iterator[tuple[ItineraryDay, DayFigures]]:
        """Each day as planned and as reckoned."""
        yield from zip(self.itinerary, self.figures.days, strict=True)

    def groups(self) -> Iterator[tuple[DayFigures, GroupFigures]]:
        """Each group of each day."""
        for day in self.figures.days:
            for group in day.groups:
                yield day, group

    def day(self, number: int) -> Day:
        """The planned day of a 1-based number."""
        return self.variant.days[number - 1]

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
        as_of=inputs.as_of,
        itinerary=itinerary,
        figures=figures,
        quote=quote,
    )
