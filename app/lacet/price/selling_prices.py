"""What clients may know of a price: selling prices, what is payable locally, deposits. Nothing else is here.

No net price, margin, commission or tariff is part of these values, so what is made from them can't show one.
Documents for clients read these values only; `price/offering.py` makes them from a quote.
"""

from dataclasses import dataclass
from datetime import date

from lacet.trip.money import Money
from lacet.trip.words import Payer, Service

NO_PARTY = "reckoned for two sharing a room, as the trip has no party yet"


@dataclass(frozen=True, slots=True, kw_only=True)
class GuestPrice:
    """What one guest pays."""

    traveller: str
    price: Money


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomPrice:
    """The price per person for adults on the whole trip in these kinds of room, so many sharing one."""

    room_kinds: tuple[str, ...]
    sharing: tuple[int, ...]
    price: Money
    travellers: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Payment:
    """Something to pay by a date (None while the trip has no start)."""

    says: str
    amount: Money
    due: date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedService:
    """A service without its price. `day` is 1-based, None = the whole trip; `subject` a library item's id.

    `reason_unknown` says why the office doesn't know its price yet; '' = it does.
    """

    service: Service
    says: str
    payer: Payer
    day: int | None = None
    subject: str = ""
    reason_unknown: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ExtraOffered:
    """An optional extra at its selling price per person; None = unknown."""

    service: NamedService
    per_person: Money | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PaidToOthers:
    """What guests pay there, for all of them, or a deposit they get back; None = unknown."""

    service: NamedService
    amount: Money | None
    refundable: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SellingPrices:
    """A quote as its clients see it.

    Attributes
    ----------
    total
        Sum of the guests' prices; a lowest price where `is_from`, and unknown where `nothing_known`.
    some_unknown
        Whether the price of a service in it is unknown or assumed.
    included, apart
        Services in the price; those paid locally or by the guests themselves, and refundable deposits.
    unknown
        Services without a price, whoever pays.
    """

    currency: str
    as_of: date
    valid_until: date
    total: Money
    is_from: bool
    nothing_known: bool
    some_unknown: bool
    per_traveller: tuple[GuestPrice, ...]
    by_room: tuple[RoomPrice, ...]
    single_supplement: Money | None
    extras: tuple[ExtraOffered, ...]
    payments: tuple[Payment, ...]
    assumptions: tuple[str, ...]
    included: tuple[NamedService, ...]
    apart: tuple[PaidToOthers, ...]
    unknown: tuple[NamedService, ...]
