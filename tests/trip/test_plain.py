"""Values become plain data and come back equal; anything else is refused at a named place."""

import json
from contextlib import suppress
from datetime import date, time
from decimal import Decimal
from typing import Any, get_args

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lacet.trip.bookings import Booking, Bookings
from lacet.trip.catalogue import Office
from lacet.trip.errors import LacetError
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import LibraryItem, Ref
from lacet.trip.money import Money
from lacet.trip.plain import NotPlain, from_plain, to_plain
from lacet.trip.region import Region
from lacet.trip.trip import Day, Leg, Note, Trip, Variant
from lacet.trip.words import Service, Way
from tests.trip.strategies import booked, of_type, trips

LEG = Leg(id="i1", stage=Ref("s-moor"), way=Way.WALKING)
TRIP = Trip(
    id="trip",
    name="Moor and salt",
    start=date(2026, 6, 1),
    variants=(
        Variant(
            id="v1",
            name="A",
            days=(Day(id="d1", items=(LEG, Note(id="i2", says="map")), departs=time(8, 30)),),
        ),
    ),
)
BOOKING = Booking(
    id="k1",
    service=Service.LODGING,
    supplier="h-weir",
    from_day=date(2026, 6, 1),
    to_day=date(2026, 6, 1),
    price=Money(Decimal("12.50"), "EUR"),
)
PLAIN_BOOKING = {
    "id": "k1",
    "service": "lodging",
    "supplier": "h-weir",
    "from_day": "2026-06-01",
    "to_day": "2026-06-01",
    "price": "12.50 EUR",
}
PLAIN = {
    "id": "trip",
    "name": "Moor and salt",
    "start": "2026-06-01",
    "variants": [
        {
            "id": "v1",
            "name": "A",
            "days": [
                {
                    "id": "d1",
                    "items": [
                        {"kind": "leg", "id": "i1", "stage": {"id": "s-moor"}, "way": "walking"},
                        {"kind": "note", "id": "i2", "says": "map"},
                    ],
                    "departs": "08:30",
                }
            ],
        }
    ],
}


def through_json(value: Any) -> Any:
    return json.loads(json.dumps(to_plain(value)))


def test_a_trip_is_stored_small_and_readable() -> None:
    assert to_plain(TRIP) == PLAIN
    assert from_plain(Trip, PLAIN) == TRIP
    assert to_plain(BOOKING) == PLAIN_BOOKING
    assert from_plain(Booking, PLAIN_BOOKING) == BOOKING


@settings(suppress_health_check=[HealthCheck.too_slow])
@given(trips())
def test_any_trip_comes_back_equal(trip: Trip) -> None:
    assert from_plain(Trip, through_json(trip)) == trip


@given(booked())
def test_any_bookings_come_back_equal(bookings: Bookings) -> None:
    assert from_plain(Bookings, through_json(bookings)) == bookings


@pytest.mark.parametrize("price", ["12.50", "NaN EUR"])
def test_a_price_that_is_no_amount_is_refused(price: str) -> None:
    with pytest.raises(NotPlain, match=r"12\.50 EUR") as refusal:
        from_plain(Booking, PLAIN_BOOKING | {"price": price})
    assert refusal.value.place == "booking.price"


@pytest.mark.parametrize(
    "kind", [*get_args(LibraryItem), Region, Office, HouseRules], ids=lambda kind: kind.__name__
)
def test_any_library_item_or_setting_comes_back_equal(kind: type) -> None:
    @settings(max_examples=30, suppress_health_check=[HealthCheck.too_slow])
    @given(of_type(kind))
    def check(value: Any) -> None:
        assert from_plain(kind, through_json(value)) == value

    check()


def test_cents_keep_their_trailing_nought() -> None:
    booking = from_plain(Booking, PLAIN_BOOKING)
    assert str(booking.price.amount if booking.price else None) == "12.50"


def changed(path: list[Any], value: Any) -> Any:
    data = json.loads(json.dumps(PLAIN))
    at = data
    for step in path[:-1]:
        at = at[step]
    at[path[-1]] = value
    return data


ITEM = ["variants", 0, "days", 0, "items", 0]


@pytest.mark.parametrize(
    ("path", "value", "place", "says"),
    [
        (["colour"], "red", "trip", "unknown 'colour'"),
        (["variants", 0, "days", 0, "colour"], 1, "trip.variants[0].days[0]", "unknown 'colour'"),
        ([*ITEM, "way"], "flying", "trip.variants[0].days[0].items[0].way", "walking, cycling"),
        ([*ITEM, "kind"], "flight", "trip.variants[0].days[0].items[0]", "leg, note, rest, ride, visit"),
        ([*ITEM, "kind"], [], "trip.variants[0].days[0].items[0]", "leg, note, rest, ride, visit"),
        ([*ITEM, "cut_to_m"], "12", "trip.variants[0].days[0].items[0].cut_to_m", "a number"),
        ([*ITEM, "cut_to_m"], 10**400, "trip.variants[0].days[0].items[0].cut_to_m", "finite"),
        ([*ITEM, "backward"], 1, "trip.variants[0].days[0].items[0].backward", "true or false"),
        ([*ITEM, "travellers"], "t1", "trip.variants[0].days[0].items[0].travellers", "a list"),
        ([*ITEM, "stage"], None, "trip.variants[0].days[0].items[0].stage", "parts of a ref"),
        (["month"], True, "trip.month", "a whole number"),
        (["start"], "soon", "trip.start", "a date"),
        (["variants", 0, "days", 0, "departs"], "08:30+02:00", "trip.variants[0].days[0].departs", "a time"),
        (["variants"], {"v1": {}}, "trip.variants", "a list"),
    ],
)
def test_what_cannot_be_read_is_refused_and_its_place_named(
    path: list[Any], value: Any, place: str, says: str
) -> None:
    with pytest.raises(NotPlain) as refusal:
        from_plain(Trip, changed(path, value))
    assert refusal.value.place == place
    assert says in str(refusal.value)
    assert place in str(refusal.value)


def test_a_missing_part_is_named() -> None:
    with pytest.raises(NotPlain, match=r"can't be read at trip.id: 'id' is missing"):
        from_plain(Trip, {"name": "x"})


def test_a_pair_with_three_halves_is_refused() -> None:
    with pytest.raises(NotPlain, match=r"office.texts\[0\]: expected 2 values, found 3"):
        from_plain(Office, {"texts": [["a", "b", "c"]]})


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=4),
    lambda parts: (
        st.lists(parts, max_size=3) | st.dictionaries(st.sampled_from(sorted(PLAIN)), parts, max_size=4)
    ),
    max_leaves=12,
)


@given(JSON)
def test_nonsense_never_raises_anything_but_a_refusal(data: Any) -> None:
    with suppress(LacetError):
        from_plain(Trip, data)
