"""What a quote's workbook is about, and the names in it."""

from dataclasses import dataclass

from lacet.price.values import Quote
from lacet.price.words import guest_names
from lacet.trip.catalogue import Catalogue
from lacet.trip.edits import letter
from lacet.trip.trip import Trip, Variant


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """One variant and its quote, which may be an issued one of an earlier day."""

    trip: Trip
    variant: Variant
    quote: Quote
    catalogue: Catalogue

    @property
    def title(self) -> str:
        """'Coast to crater, A: Nine days, mixed'."""
        return f"{self.trip.name}, {letter(self.trip, self.variant.id)}: {self.variant.name}"

    @property
    def guests(self) -> tuple[str, ...]:
        """Names in the order of the quote's prices."""
        return tuple(guest_names(self.quote, self.trip.party).values())
