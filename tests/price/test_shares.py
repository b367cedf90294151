"""What days add to the price a head, and the price a head itself."""

from dataclasses import replace
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from lacet.price.quote import quote
from lacet.price.shares import a_head_by_day, price_a_head, shares_of
from lacet.price.values import Quote
from lacet.trip.catalogue import Catalogue, catalogue_of
from lacet.trip.house_rules import HouseRules
from lacet.trip.party import placeholder_party
from lacet.trip.trip import Day
from tests.price.small_library import AS_OF, CATALOGUE, DAYS, ITEMS, REGION, RULES, VARIANT, euro, trip_of


def priced(
    days: tuple[Day, ...] = DAYS, guests: int = 3, rules: HouseRules = RULES, library: Catalogue = CATALOGUE
) -> Quote:
    variant = replace(VARIANT, days=days, hires=())
    return quote(trip_of(variant, placeholder_party(guests)), variant, library, rules, AS_OF)


def test_a_day_is_worth_its_net_at_the_terms_shared_by_all() -> None:
    # Day 1: 42 rep, 48 taxi, 102 dinners, 118 + 82.50 rooms = 392.50; 1.25 on top, for three.
    first = a_head_by_day(priced())[1]
    assert first == euro(str((Decimal("392.50") * Decimal("1.25") / 3).quantize(Decimal("0.01"))))
    # 416 twice for those who share a room and 500 for the one alone (see the worked quote), by three.
    assert price_a_head(priced()) == euro("444.00")


def test_an_equal_day_costs_the_same_whatever_stands_around_it() -> None:
    alone, among = a_head_by_day(priced(DAYS[:1])), a_head_by_day(priced(DAYS))
    assert alone[1] == among[1]
    assert alone[None] == among[None]


@given(
    st.lists(st.sampled_from(DAYS), min_size=1, max_size=5),
    st.integers(1, 6),
    st.integers(0, 90).map(lambda percent: percent / 100),
)
def test_days_add_up_to_the_price_a_head_but_for_what_rounding_adds(
    days: list[Day], guests: int, markup: float
) -> None:
    named = tuple(replace(day, id=f"d{number}") for number, day in enumerate(days))
    rules = replace(RULES, markup_share=markup, round_price_to_minor=1)
    found = priced(named, guests, rules)
    parts = [money.amount for money in a_head_by_day(found).values() if money is not None]
    whole = price_a_head(found)
    assert whole is not None
    assert abs(sum(parts) - whole.amount) <= Decimal("0.005") * (len(parts) + 2)
    assert sum(shares_of(found).values()) == found.net.amount * 100


def test_a_day_with_an_unknown_line_is_not_known_and_the_others_are() -> None:
    less = catalogue_of(tuple(item for item in ITEMS if item.id != "restaurant-pans"), region=REGION)
    found = a_head_by_day(priced(library=less))
    assert found[1] is None
    assert all(found[day] is not None for day in (2, 3, 4))


def test_a_guest_who_stays_to_the_last_day_is_priced_by_room_and_one_who_leaves_before_is_not() -> None:
    party = placeholder_party(3)
    variant = replace(VARIANT, hires=())

    def by_room(to_day: int | None) -> set[str]:
        first = replace(party.travellers[0], to_day=to_day)
        trip = trip_of(variant, replace(party, travellers=(first, *party.travellers[1:])))
        found = quote(trip, variant, CATALOGUE, RULES, AS_OF)
        return {guest for room in found.by_room for guest in room.travellers}

    last = len(variant.days)
    assert by_room(None) == by_room(last) == by_room(last + 1)
    assert by_room(None) - by_room(last - 1) == {party.travellers[0].id}
