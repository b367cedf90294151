"""What was sold, held against what it costs now."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest

from lacet.assess import assess
from lacet.checks.price_sold import ID
from lacet.inputs import Inputs
from lacet.price.rise import PACKAGE_DIRECTIVE
from lacet.trip import edits
from lacet.trip.finding import Finding, Level
from lacet.trip.house_rules import HouseRules
from lacet.trip.money import Money
from lacet.trip.plain import from_plain, to_plain
from lacet.trip.trip import Accepted, Trip
from tests.price.small_library import AS_OF, CATALOGUE, MONDAY, RULES, TRIP, euro

COSTS_NOW = euro("1443.00")


def found(trip: Trip, as_of: date = AS_OF, rules: HouseRules = RULES) -> list[Finding]:
    told = assess(Inputs(trip, "a", CATALOGUE, rules, as_of=as_of))
    return [each for each in told.findings if each.check == ID]


def sold(price: str | None) -> Trip:
    return edits.accept(TRIP, "a", revision=3, price=None if price is None else euro(price), on=AS_OF)


def days_before(count: int) -> date:
    return MONDAY - timedelta(days=count)


def test_the_trip_still_costs_what_the_tables_below_take_it_to_cost() -> None:
    assert assess(Inputs(TRIP, "a", CATALOGUE, RULES, as_of=AS_OF)).quote.total == COSTS_NOW


@pytest.mark.parametrize("price", ["1443.00", "1500.00"])
def test_a_price_that_holds_or_fell_is_not_spoken_of(price: str) -> None:
    assert found(sold(price)) == []


# 1443.00 is 8 % more than 1336.11, to the cent: Directive (EU) 2015/2302, Article 10(2), 'exceeds 8 %'.
@pytest.mark.parametrize(
    ("price", "level", "says"),
    [("1336.12", Level.NOTE, "if the contract lets you"), ("1336.10", Level.WARN, "may end the contract")],
)
def test_above_eight_per_cent_the_client_may_end_the_contract(price: str, level: Level, says: str) -> None:
    (told,) = found(sold(price))
    assert told.level is level
    assert says in str(told.says)
    assert "1443.00" in str(told.says)
    assert told.source == PACKAGE_DIRECTIVE


# Article 10(3): at the latest 20 days before the start.
@pytest.mark.parametrize(("left", "late"), [(20, False), (19, True)])
def test_in_the_last_twenty_days_nothing_can_be_raised(left: int, late: bool) -> None:
    (told,) = found(sold("1400.00"), days_before(left))
    assert ("can't be raised" in str(told.says)) is late
    assert (told.level is Level.WARN) is late


def test_only_the_variant_the_client_said_yes_to_is_held_to_its_price() -> None:
    trip = sold("1000.00")
    other = edits.copy_variant(trip, "a", "Other")
    told = assess(Inputs(other, other.variants[1].id, CATALOGUE, RULES, as_of=AS_OF)).findings
    assert [each for each in told if each.check == ID] == []


def test_what_nobody_wrote_down_and_another_currency_are_told() -> None:
    (unknown,) = found(sold(None))
    assert "Nobody has written down" in str(unknown.says)
    accepted = Accepted(variant="a", revision=3, price=Money(Decimal("1200.00"), "GBP"))
    (foreign,) = found(replace(TRIP, accepted=accepted))
    assert str(foreign.says).startswith("Sold at 1200.00 GBP and now priced in EUR")
    assert {unknown.level, foreign.level} == {Level.NOTE}


def test_a_trip_accepted_before_prices_were_written_down_is_still_read() -> None:
    plain = to_plain(sold("1443.00"))
    assert plain["accepted"] == {"variant": "a", "revision": 3, "price": "1443.00 EUR", "on": "2026-11-25"}
    old = plain | {"accepted": {"variant": "a", "revision": 3}}
    assert from_plain(Trip, old).accepted == Accepted(variant="a", revision=3)
