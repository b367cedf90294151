"""All that an assessment rests on, as one value: handed on whole, never put together twice."""

from dataclasses import dataclass, field
from datetime import date

from lacet.trip.bookings import NO_BOOKINGS, Bookings
from lacet.trip.catalogue import Catalogue
from lacet.trip.commitments import NO_COMMITMENTS, Commitments
from lacet.trip.errors import LacetError
from lacet.trip.house_rules import HouseRules
from lacet.trip.trip import Trip, Variant


class UnknownVariant(LacetError):
    """The trip has no variant of that id."""


@dataclass(frozen=True, slots=True)
class Inputs:
    """One variant of a trip with everything its figures, findings and prices are worked out from.

    Parameters
    ----------
    variant_id
        Which of the trip's variants is meant.
    commitments
        What other trips hold.
    bookings
        What was asked of suppliers for this trip.
    as_of
        Today, for options, release days and prices.

    Raises
    ------
    UnknownVariant
        When the trip has no variant of that id.
    """

    trip: Trip
    variant_id: str
    catalogue: Catalogue
    rules: HouseRules
    commitments: Commitments = NO_COMMITMENTS
    bookings: Bookings = NO_BOOKINGS
    as_of: date = field(kw_only=True)
    variant: Variant = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        found = self.trip.variant(self.variant_id)
        if found is None:
            raise UnknownVariant(
                "Trip '{trip}' has no variant '{variant_id}'.",
                trip=self.trip.name,
                variant_id=self.variant_id,
            )
        object.__setattr__(self, "variant", found)
