"""Which rate holds, and what is said where none does."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lacet.price.lines import Unknown
from lacet.price.season import InSeason, SeasonUnread, in_plain_season
from lacet.price.tariffs import Ask, TariffBook, When
from lacet.trip.filing import filed_under
from lacet.trip.library import Rate, Tariff
from lacet.trip.words import Board, Service, Unit
from tests.price.small_library import rate, tariff

DAY = date(2027, 5, 10)
ROOM = Ask(
    service=Service.LODGING, subject="h", unit=Unit.ROOM_NIGHT, room_kind="double", board=Board.BREAKFAST
)


def book_of(tariffs: tuple[Tariff, ...], in_season: InSeason) -> TariffBook:
    return TariffBook(lambda key: [each for each in tariffs if key in filed_under(each)], in_season)


def book(*rates: Rate) -> TariffBook:
    return book_of((tariff(Service.LODGING, "h", *rates),), in_plain_season)


def amount(found_in: TariffBook, ask: Ask = ROOM, on: date = DAY) -> str:
    found = found_in.find(ask, When(on))
    return str(found.unknown) if found.rate is None else str(found.rate.amount.amount)


@pytest.mark.parametrize(
    "narrower",
    [
        {"room_kind": "double"},
        {"season": "05-01..05-31"},
        {"season": "2027-05-10..2027-05-10"},
        {"weekdays": (0,)},
        {"board": Board.BREAKFAST},
        {"age_from": 18},
    ],
)
def test_the_rate_that_says_more_about_the_case_wins(narrower: dict[str, Any]) -> None:
    plain, special = rate(Unit.ROOM_NIGHT, "100"), rate(Unit.ROOM_NIGHT, "90", **narrower)
    assert amount(book(plain, special)) == amount(book(special, plain)) == "90"


@pytest.mark.parametrize(
    "other",
    [
        {"room_kind": "attic"},
        {"season": "11-01..03-15"},
        {"weekdays": (1, 2)},
        {"age_to": 11},
        {"single_use": True},
    ],
)
def test_a_rate_for_another_case_is_never_taken(other: dict[str, Any]) -> None:
    assert amount(book(rate(Unit.ROOM_NIGHT, "90", **other))) in {"no_rate", "season_gap"}


def test_a_season_over_new_year_holds_on_both_sides_of_it() -> None:
    winter = book(rate(Unit.ROOM_NIGHT, "90", season="11-01..03-15"))
    days = {date(2027, 3, 15): "90", date(2027, 3, 16): "season_gap", date(2027, 11, 1): "90"}
    assert {day: amount(winter, on=day) for day in days} == days


def test_a_long_stay_has_its_own_rate_and_a_short_one_does_not() -> None:
    both = book(rate(Unit.ROOM_NIGHT, "100"), rate(Unit.ROOM_NIGHT, "80", minimum_nights=3))
    asked = [replace(ROOM, nights=nights) for nights in (1, 2, 3, 4)]
    assert [amount(both, ask) for ask in asked] == ["100", "100", "80", "80"]


def test_a_stay_too_short_for_every_rate_gets_the_least_demanding_one() -> None:
    long_only = book(
        rate(Unit.ROOM_NIGHT, "80", minimum_nights=7), rate(Unit.ROOM_NIGHT, "90", minimum_nights=3)
    )
    assert amount(long_only) == "90"


def test_a_tariff_that_ended_is_not_taken_and_says_when_it_ended() -> None:
    old = book_of((tariff(Service.LODGING, "h", rate(Unit.ROOM_NIGHT, "90")),), in_plain_season)
    found = old.find(ROOM, When(date(2028, 1, 1)))
    assert (found.rate, found.unknown) == (None, Unknown.NOT_VALID)
    assert "2027-12-31" in found.says


def test_of_two_valid_tariffs_the_newer_speaks_first_and_the_older_fills_its_gaps() -> None:
    older = tariff(Service.LODGING, "h", rate(Unit.ROOM_NIGHT, "90"), id="older")
    newer = tariff(
        Service.LODGING,
        "h",
        rate(Unit.ROOM_NIGHT, "95", weekdays=(0,)),
        id="newer",
        valid_from=date(2027, 5, 1),
    )
    both = book_of((older, newer), in_plain_season)
    assert [amount(both, on=on) for on in (DAY, date(2027, 5, 11), date(2027, 4, 26))] == ["95", "90", "90"]


def test_a_season_nobody_can_read_makes_the_price_unknown_and_says_so() -> None:
    found = book(rate(Unit.ROOM_NIGHT, "90", season="when the cider runs")).find(ROOM, When(DAY))
    assert found.unknown is Unknown.UNREADABLE
    assert "when the cider runs" in found.says
    with pytest.raises(SeasonUnread, match="when the cider runs"):
        in_plain_season("when the cider runs", DAY)


def test_another_reader_of_seasons_can_be_handed_in() -> None:
    fitted = tariff(Service.LODGING, "h", rate(Unit.ROOM_NIGHT, "90", season="any"))
    assert amount(book_of((fitted,), lambda text, day: text == "any")) == "90"


def test_without_a_date_the_lowest_price_is_taken_and_marked() -> None:
    seasons = book(
        rate(Unit.ROOM_NIGHT, "90", season="05-01..05-15"),
        rate(Unit.ROOM_NIGHT, "110", season="05-16..06-30"),
    )
    as_of = date(2026, 12, 31)
    may, june = (seasons.find(ROOM, When(None, month, as_of)) for month in (5, 6))
    assert may.rate is not None
    assert june.rate is not None
    assert (may.rate.amount.amount, bool(may.assumed)) == (Decimal(90), True)
    assert (june.rate.amount.amount, bool(june.assumed)) == (Decimal(110), False)
    assert seasons.find(ROOM, When(None, 7, as_of)).unknown is Unknown.SEASON_GAP
    whole_year = seasons.find(ROOM, When(None, None, as_of))
    assert whole_year.rate == may.rate
    assert whole_year.assumed


FLEETS = st.lists(st.tuples(st.integers(1, 9), st.integers(1, 200)), min_size=1, max_size=4)


@given(FLEETS, st.integers(1, 14))
def test_the_vehicles_found_carry_everyone_at_the_least_cost(
    kinds: list[tuple[int, int]], people: int
) -> None:
    rates = tuple(rate(Unit.VEHICLE, str(cost), vehicle_seats=seats) for seats, cost in kinds)
    taxis = book_of((tariff(Service.TRANSFER, "t", *rates),), in_plain_season)
    found = taxis.vehicles("t", people, None, When(DAY))
    assert sum((each.vehicle_seats or 0) * count for each, count in found.picks) >= people
    cost = sum(int(each.amount.amount) * count for each, count in found.picks)
    assert cost == _least_cost(kinds, people)


def _least_cost(kinds: list[tuple[int, int]], people: int) -> int:
    """By trying every number of every kind: slow and plain."""
    if people <= 0:
        return 0
    if not kinds:
        return 10**9
    (seats, cost), *others = kinds
    most = -(-people // seats)
    return min(count * cost + _least_cost(others, people - count * seats) for count in range(most + 1))


def test_of_equal_cost_the_fewest_vehicles_go() -> None:
    rates = (rate(Unit.VEHICLE, "40", vehicle_seats=4), rate(Unit.VEHICLE, "80", vehicle_seats=8))
    taxis = book_of((tariff(Service.TRANSFER, "t", *rates),), in_plain_season)
    assert taxis.vehicles("t", 7, None, When(DAY)).picks == ((rates[1], 1),)


def test_the_book_knows_a_tariff_by_its_newest_version() -> None:
    newest: tuple[Tariff, ...] = (tariff(Service.LODGING, "h", rate(Unit.ROOM_NIGHT, "90"), version=2),)
    found = book_of(newest, in_plain_season).find(ROOM, When(DAY))
    assert found.tariff is newest[0]


SEASONS = st.sampled_from(("", "", "05-01..09-30", "11-15..02-10", "2027-04-10..2027-05-02; 07-01..07-07"))
RATES = st.builds(
    lambda amount, season, weekdays, board: rate(
        Unit.ROOM_NIGHT, str(amount), season=season, weekdays=weekdays, board=board
    ),
    st.integers(50, 60),
    SEASONS,
    st.sampled_from(((), (), (4, 5), (0,))),
    st.sampled_from((None, Board.BREAKFAST, Board.HALF_BOARD)),
)
FROM = st.sampled_from((date(2026, 1, 1), date(2027, 1, 1)))
TO = st.sampled_from((date(2027, 3, 31), date(2027, 6, 30), date(2029, 1, 1)))
VALID = st.tuples(FROM, TO)
TARIFFS = st.lists(st.tuples(VALID, st.lists(RATES, min_size=1, max_size=4)), min_size=1, max_size=3)


@given(TARIFFS, st.none() | st.integers(1, 12))
def test_without_a_date_the_price_is_the_least_of_asking_for_every_day(
    drawn: list[tuple[tuple[date, date], list[Rate]]], month: int | None
) -> None:
    tariffs = tuple(
        tariff(Service.LODGING, "h", *rates, id=f"t{number}", valid_from=valid[0], valid_to=valid[1])
        for number, (valid, rates) in enumerate(drawn)
    )
    asked = book_of(tariffs, in_plain_season)
    undated = When(None, month, DAY)
    every = [asked.find(ROOM, When(day)) for day in undated.days()]
    prices = [None if each.rate is None else each.rate.amount.amount for each in every]
    known = [price for price in prices if price is not None]
    found = book_of(tariffs, in_plain_season).find(ROOM, undated)
    assert (found.rate and found.rate.amount.amount) == (min(known) if known else None)
    assert bool(found.assumed) == (bool(known) and set(prices) != {min(known)})
    if not known:
        assert found == every[-1]
