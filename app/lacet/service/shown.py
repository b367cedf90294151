"""What a session shows: what is pointed at, a variant with its assessment, the open trip."""

from dataclasses import dataclass, field

from lacet.assess import Assessment
from lacet.store import Position
from lacet.trip.bookings import NO_BOOKINGS, Bookings
from lacet.trip.trip import Trip, Variant


@dataclass(frozen=True, slots=True)
class Selection:
    """What the person points at: a day (0-based column), a row of the sheet, a group of the day, a card."""

    day: int | None = None
    row: str = ""
    group: int = 0
    item: str | None = None


@dataclass(frozen=True, slots=True)
class Shown:
    """One variant of a trip with its assessment: what views draw, be it kept or only tried out."""

    trip: Trip
    variant_id: str
    assessment: Assessment
    bookings: Bookings = NO_BOOKINGS

    @property
    def variant(self) -> Variant:
        found = self.trip.variant(self.variant_id)
        assert found is not None, "the session keeps a variant of its trip selected"
        return found


@dataclass(frozen=True, slots=True)
class Opened(Shown):
    """The open trip as the person sees it; `revision` is the last that is known to be saved."""

    revision: int = field(kw_only=True)
    position: Position = field(kw_only=True)


def still_there(trip: Trip, variant_id: str) -> str:
    """The variant, or the first where an edit took it away."""
    return variant_id if trip.variant(variant_id) is not None else trip.variants[0].id
