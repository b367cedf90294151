"""Money: a decimal amount in one ISO 4217 currency. Never a float, never two currencies in one sum."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from lacet.trip.errors import LacetError
from lacet.trip.texts import LibraryText


class CurrencyMismatch(LacetError):
    """Two currencies met in one sum; convert at a stored rate first."""


@dataclass(frozen=True, slots=True)
class Money:
    """An amount in a currency named by its ISO 4217 code.

    Raises
    ------
    CurrencyMismatch
        When amounts in two currencies are added, subtracted or compared.
    """

    amount: Decimal
    currency: LibraryText

    def __add__(self, other: "Money") -> "Money":
        self._same_currency(other)
        return Money(self.amount + other.amount, self.currency)

    def __sub__(self, other: "Money") -> "Money":
        self._same_currency(other)
        return Money(self.amount - other.amount, self.currency)

    def __mul__(self, factor: int | Decimal) -> "Money":
        return Money(self.amount * factor, self.currency)

    __rmul__ = __mul__

    def __neg__(self) -> "Money":
        return Money(-self.amount, self.currency)

    def __lt__(self, other: "Money") -> bool:
        self._same_currency(other)
        return self.amount < other.amount

    def _same_currency(self, other: "Money") -> None:
        if self.currency != other.currency:
            raise CurrencyMismatch(
                "{currency} and {currency_2} can't be added up; set a rate between them first.",
                currency=self.currency,
                currency_2=other.currency,
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class ExchangeRate:
    """What one unit of `currency` is worth in `to`, as it stood on a day."""

    currency: str
    to: str
    rate: Decimal
    on: date
