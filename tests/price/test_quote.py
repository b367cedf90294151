"""The quote as a whole: a worked one to the cent, and what must hold of any."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest

from lacet.price.quote import quote
from lacet.price.values import Quote
from tests.price.small_library import AS_OF, CATALOGUE, RULES, TRIP, VARIANT, euro


def priced() -> Quote:
    return quote(TRIP, VARIANT, CATALOGUE, RULES, AS_OF)


def test_a_worked_quote_is_right_to_the_cent() -> None:
    # Reckoned by hand, in cents, without any function of the program. Exchange 1.1623.
    shared_by_all = 4800 + 4200 + 6000  # one taxi of three seats, an hour of the rep, route notes
    dinner = 3400
    maps = 1500
    bags = 2 * 1250  # a bag each, moved twice
    half_board = 2750
    # The forge asks per head in pounds: 2 x 54.20 x 1.1623 = 125.993..., 71.35 x 1.1623 = 82.930...
    forge_shared, forge_alone = 12599, 8293
    weir_double, weir_alone = 2 * 11800, 2 * 8250
    volt = 3 * 2800  # three days at 28.00 are less than the hire at 95.00
    helmet = 500
    each = dinner + maps + bags + half_board
    net = shared_by_all + 3 * each + forge_shared + forge_alone + weir_double + weir_alone + volt + helmet

    # Shares: t1 and t2 halve the double rooms (the forge's odd cent stays a half until prices are made).
    base = shared_by_all / 3 + each
    t2 = base + weir_double / 2 + forge_shared / 2
    t1 = t2 + volt + helmet
    t3 = base + weir_alone + forge_alone
    assert (t1, t2, t3) == (42149.5, 33249.5, 39943.0)
    # 25 % on top: 526.86875, 415.61875, 499.2875; then up to the next whole euro.
    prices = ("527", "416", "500")

    result = priced()
    assert result.net == euro("1153.42") == euro(str(Decimal(net) / 100))
    assert [each.price for each in result.per_traveller] == [euro(f"{price}.00") for price in prices]
    assert result.total == euro("1443.00")
    assert result.margin == euro("289.58")
    assert not result.is_from


def test_a_converted_line_names_the_day_of_its_rate_and_the_supplement_what_it_costs() -> None:
    result = quote(TRIP, VARIANT, CATALOGUE, RULES, AS_OF)
    rates = {line.exchange: line.exchange_on for line in result.lines if line.exchange is not None}
    assert rates == {Decimal("1.1623"): date(2026, 11, 20)}
    # Weir twice 82.50 - 118.00 / 2, Forge (71.35 - 54.20) pounds x 1.1623; a quarter on top, whole euros.
    net = 2 * (Decimal("82.50") - 59) + Decimal("82.93") - Decimal("125.99") / 2
    assert result.single_supplement_net == euro(str(net)) == euro("66.935")
    assert result.single_supplement == euro("84.00")


@pytest.mark.parametrize(
    ("start", "valid_until"),
    [
        (None, AS_OF + timedelta(days=RULES.quote_valid_days)),
        (AS_OF + timedelta(days=RULES.quote_valid_days + 1), AS_OF + timedelta(days=RULES.quote_valid_days)),
        (AS_OF + timedelta(days=3), AS_OF + timedelta(days=3)),
        (AS_OF - timedelta(days=3), AS_OF),
    ],
)
def test_a_quote_holds_for_its_days_but_never_past_the_start(start: date | None, valid_until: date) -> None:
    assert quote(replace(TRIP, start=start), VARIANT, CATALOGUE, RULES, AS_OF).valid_until == valid_until


def test_all_is_due_at_once_from_the_day_on_which_the_balance_is() -> None:
    def asked(days_to_balance: int) -> list[str]:
        start = AS_OF + timedelta(days=RULES.balance_days + days_to_balance)
        found = quote(replace(TRIP, start=start), VARIANT, CATALOGUE, RULES, AS_OF)
        return [each.says for each in found.payments]

    assert asked(0) == ["full amount"]
    assert asked(1) == ["deposit", "balance"]
