"""A quote as a value: what it holds and what can be read off it. Frozen, and plain enough for JSON."""

from dataclasses import dataclass
from datetime import date

from lacet.price.lines import QuoteLine
from lacet.price.selling_prices import Payment, RoomPrice
from lacet.trip.money import Money
from lacet.trip.words import Payer


@dataclass(frozen=True, slots=True, kw_only=True)
class TravellerPrice:
    """One guest's part: the net parts add up to the quote's net, the prices to its total."""

    traveller: str
    net: Money
    price: Money


@dataclass(frozen=True, slots=True, kw_only=True)
class ExtraPrice:
    """An optional extra at selling price, a head and for all who may take it; None = unknown."""

    line: QuoteLine
    a_head: Money | None
    price: Money | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Quote:
    """What a variant costs.

    Attributes
    ----------
    lines
        Every line, by day and then for the whole trip, whoever pays.
    net, total
        Sum of the included lines that are known; sum of the travellers' prices.
    commission, margin
        Parts of the total: what the agent keeps, and what is left after net prices and commission.
    markup_share, margin_share, commission_share
        The terms used; of mark-up and margin the other is None.
    single_supplement, single_supplement_net
        Selling price of sleeping alone on every night, and what it costs, unrounded (half a room may end on
        half a cent); None while unknown.
    assumptions
        What was taken for granted for the whole quote.
    """

    currency: str
    as_of: date
    valid_until: date
    lines: tuple[QuoteLine, ...]
    net: Money
    total: Money
    commission: Money
    margin: Money
    markup_share: float | None
    margin_share: float | None
    commission_share: float
    per_traveller: tuple[TravellerPrice, ...]
    by_room: tuple[RoomPrice, ...]
    single_supplement: Money | None
    extras: tuple[ExtraPrice, ...]
    payments: tuple[Payment, ...]
    assumptions: tuple[str, ...] = ()
    single_supplement_net: Money | None = None

    @property
    def is_from(self) -> bool:
        """Whether the price is only a lowest price, since something in it is unknown or assumed."""
        return bool(self.assumptions) or any(line.net is None or line.assumed for line in self.included)

    @property
    def nothing_known(self) -> bool:
        """Whether no service in it has a price: such a total is unknown, and never zero."""
        return self.is_from and not self.total.amount

    @property
    def included(self) -> tuple[QuoteLine, ...]:
        """Lines that make the price."""
        return tuple(line for line in self.lines if line.in_price)

    @property
    def apart(self) -> tuple[QuoteLine, ...]:
        """Lines in nobody's price: paid locally, by the guests themselves, or coming back."""
        return tuple(
            line for line in self.lines if line.refundable or line.payer in (Payer.LOCALLY, Payer.OWN)
        )

    @property
    def unknown(self) -> tuple[QuoteLine, ...]:
        """Lines without a price, whoever pays."""
        return tuple(line for line in self.lines if line.net is None)
