"""Lines of a quote. A line knows its price and its tariff, or why it has none: never both, never neither."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum

from lacet.trip.library import Ref
from lacet.trip.money import Money
from lacet.trip.words import Board, MealKind, Payer, Service, Unit


class Unknown(StrEnum):
    """Why a line has no price."""

    NO_TARIFF = "no_tariff"
    NOT_VALID = "not_valid"
    SEASON_GAP = "season_gap"
    NO_RATE = "no_rate"
    NO_EXCHANGE_RATE = "no_exchange_rate"
    NOT_CHOSEN = "not_chosen"
    NOT_IN_LIBRARY = "not_in_library"
    UNREADABLE = "unreadable"


@dataclass(frozen=True, slots=True, kw_only=True)
class QuoteLine:
    """One service at one price.

    Attributes
    ----------
    subject
        Id of the library item it is about, or "" where there is none.
    item
        Where in the variant it comes from: an item's, a day's or a traveller's id; "" for the whole trip.
    day
        1-based, None = the whole trip.
    quantity, unit, each
        So many units at so much each, in the tariff's currency; `each` None = unknown.
    exchange
        Units of the quote's currency for one of `each`'s; None = the same currency.
    exchange_on
        The day that rate was stored for.
    net
        quantity x each x exchange in the quote's currency, rounded to the minor unit; None = unknown.
    travellers
        Who it is for; they share it equally.
    unknown, reason_unknown
        Why there is no price, as a word and as a sentence.
    assumed
        What was taken for granted, so that the price is a lowest price; "" = nothing.
    refundable
        A deposit that comes back: told, never in a price.
    sharing
        How many sleep in each room; None = no room.
    stay_nights, minimum_nights
        Length of the stay and the least the rate is meant for.
    board, meal
        The board a night's line brings its travellers to; the meal a line is for.
    """

    service: Service
    subject: str = ""
    item: str = ""
    day: int | None = None
    says: str
    quantity: Decimal
    unit: Unit
    each: Money | None = None
    exchange: Decimal | None = None
    exchange_on: date | None = None
    net: Money | None = None
    payer: Payer = Payer.INCLUDED
    travellers: tuple[str, ...] = ()
    tariff: Ref | None = None
    unknown: Unknown | None = None
    reason_unknown: str = ""
    assumed: str = ""
    refundable: bool = False
    room_kind: str = ""
    sharing: int | None = None
    stay_nights: int | None = None
    minimum_nights: int = 1
    board: Board | None = None
    meal: MealKind | None = None

    @property
    def in_price(self) -> bool:
        """Whether the line belongs to the price of the trip."""
        return self.payer is Payer.INCLUDED and not self.refundable
