"""What every line maker needs at hand, and the one place where a rate becomes a line."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Any

from lacet.price.amounts import rounded
from lacet.price.lines import QuoteLine, Unknown
from lacet.price.tariffs import Ask, Found, TariffBook, When
from lacet.trip.catalogue import Catalogue
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import Rate, Ref, Tariff
from lacet.trip.money import ExchangeRate
from lacet.trip.party import Party
from lacet.trip.trip import Trip, Variant
from lacet.trip.words import Payer
from lacet.wording import NO_CURRENCY

NOT_SET = "the currency to sell in isn't set; set it under 'Region' in the settings"


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Costing:
    """One variant about to be priced: whom it is for, at whose tariffs, in which currency."""

    trip: Trip
    variant: Variant
    party: Party
    catalogue: Catalogue
    rules: HouseRules
    book: TariffBook
    currency: str
    as_of: date
    ages: Mapping[str, int | None]

    def when(self, number: int) -> When:
        """The date of a day (1-based), or what is known of it."""
        on = self.trip.date_of(number)
        return When(None, self.trip.month, self.as_of) if on is None else When(on)

    def there(self, number: int, named: tuple[str, ...] | None) -> tuple[str, ...]:
        """Ids of those of the named (None = everybody) who are with the party on a day."""
        return tuple(
            guest.id
            for guest in self.party.travellers
            if guest.there_on(number) and (named is None or guest.id in named)
        )

    def by_rate(
        self, ask: Ask, travellers: tuple[str, ...], when: When, among: tuple[Tariff, ...] | None = None
    ) -> Iterator[tuple[Found, tuple[str, ...]]]:
        """Part travellers by the rate their age falls under. `among` narrows the search to some tariffs."""
        parted: dict[int, tuple[Found, list[str]]] = {}
        for traveller in travellers:
            found = self.book.find(replace(ask, age=self.ages[traveller]), when, among)
            parted.setdefault(id(found.rate), (found, []))[1].append(traveller)
        for found, group in parted.values():
            yield found, tuple(group)

    def lines(self, found: Found, quantity: Decimal | int, **what: Any) -> Iterator[QuoteLine]:
        """A line for each rate found, or the one that says why there is none.

        `what` are fields of the line. The quantity counts each rate found so many times.
        """
        if not found.picks:
            yield self.unknown(found.unknown or Unknown.NO_RATE, found.says, quantity=quantity, **what)
        for rate, count in found.picks:
            yield self._line(found, rate, Decimal(quantity) * count, what)

    def unknown(self, why: Unknown, reason: str, *, quantity: Decimal | int, **what: Any) -> QuoteLine:
        """A line without a price."""
        return QuoteLine(
            unknown=why, reason_unknown=f"{what['says']}: {reason}", quantity=Decimal(quantity), **what
        )

    def _line(self, found: Found, rate: Rate, quantity: Decimal, what: dict[str, Any]) -> QuoteLine:
        assert found.tariff is not None
        payer = what.get("payer", Payer.INCLUDED)
        if found.tariff.paid_locally and payer in (Payer.INCLUDED, Payer.OPTIONAL):
            # A tax on a night that may be added is the house's to ask for, too; nobody marks it up.
            payer = Payer.LOCALLY
        known = what | {
            "payer": payer,
            "unit": rate.unit,
            "each": rate.amount,
            "tariff": Ref(found.tariff.id, found.tariff.version),
            "minimum_nights": rate.minimum_nights,
        }
        net = rate.amount * quantity
        if net.currency == self.currency:
            net = rounded(net, self.rules.half_even)
            return QuoteLine(quantity=quantity, net=net, assumed=found.assumed, **known)
        return self._converted(quantity, rate, known, found.assumed)

    def _converted(self, quantity: Decimal, rate: Rate, known: dict[str, Any], assumed: str) -> QuoteLine:
        currency = rate.amount.currency
        exchange = exchange_rate(self.rules.exchange_rates, currency, self.currency, self.as_of)
        if self.currency == NO_CURRENCY:
            return self.unknown(Unknown.NO_EXCHANGE_RATE, NOT_SET, quantity=quantity, **known)
        if exchange is None:
            says = f"the house rules have no exchange rate from {currency} to {self.currency}"
            return self.unknown(Unknown.NO_EXCHANGE_RATE, says, quantity=quantity, **known)
        net = replace(rate.amount * quantity * exchange.rate, currency=self.currency)
        return QuoteLine(
            quantity=quantity,
            net=rounded(net, self.rules.half_even),
            exchange=exchange.rate,
            exchange_on=exchange.on,
            assumed=assumed,
            **known,
        )


def exchange_rate(
    rates: tuple[ExchangeRate, ...], currency: str, to: str, as_of: date
) -> ExchangeRate | None:
    """The newest stored rate in this direction that isn't younger than `as_of`.

    The other direction is never turned round: who buys a currency doesn't get the rate of who sells it.
    """
    known = (rate for rate in rates if rate.currency == currency and rate.to == to and rate.on <= as_of)
    return max(known, key=lambda rate: rate.on, default=None)
