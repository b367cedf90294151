"""Rounding, raising and splitting against published definitions, and that splitting loses nothing."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lacet.price.amounts import (
    amount_text,
    from_minor,
    minor_digits,
    raise_to,
    round_fraction,
    rounded,
    split,
    to_minor,
)
from lacet.trip.money import Money

# ISO 4217, list one, as amended to 2024: every current code with other than two decimals (from memory).
NONE = ("BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "UYI", "VND", "VUV")
FRANCS = ("XAF", "XOF", "XPF")
THREE = ("BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND")
FOUR = ("CLF", "UYW")
# Two in the standard, although hardly anybody writes them there.
TWO = ("EUR", "GBP", "USD", "CHF", "HUF", "CZK", "ALL", "RSD", "LBP", "MMK", "AFN", "YER", "TWD", "IDR")

# Halves: IEEE 754-2019 (ties to even); half up as in Council Regulation (EC) No 1103/97, Article 5.
HALVES = (
    ("0.125", "0.12", "0.13"),
    ("2.675", "2.68", "2.68"),
    ("1.005", "1.00", "1.01"),
    ("10.045", "10.04", "10.05"),
)


@pytest.mark.parametrize("codes", [(NONE, 0), (FRANCS, 0), (TWO, 2), (THREE, 3), (FOUR, 4)])
def test_minor_units_are_those_of_the_standard(codes: tuple[tuple[str, ...], int]) -> None:
    currencies, digits = codes
    assert {code: minor_digits(code) for code in currencies} == dict.fromkeys(currencies, digits)


@pytest.mark.parametrize(("amount", "even", "up"), HALVES)
def test_halves_go_to_the_even_cent_or_up(amount: str, even: str, up: str) -> None:
    money = Money(Decimal(amount), "EUR")
    assert str(rounded(money, half_even=True).amount) == even
    assert str(rounded(money, half_even=False).amount) == up
    exact = Fraction(amount) * 100
    assert from_minor(round_fraction(exact, half_even=True), "EUR") == rounded(money, half_even=True)
    assert from_minor(round_fraction(exact), "EUR") == rounded(money)


def test_halves_of_refunds_go_away_from_zero() -> None:
    assert str(rounded(Money(Decimal("-1.005"), "EUR")).amount) == "-1.01"
    assert round_fraction(Fraction(-5, 2)) == -3
    assert round_fraction(Fraction(-5, 2), half_even=True) == -2


def test_a_yen_has_no_cents_and_a_dinar_has_a_thousand() -> None:
    assert to_minor(rounded(Money(Decimal("1234.5"), "JPY"))) == 1235
    assert to_minor(rounded(Money(Decimal("1.2345"), "KWD"))) == 1235
    assert str(from_minor(1235, "KWD").amount) == "1.235"


def test_raising_goes_to_the_next_multiple_and_leaves_a_multiple_alone() -> None:
    assert [raise_to(count, 100) for count in (1, 100, 101)] == [100, 100, 200]
    assert raise_to(101, 1) == 101


def test_a_hundred_euro_for_three_leaves_the_cent_with_the_first() -> None:
    assert split(10_000, (1, 1, 1)) == (3334, 3333, 3333)


def test_nothing_can_be_split_among_nobody_but_something_cannot() -> None:
    assert split(0, ()) == ()
    with pytest.raises(ValueError, match="nobody"):
        split(1, ())


@given(st.integers(-(10**7), 10**7), st.lists(st.integers(0, 10**5), min_size=1, max_size=12))
def test_splitting_never_loses_a_cent_and_never_strays_by_one(total: int, weights: list[int]) -> None:
    parts = split(total, weights)
    assert sum(parts) == total
    whole = sum(weights) or len(weights)
    for part, weight in zip(parts, weights, strict=True):
        assert abs(part - Fraction(total * (weight if sum(weights) else 1), whole)) < 1


@given(st.integers(-(10**9), 10**9), st.sampled_from(("EUR", "JPY", "KWD", "CLF")))
def test_minor_units_there_and_back_are_the_same(count: int, currency: str) -> None:
    assert to_minor(from_minor(count, currency)) == count


@pytest.mark.parametrize(
    ("amount", "currency", "said"),
    [("34", "EUR", "34.00"), ("34.5", "JPY", "34.5"), ("7", "JPY", "7"), ("0.1", "KWD", "0.100"),
     ("66.935", "EUR", "66.935"), ("1E+2", "EUR", "100.00")],
)  # fmt: skip
def test_an_amount_is_written_with_the_decimals_of_its_currency(
    amount: str, currency: str, said: str
) -> None:
    assert amount_text(Money(Decimal(amount), currency)) == said
