"""What a quote's workbook is about, and the names in it. The office's copy adds the quote itself."""

from dataclasses import dataclass

from lacet.price.selling_prices import SellingPrices
from lacet.price.words import guest_names
from lacet.trip.catalogue import Catalogue
from lacet.trip.edits import letter
from lacet.trip.trip import Trip, Variant


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """One variant and its selling prices, which may be those of an earlier day."""

    trip: Trip
    variant: Variant
    prices: SellingPrices
    catalogue: Catalogue

    @property
    def title(self) -> str:
        """'Coast to crater, A: Nine days, mixed'."""
        return f"{self.trip.name}, {letter(self.trip, self.variant.id)}: {self.variant.name}"

    @property
    def guests(self) -> tuple[str, ...]:
        """Names in the order of the quote's prices."""
        return tuple(guest_names(self.prices, self.trip.party).values())
