"""An issued quote, kept as it was: plain data that JSON can hold, with what it was made from.

A frozen quote is never reckoned again. Whether it still holds is told by comparing digests, and what has
changed by comparing it with a new quote. The trip, the variant and the house rules of that day are kept
beside it, and its bookings within the trip's data, where they once lay; tariffs need not be, since the
library keeps every version and the lines name theirs.
"""

from dataclasses import dataclass
from typing import Any

from lacet.price.values import Quote
from lacet.trip.bookings import NO_BOOKINGS, Booking, Bookings
from lacet.trip.errors import LacetError
from lacet.trip.house_rules import HouseRules
from lacet.trip.plain import from_plain, to_plain
from lacet.trip.trip import Trip

FORMAT = 1


class FrozenQuoteUnread(LacetError):
    """A stored quote of a form this version doesn't know."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FrozenQuote:
    """A quote as it was issued, and its inputs; those that weren't kept with it are None."""

    quote: Quote
    inputs_digest: str
    trip: Trip | None = None
    variant: str | None = None
    rules: HouseRules | None = None
    bookings: Bookings | None = None


def freeze(
    quote: Quote,
    inputs_digest: str,
    *,
    trip: Trip | None = None,
    variant: str | None = None,
    rules: HouseRules | None = None,
    bookings: Bookings = NO_BOOKINGS,
) -> dict[str, Any]:
    """A quote as plain data, with all it was made from: the trip, the id of its variant, rules, bookings."""
    plain = {"format": FORMAT, "inputs": inputs_digest, "quote": to_plain(quote)}
    if trip is not None:
        plain["trip"] = to_plain(trip) | (
            {"bookings": [to_plain(each) for each in bookings]} if bookings else {}
        )
    if variant is not None:
        plain["variant"] = variant
    if rules is not None:
        plain["rules"] = to_plain(rules)
    return plain


def thaw(data: object) -> FrozenQuote:
    """The quote that was frozen, equal to what it was.

    Raises
    ------
    FrozenQuoteUnread
        When the data isn't a frozen quote of this form.
    NotPlain
        When a part of it is missing, unknown or of the wrong type; the sentence names the place.
    """
    if not isinstance(data, dict) or data.get("format") != FORMAT or not isinstance(data.get("inputs"), str):
        raise FrozenQuoteUnread(
            "The stored quote can't be read by this version of Lacet; open it with the version that made it."
        )
    trip = data.get("trip")
    booked: Bookings | None = None
    if isinstance(trip, dict):
        booked = Bookings(from_plain(tuple[Booking, ...], trip.get("bookings", [])))
        trip = {name: part for name, part in trip.items() if name != "bookings"}
    return FrozenQuote(
        quote=from_plain(Quote, data.get("quote")),
        inputs_digest=data["inputs"],
        trip=from_plain(Trip, trip) if "trip" in data else None,
        bookings=booked,
        variant=data.get("variant"),
        rules=from_plain(HouseRules, data["rules"]) if "rules" in data else None,
    )
