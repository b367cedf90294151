"""How figures are said: what is worked out without Babel is what Babel says, units are the edge's alone."""

from datetime import date, timedelta
from decimal import Decimal

import pytest
from babel.dates import format_date
from babel.numbers import format_currency
from hypothesis import given
from hypothesis import strategies as st

from lacet.trip.money import Money
from lacet.wording import ENGLISH, SHORT_DAYS, SYMBOLS, Wording, speaking, spoken

MILES = Wording("en_US", imperial=True)


@pytest.mark.parametrize("pattern", SHORT_DAYS)
def test_english_days_are_said_as_babel_says_them(pattern: str) -> None:
    for number in range(366):
        on = date(2028, 1, 1) + timedelta(days=number)
        assert ENGLISH.day(on, pattern) == format_date(on, pattern, locale="en_GB")


@given(st.decimals(-(10**9), 10**9, places=2), st.sampled_from(sorted(SYMBOLS)))
def test_english_money_is_said_as_babel_says_it(amount: Decimal, currency: str) -> None:
    assert ENGLISH.money(Money(amount, currency)) == format_currency(amount, currency, locale="en_GB")


@pytest.mark.parametrize(
    ("said", "imperial"),
    [
        ("8.5 mi", MILES.length(13_680)),
        ("1770 ft", MILES.height(540)),
        ("1122 ft", MILES.spot_height(342)),
        ("1120 ft", MILES.away(340)),
        ("0.9 mi", MILES.away(1_400)),
    ],
)
def test_a_mile_is_1609_metres_and_a_foot_is_305_millimetres(said: str, imperial: str) -> None:
    """By the international agreement of 1959 (1 ft = 0.3048 m, 1 mi = 1609.344 m), worked out by hand."""
    assert imperial == said


def test_round_sums_are_said_without_cents_in_every_language() -> None:
    whole, cents = Money(Decimal("1087.00"), "EUR"), Money(Decimal("1087.50"), "EUR")
    assert ENGLISH.round_money(whole) == "€1,087"
    assert Wording("de_DE").round_money(whole, starting=True).replace("\xa0", " ") == "from 1.087 €"
    assert Wording("de_DE").round_money(cents).replace("\xa0", " ") == "1.087,50 €"


def test_what_is_spoken_holds_within_its_block_and_no_longer() -> None:
    with speaking(MILES):
        assert spoken() is MILES
    with pytest.raises(ZeroDivisionError), speaking(MILES):
        raise ZeroDivisionError
    assert spoken() is ENGLISH
