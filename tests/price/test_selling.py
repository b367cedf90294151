"""Mark-up, margin and commission: exact, and never one for the other."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lacet.price.selling import (
    margin_of_markup,
    markup_of_margin,
    price_holding_commission,
    price_with_margin,
    price_with_markup,
    share,
    terms_of,
)
from lacet.trip.house_rules import HouseRules
from lacet.trip.trip import Pricing

SHARES = st.fractions(0, Fraction(9, 10), max_denominator=1000)
NETS = st.integers(0, 10**7).map(Fraction)


def test_a_quarter_on_top_is_a_fifth_within() -> None:
    assert margin_of_markup(Fraction(1, 4)) == Fraction(1, 5)
    assert price_with_markup(Fraction(80), Fraction(1, 4)) == 100
    assert price_with_margin(Fraction(80), Fraction(1, 4)) == Fraction(320, 3)


@given(NETS, SHARES)
def test_a_markup_and_its_margin_make_one_price(net: Fraction, markup: Fraction) -> None:
    margin = margin_of_markup(markup)
    assert margin == markup / (1 + markup)
    assert markup_of_margin(margin) == markup
    price = price_with_markup(net, markup)
    assert price_with_margin(net, margin) == price
    assert price - net == margin * price == markup * net


@given(NETS, SHARES)
def test_commission_is_a_share_of_what_the_client_pays(price: Fraction, commission: Fraction) -> None:
    paid = price_holding_commission(price, commission)
    assert paid - commission * paid == price


def test_a_share_is_meant_as_written() -> None:
    assert share(0.1) == Fraction(1, 10)
    assert share(1e-05) == Fraction(1, 100_000)


@pytest.mark.parametrize(
    ("pricing", "rules", "expected"),
    [
        (Pricing(), HouseRules(markup_share=0.25), Fraction(125)),
        (Pricing(), HouseRules(markup_share=0.25, margin_share=0.5), Fraction(200)),
        (Pricing(markup_share=0.1), HouseRules(margin_share=0.5), Fraction(110)),
        (Pricing(margin_share=0.2), HouseRules(), Fraction(125)),
        (Pricing(markup_share=0.0, commission_share=0.5), HouseRules(), Fraction(200)),
    ],
)
def test_what_the_variant_says_replaces_what_the_house_says(
    pricing: Pricing, rules: HouseRules, expected: Fraction
) -> None:
    assert terms_of(pricing, rules).exact(Fraction(100)) == expected


def test_a_price_is_rounded_to_the_cent_before_it_is_raised() -> None:
    terms = terms_of(Pricing(markup_share=0.0), HouseRules(round_price_to_minor=100))
    # A third of a cent above the euro is the euro; a whole cent above is the next one.
    assert terms.price(Fraction(10_000) + Fraction(1, 3)) == 10_000
    assert terms.price(Fraction(10_001)) == 10_100
    to_the_cent = replace(terms, step_minor=1, half_even=True)
    assert to_the_cent.price(Fraction(25, 2)) == 12
