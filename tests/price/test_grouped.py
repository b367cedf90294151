"""Lines in groups: nothing is lost between line, group and total, whoever pays."""

from dataclasses import replace
from decimal import Decimal

import pytest

from lacet.price.grouped import LineGroup, PricedLine, lines_by_day, lines_by_kind
from lacet.price.lines import QuoteLine, Unknown
from lacet.price.values import Quote
from lacet.trip.money import Money
from lacet.trip.words import Payer
from tests.price.test_demo_quote import priced

TRIPS = ("coast-to-crater", "ridge-and-lane", "salt-and-apples")


def added(parts: list[Money]) -> Decimal:
    return sum((part.amount for part in parts), Decimal(0))


def groups(quote: Quote, by_day: bool) -> tuple[LineGroup, ...]:
    return lines_by_day(quote) if by_day else lines_by_kind(quote)


@pytest.mark.parametrize("trip", TRIPS)
@pytest.mark.parametrize("by_day", [True, False])
def test_lines_add_up_to_their_group_and_groups_to_the_total(trip: str, by_day: bool) -> None:
    quote = priced(trip)
    found = groups(quote, by_day)
    assert added([group.price for group in found]) == quote.total.amount
    assert added([group.net for group in found]) == quote.net.amount
    for group in found:
        parts = [each.price for each in group.lines if each.line.in_price and each.price is not None]
        assert added(parts) == group.price.amount
    assert sum(len(group.lines) for group in found) == len(quote.lines)


def test_days_come_in_order_and_the_whole_trip_last() -> None:
    keys = [group.key for group in lines_by_day(priced(TRIPS[0]))]
    assert keys == [1, 2, 3, 4, 5, 6, 7, 8, 9, None]


def test_an_unknown_line_has_no_price_and_its_group_says_from() -> None:
    quote = priced(TRIPS[0])
    first = quote.lines[0]
    unknown = replace(first, net=None, each=None, unknown=Unknown.NO_TARIFF, reason_unknown="no tariff")
    group = lines_by_day(replace(quote, lines=(unknown, *quote.lines[1:])))[0]
    assert group.is_from
    assert next(each for each in group.lines if each.line is unknown).price is None


def test_what_is_paid_locally_costs_guests_what_the_tariff_says() -> None:
    lines = [each for group in lines_by_day(priced(TRIPS[0])) for each in group.lines]
    local = [each for each in lines if each.line.payer is Payer.LOCALLY]
    assert local
    assert all(each.price == each.line.net for each in local)


def group_of(quote: Quote, *lines: QuoteLine) -> LineGroup:
    parts = tuple(PricedLine(line=line, price=None) for line in lines)
    return LineGroup(key=1, net=quote.net, price=quote.total, lines=parts)


def test_a_group_says_from_only_for_what_is_unknown_in_the_price() -> None:
    quote = priced(TRIPS[0])
    known = next(line for line in quote.lines if line.day == 1 and line.in_price)
    unknown = replace(known, net=None, each=None, unknown=Unknown.NO_TARIFF, reason_unknown="no tariff")
    assert not group_of(quote, known).is_from
    assert group_of(quote, known, unknown).is_from
    assert group_of(quote, replace(known, assumed="lowest price")).is_from
    assert not group_of(quote, known, replace(unknown, payer=Payer.OWN)).is_from
