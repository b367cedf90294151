"""What there is to doubt about a price, with its figure and limit."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction

import pytest

from lacet.price.doubt import DoubtKind
from lacet.price.doubts import doubts
from lacet.price.quote import quote
from lacet.price.rise import PACKAGE_DIRECTIVE, package_doubts, price_rise
from lacet.trip.bookings import NO_BOOKINGS, Booking, Bookings
from lacet.trip.commitments import NO_COMMITMENTS, Commitments
from lacet.trip.library import LibraryItem
from lacet.trip.money import CurrencyMismatch, Money
from lacet.trip.trip import Day, Trip, Variant
from lacet.trip.words import Board, BookingState, Payer, Service, Unit
from tests.price.small_library import (
    AS_OF,
    DINNER_OUT,
    FORGE,
    MONDAY,
    RULES,
    THREE,
    WEIR,
    catalogue_with,
    euro,
    rate,
    tariff,
    trip_of,
)

TWO_NIGHTS = Variant(
    id="a", name="A", days=(Day(id="d1", nights=(WEIR,)), Day(id="d2", nights=(FORGE,)), Day(id="d3"))
)
NIGHT = Variant(id="a", name="A", days=(Day(id="d1", nights=(WEIR,)), Day(id="d2")))
BOOKED = Booking(
    id="b",
    service=Service.LODGING,
    supplier="weir",
    from_day=MONDAY,
    to_day=MONDAY,
    state=BookingState.CONFIRMED,
)

Told = list[tuple[str, int | None, float | None, float | None]]


def told(
    variant: Variant,
    *items: LibraryItem,
    trip: Trip | None = None,
    bookings: Bookings = NO_BOOKINGS,
    commitments: Commitments = NO_COMMITMENTS,
    as_of: date = AS_OF,
) -> Told:
    catalogue = catalogue_with(*items)
    asked = trip_of(variant) if trip is None else trip
    found = doubts(quote(asked, variant, catalogue, RULES, as_of), asked, catalogue, bookings, commitments)
    return [(doubt.kind, doubt.day, doubt.figure, doubt.limit) for doubt in found]


def weir(*rates_: object, **what: object) -> LibraryItem:
    return tariff(Service.LODGING, "weir", *rates_, **what)  # type: ignore[arg-type]  # rates, as the helper takes


def test_a_sound_quote_leaves_nothing_to_doubt() -> None:
    assert told(TWO_NIGHTS) == []


def test_a_gap_between_seasons_is_told_for_the_night_it_falls_on() -> None:
    assert told(NIGHT, weir(rate(Unit.ROOM_NIGHT, "90", season="06-01..09-30"))) == [
        (DoubtKind.SEASON_GAP, 1, None, None),
        (DoubtKind.SEASON_GAP, 1, None, None),
    ]


def test_a_tariff_that_has_ended_is_told() -> None:
    ended = weir(rate(Unit.ROOM_NIGHT, "90"), valid_to=MONDAY - timedelta(days=1))
    assert {kind for kind, *_ in told(NIGHT, ended)} == {DoubtKind.EXPIRED_TARIFF}


def test_a_stay_shorter_than_the_rate_is_meant_for_is_told_once_with_both_figures() -> None:
    long_only = weir(rate(Unit.ROOM_NIGHT, "90", minimum_nights=3))
    assert told(NIGHT, long_only) == [(DoubtKind.MINIMUM_NIGHTS, 1, 1.0, 3.0)]
    three = Variant(
        id="a", name="A", days=(*(Day(id=f"d{n}", nights=(WEIR,)) for n in range(3)), Day(id="last"))
    )
    assert told(three, long_only) == []


def test_rooms_of_other_trips_count_against_the_allotment() -> None:
    taken = Commitments(taken={(Service.LODGING, "weir", "double", MONDAY): 1})
    assert told(NIGHT, commitments=taken) == [(DoubtKind.ALLOTMENT, 1, 3.0, 2.0)]
    elsewhere = Commitments(taken={(Service.LODGING, "weir", "double", MONDAY + timedelta(days=1)): 9})
    assert told(NIGHT, commitments=elsewhere) == []


def test_rooms_past_their_release_day_are_told_unless_they_are_held() -> None:
    held = weir(rate(Unit.ROOM_NIGHT, "90"), release_days=30)
    late = MONDAY - timedelta(days=29)
    assert told(NIGHT, held, as_of=late) == [(DoubtKind.RELEASED, 1, 29.0, 30.0)]
    assert told(NIGHT, held, as_of=MONDAY - timedelta(days=30)) == []
    assert told(NIGHT, held, bookings=Bookings((BOOKED,)), as_of=late) == []


def test_half_board_and_dinner_elsewhere_on_one_evening_is_told() -> None:
    board = replace(WEIR, board=Board.HALF_BOARD)
    both = Variant(id="a", name="A", days=(Day(id="d1", nights=(board,), meals=(DINNER_OUT,)), Day(id="d2")))
    kinds = [(kind, figure) for kind, _, figure, _ in told(both)]
    assert kinds == [(DoubtKind.PAID_TWICE, 2.0), (DoubtKind.PAID_TWICE, 1.0)]
    own = replace(DINNER_OUT, payer=Payer.OWN)
    assert told(replace(both, days=(replace(both.days[0], meals=(own,)), both.days[1]))) == []


def test_a_supplier_who_now_asks_more_than_booked_is_told() -> None:
    # 118.00 + 82.50 by tariff.
    booked = Bookings((replace(BOOKED, price=euro("160.40")),))
    assert told(NIGHT, bookings=booked) == [(DoubtKind.BOOKED_FOR_LESS, 1, 0.25, 0.0)]
    agreed = Bookings((replace(BOOKED, price=euro("200.50")),))
    assert told(NIGHT, bookings=agreed) == []


def test_a_trip_without_a_date_says_that_its_price_is_assumed() -> None:
    undated = trip_of(NIGHT, THREE, None)
    seasons = weir(rate(Unit.ROOM_NIGHT, "90"), rate(Unit.ROOM_NIGHT, "110", season="07-01..08-31"))
    assert (DoubtKind.ASSUMED, 1, None, None) in told(NIGHT, seasons, trip=undated)


# Directive (EU) 2015/2302, Article 10(2) and (3): above 8 %; at the latest 20 days before the start.
@pytest.mark.parametrize(
    ("now", "days_before", "expected"),
    [
        ("1000.00", 5, []),
        ("990.00", 5, []),
        ("1080.00", 20, [(DoubtKind.PRICE_RISEN, 0.08, False)]),
        ("1080.01", 20, [(DoubtKind.PRICE_RISEN, 0.08001, True)]),
        ("1010.00", 19, [(DoubtKind.TOO_LATE_TO_RAISE, 19.0, False), (DoubtKind.PRICE_RISEN, 0.01, False)]),
    ],
)
def test_a_package_price_risen_since_it_was_sold(
    now: str, days_before: int, expected: list[tuple[DoubtKind, float, bool]]
) -> None:
    found = package_doubts(euro("1000.00"), euro(now), MONDAY, MONDAY - timedelta(days=days_before))
    assert [(doubt.kind, doubt.figure, "terminate" in str(doubt.says)) for doubt in found] == expected
    assert all(doubt.source == PACKAGE_DIRECTIVE for doubt in found)


def test_prices_in_two_currencies_are_never_compared() -> None:
    assert price_rise(euro("200.00"), euro("150.00")) == Fraction(-1, 4)
    with pytest.raises(CurrencyMismatch):
        price_rise(euro("200.00"), Money(Decimal(200), "GBP"))


def test_two_who_share_a_room_at_a_price_by_the_head_take_one_of_the_allotment() -> None:
    night = Variant(id="a", name="A", days=(Day(id="d1", nights=(FORGE,)), Day(id="d2")))
    forge = tariff(
        Service.LODGING, "forge", rate(Unit.PERSON_NIGHT, "54.20", "GBP", room_kind="double"), allotment=1
    )
    two = replace(THREE, travellers=THREE.travellers[:2])
    assert told(night, forge, trip=trip_of(night, two)) == []
    assert told(night, forge) == [(DoubtKind.ALLOTMENT, 1, 2.0, 1.0)]
