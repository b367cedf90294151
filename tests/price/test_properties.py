"""What must hold of any quote: for any party, split, terms and rate."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from lacet.price.amounts import to_minor
from lacet.price.quote import NO_PARTY, quote
from lacet.price.shares import by_day, by_service
from lacet.price.values import Quote
from lacet.trip.catalogue import catalogue_of
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import Ref, Tariff
from lacet.trip.money import ExchangeRate, Money
from lacet.trip.party import NOBODY, Party, Traveller
from lacet.trip.trip import Day, Hire, Pricing, Variant
from lacet.trip.words import Service
from tests.price.small_library import (
    AS_OF,
    CATALOGUE,
    DAYS,
    ITEMS,
    MONDAY,
    REGION,
    RULES,
    TRIP,
    VARIANT,
    euro,
    trip_of,
)


@st.composite
def parties(draw: st.DrawFn) -> Party:
    count = draw(st.integers(1, 7))
    guests = tuple(
        Traveller(
            id=f"t{number}",
            age=draw(st.none() | st.integers(0, 90)),
            from_day=draw(st.sampled_from((1, 1, 1, 2))),
            to_day=draw(st.sampled_from((None, None, 2, 3))),
        )
        for number in range(1, count + 1)
    )
    rooms = [draw(st.integers(0, 3)) for _ in guests]
    sharing = tuple(
        tuple(guest.id for guest, own in zip(guests, rooms, strict=True) if own == room)
        for room in set(rooms)
    )
    return Party(travellers=guests, sharing=sharing)


@st.composite
def rules(draw: st.DrawFn) -> HouseRules:
    shares = st.integers(0, 80).map(lambda percent: percent / 100)
    rate = draw(st.none() | st.decimals(Decimal("0.5"), Decimal(2), places=4))
    rates = () if rate is None else (ExchangeRate(currency="GBP", to="EUR", rate=rate, on=AS_OF),)
    return HouseRules(
        markup_share=draw(shares),
        margin_share=draw(st.none() | shares),
        commission_share=draw(shares),
        round_price_to_minor=draw(st.sampled_from((1, 10, 100, 500))),
        half_even=draw(st.booleans()),
        deposit_share=draw(shares),
        exchange_rates=rates,
    )


DAY_LISTS = st.lists(st.sampled_from(DAYS), min_size=1, max_size=6).map(
    lambda days: tuple(replace(day, id=f"d{number}") for number, day in enumerate(days))
)
HIRES = st.lists(
    st.builds(
        Hire,
        traveller=st.sampled_from(("t1", "t2", "t3")),
        bike=st.sampled_from((None, Ref("volt"), Ref("plain"))),
        from_day=st.integers(1, 3),
    ),
    max_size=3,
).map(tuple)


@given(parties(), DAY_LISTS, HIRES, rules())
def test_totals_equal_lines_and_parts_equal_totals(
    party: Party, days: tuple[Day, ...], hires: tuple[Hire, ...], house: HouseRules
) -> None:
    variant = Variant(id="a", name="A", days=days, hires=hires)
    result = quote(trip_of(variant, party), variant, CATALOGUE, house, AS_OF)
    nothing = euro("0.00")
    assert sum((line.net for line in result.included if line.net), nothing) == result.net
    assert sum((each.net for each in result.per_traveller), nothing) == result.net
    assert sum((each.price for each in result.per_traveller), nothing) == result.total
    assert result.net + result.commission + result.margin == result.total
    assert sum((payment.amount for payment in result.payments), nothing) == result.total
    for parts in (by_day(result), by_service(result)):
        assert sum((net for _, net, _ in parts), nothing) == result.net
        assert sum((price for *_, price in parts), nothing) == (result.total if parts else nothing)
    assert all(to_minor(each.price) % house.round_price_to_minor == 0 for each in result.per_traveller)
    assert result.margin.amount >= -1


@given(parties(), DAY_LISTS, HIRES, rules())
def test_every_line_has_a_price_or_a_reason_and_never_both(
    party: Party, days: tuple[Day, ...], hires: tuple[Hire, ...], house: HouseRules
) -> None:
    variant = Variant(id="a", name="A", days=days, hires=hires)
    result = quote(trip_of(variant, party), variant, CATALOGUE, house, AS_OF)
    for line in result.lines:
        assert (line.net is None) == (line.unknown is not None) == bool(line.reason_unknown)
        assert line.travellers
        if line.net is not None and line.each is not None:
            exact = line.each.amount * line.quantity * (line.exchange or 1)
            assert abs(line.net.amount - exact) <= Decimal("0.005")
    assert result.is_from == any(line.net is None for line in result.included)


@given(st.sets(st.sampled_from([item.id for item in ITEMS if isinstance(item, Tariff)])))
def test_a_tariff_taken_away_never_counts_as_nothing(gone: set[str]) -> None:
    # Fixed costs and the visitor tax exist only by their tariff: without it there is nothing to charge.
    optional = {"fixed-notes", "fixed-maps", "visitor_tax-", "crater"}
    left = catalogue_of(tuple(item for item in ITEMS if item.id not in gone), region=REGION)
    whole, less = (quote(TRIP, VARIANT, each, RULES, AS_OF) for each in (CATALOGUE, left))
    used = {line.tariff.id for line in whole.included if line.tariff} - optional
    assert less.is_from == bool(used & gone)
    lost = sum(
        (line.net for line in whole.included if line.net and line.tariff and line.tariff.id in gone),
        euro("0"),
    )
    assert less.net == whole.net - lost


@given(st.permutations(range(4)), st.integers(0, 3), st.integers(0, 3))
def test_moving_a_day_away_and_back_changes_nothing(order: list[int], start: int, end: int) -> None:
    days = tuple(DAYS[index] for index in order)
    before = _of(days)
    moved = list(days)
    moved.insert(end, moved.pop(start))
    _of(tuple(moved))
    moved.insert(start, moved.pop(end))
    assert _of(tuple(moved)) == before


@given(DAY_LISTS)
def test_what_is_kept_from_earlier_never_changes_an_answer(days: tuple[Day, ...]) -> None:
    # Equal days that are other objects, and another catalogue, share nothing with what was kept.
    fresh = tuple(replace(day) for day in days)
    anew = catalogue_of(ITEMS, region=REGION)
    variant = replace(VARIANT, days=fresh)
    assert quote(trip_of(variant), variant, anew, replace(RULES), AS_OF) == _of(days)


@given(parties())
def test_guests_with_the_same_services_pay_the_same(party: Party) -> None:
    alike = replace(party, travellers=tuple(Traveller(id=guest.id) for guest in party.travellers))
    by_sharing: dict[int, set[Money]] = {}
    result = _of((*DAYS[:2], DAYS[3]), alike, hires=())
    sizes = {guest: len(group) for group in alike.sharing for guest in group}
    for each in result.per_traveller:
        by_sharing.setdefault(sizes[each.traveller], set()).add(each.price)
    # Houses may run out of small rooms; with one or two to a room the doubles of the library suffice.
    if max(sizes.values()) <= 2 and len(alike.sharing) <= 4:
        assert all(len(prices) == 1 for prices in by_sharing.values())


def test_a_later_day_of_asking_changes_dates_and_no_price() -> None:
    now, later = (quote(TRIP, VARIANT, CATALOGUE, RULES, AS_OF + timedelta(days=days)) for days in (0, 20))
    assert now.total == later.total
    assert later.valid_until - now.valid_until == timedelta(days=20)


def test_deposit_and_balance_fall_due_as_the_house_has_it() -> None:
    result = quote(TRIP, VARIANT, CATALOGUE, RULES, AS_OF)
    deposit, balance = result.payments
    assert (deposit.amount, deposit.due) == (euro("360.75"), AS_OF + timedelta(days=14))
    assert (balance.amount, balance.due) == (euro("1082.25"), MONDAY - timedelta(days=56))
    (all_at_once,) = quote(TRIP, VARIANT, CATALOGUE, RULES, MONDAY - timedelta(days=40)).payments
    assert all_at_once.amount == result.total


def test_a_quote_in_another_currency_is_converted_at_the_newest_rate_known_by_then() -> None:
    rates = tuple(
        ExchangeRate(currency="EUR", to="JPY", rate=Decimal(rate), on=AS_OF + timedelta(days=days))
        for rate, days in (("160", -30), ("170", -1), ("999", 1))
    )
    variant = replace(VARIANT, pricing=Pricing(currency="JPY", markup_share=0.0), days=(DAYS[0],), hires=())
    house = replace(RULES, exchange_rates=rates)
    result = quote(trip_of(variant), variant, CATALOGUE, house, AS_OF)
    taxi = next(line for line in result.lines if line.service is Service.TRANSFER)
    assert taxi.net == Money(Decimal(48 * 170), "JPY")
    assert taxi.exchange == 170
    assert result.total.currency == "JPY"


def test_without_a_party_the_price_is_for_two_and_says_so() -> None:
    result = quote(trip_of(VARIANT, NOBODY), VARIANT, CATALOGUE, RULES, AS_OF)
    assert len(result.per_traveller) == 2
    assert result.is_from
    assert result.assumptions == (NO_PARTY,)


def _of(days: tuple[Day, ...], party: Party = TRIP.party, hires: tuple[Hire, ...] = VARIANT.hires) -> Quote:
    variant = replace(VARIANT, days=days, hires=hires)
    return quote(trip_of(variant, party), variant, CATALOGUE, RULES, AS_OF)
