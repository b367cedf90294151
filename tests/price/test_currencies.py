"""Totals in currencies without cents and with a thousand of them: nothing is lost and nothing is finer."""

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from lacet.price.quote import quote
from lacet.price.shares import by_day, by_service
from lacet.trip.house_rules import HouseRules
from lacet.trip.money import ExchangeRate, Money
from lacet.trip.party import Party, placeholder_party
from lacet.trip.trip import Pricing
from tests.price.small_library import AS_OF, CATALOGUE, VARIANT, trip_of

# ISO 4217: no decimals for the yen, three for the Kuwaiti dinar, two for the euro.
SMALLEST = {"EUR": Decimal("0.01"), "JPY": Decimal(1), "KWD": Decimal("0.001")}


def rates_to(currency: str, euro: Decimal, pound: Decimal) -> tuple[ExchangeRate, ...]:
    rates = (("EUR", euro), ("GBP", pound))
    return tuple(
        ExchangeRate(currency=other, to=currency, rate=rate, on=AS_OF)
        for other, rate in rates
        if other != currency
    )


rate = st.decimals(Decimal("0.2"), Decimal(190), places=6)


@given(
    st.sampled_from(tuple(SMALLEST)),
    rate,
    rate,
    st.integers(1, 7).map(placeholder_party),
    st.booleans(),
    st.sampled_from((1, 5, 100)),
    st.integers(0, 60).map(lambda percent: percent / 100),
)
def test_totals_equal_lines_in_whole_minor_units_of_any_currency(
    currency: str, euro: Decimal, pound: Decimal, party: Party, half_even: bool, step: int, markup: float
) -> None:
    rules = HouseRules(
        exchange_rates=rates_to(currency, euro, pound),
        half_even=half_even,
        round_price_to_minor=step,
        markup_share=markup,
    )
    variant = replace(VARIANT, pricing=Pricing(currency=currency), hires=())
    found = quote(trip_of(variant, party), variant, CATALOGUE, rules, AS_OF)
    assert found.currency == currency
    assert not found.is_from
    assert _sum(line.net for line in found.included) == found.net
    assert _sum(each.price for each in found.per_traveller) == found.total
    assert _sum(payment.amount for payment in found.payments) == found.total
    for parts in (by_day(found), by_service(found)):
        assert _sum(price for *_, price in parts) == found.total
    told = [found.net, found.total, *(line.net for line in found.lines), *(p.amount for p in found.payments)]
    assert all(money.amount % SMALLEST[currency] == 0 for money in told if money is not None)


@given(rate, st.integers(1, 30))
def test_half_up_is_never_below_half_even_and_at_most_a_unit_above(euro: Decimal, guests: int) -> None:
    variant = replace(VARIANT, pricing=Pricing(currency="JPY"), hires=())
    trip = trip_of(variant, placeholder_party(guests))
    rules = HouseRules(exchange_rates=rates_to("JPY", euro, euro), round_price_to_minor=1)
    up, even = (
        quote(trip, variant, CATALOGUE, replace(rules, half_even=each), AS_OF) for each in (False, True)
    )
    for one, other in zip(up.lines, even.lines, strict=True):
        assert one.net is not None
        assert other.net is not None
        assert 0 <= one.net.amount - other.net.amount <= 1


def _sum(parts: Iterable[Money | None]) -> Money:
    known = [money for money in parts if money is not None]
    return sum(known[1:], known[0])
