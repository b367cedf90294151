"""One doubt about a price, as a value, and the words its sentences share."""

from dataclasses import dataclass
from enum import StrEnum

from lacet.language import Text
from lacet.trip.finding import COMMON_PRACTICE
from lacet.trip.money import Money


class DoubtKind(StrEnum):
    NO_PRICE = "no_price"
    SEASON_GAP = "season_gap"
    EXPIRED_TARIFF = "expired_tariff"
    ASSUMED = "assumed"
    MINIMUM_NIGHTS = "minimum_nights"
    ALLOTMENT = "allotment"
    RELEASED = "released"
    PAID_TWICE = "paid_twice"
    BOOKED_FOR_LESS = "booked_for_less"
    PRICE_RISEN = "price_risen"
    TOO_LATE_TO_RAISE = "too_late_to_raise"


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubt:
    """One thing to doubt. `figure` was held against `limit`, both in `unit`; None = there is no number."""

    kind: DoubtKind
    day: int | None
    subject: str
    says: Text
    figure: float | None = None
    limit: float | None = None
    unit: str = ""
    source: str = COMMON_PRACTICE


def said(money: Money) -> str:
    """An amount as a sentence has it."""
    return f"{money.amount} {money.currency}"


def counted(count: int, thing: str) -> str:
    """A number of things, one or more."""
    return f"{count} {thing}" if count == 1 else f"{count} {thing}s"
