"""VAT on the margin against published worked examples."""

from dataclasses import replace
from fractions import Fraction

import pytest

from lacet.price.amounts import from_minor, round_fraction
from lacet.price.margin_vat import CAUTION, margin_of, margin_vat, mixed_margin, own_share, vat_contained
from lacet.price.quote import quote
from tests.price.small_library import AS_OF, CATALOGUE, RULES, TRIP, VARIANT, euro

GERMAN = Fraction(19, 100)
BRITISH = Fraction(20, 100)


def test_the_german_example_of_a_journey_by_rail_and_hotel() -> None:
    # UStAE section 25.3, paragraph 1, example 1 (state 15.12.2023): 440 euro a head, 40 guests,
    # 3 200 for the railway, 12 000 for the hotel; margin 60.00, VAT in it 9.58 a head.
    rail, hotel = Fraction(320_000, 40), Fraction(1_200_000, 40)
    assert rail == 8_000
    margin = margin_of(Fraction(44_000), rail + hotel)
    assert margin == 6_000
    assert round_fraction(vat_contained(margin, GERMAN)) == 958


def test_the_german_example_of_own_coaches_and_bought_in_hotels() -> None:
    # UStAE section 25.3, paragraph 4, old version, as reprinted in a commentary on section 25 UStG.
    own, bought = Fraction(500_000), Fraction(2_000_000)
    assert own_share(own, bought) == Fraction(20, 100)
    assert mixed_margin(Fraction(2_700_000), own, bought) == 160_000


@pytest.mark.parametrize(
    ("price", "bought", "vat"),
    [(2_000_00, 1_700_00, 50_00), (200_000_00, 0, 33_333_33), (120_00, 100_00, 3_33)],
)
def test_british_illustrations_take_a_sixth(price: int, bought: int, vat: int) -> None:
    # Accountants' illustrations that follow HMRC Notice 709/5 (the notice's own figures weren't found).
    assert round_fraction(vat_contained(margin_of(Fraction(price), Fraction(bought)), BRITISH)) == vat


def test_a_loss_bears_no_vat() -> None:
    assert vat_contained(Fraction(-100), GERMAN) == 0


def test_a_quote_shows_vat_only_where_the_house_uses_the_scheme() -> None:
    priced = quote(TRIP, VARIANT, CATALOGUE, RULES, AS_OF)
    assert margin_vat(priced, RULES) is None
    found = margin_vat(priced, replace(RULES, margin_scheme=True))
    assert found is not None
    # By hand: net 1153.42, of it own services 42 + 60 + 45 = 147.00; price 1443.00.
    own_price = Fraction(144_300 * 14_700, 115_342)
    margin = 144_300 - own_price - (115_342 - 14_700)
    assert found.bought_in == euro("1006.42")
    assert found.margin == from_minor(round_fraction(margin), "EUR") == euro("252.67")
    assert found.own_price == euro("183.91")
    assert found.vat_on_margin == euro("40.34")
    assert found.vat_on_own == euro("29.36")
    assert found.caution == CAUTION
