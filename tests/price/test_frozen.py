"""An issued quote comes back as it was issued."""

import json

import pytest

from lacet.price.frozen import FrozenQuoteUnread, freeze, thaw
from lacet.price.quote import quote
from lacet.trip.bookings import NO_BOOKINGS, Booking, Bookings
from lacet.trip.plain import NotPlain, to_plain
from lacet.trip.words import Service
from tests.price.small_library import AS_OF, CATALOGUE, RULES, TRIP, VARIANT


def test_a_frozen_quote_thaws_equal_even_through_json() -> None:
    issued = quote(TRIP, VARIANT, CATALOGUE, RULES, AS_OF)
    thawed = thaw(json.loads(json.dumps(freeze(issued, "digest"))))
    assert thawed.quote == issued
    assert thawed.inputs_digest == "digest"


@pytest.mark.parametrize("data", [None, [], {}, {"format": 2, "inputs": "x"}, {"format": 1, "inputs": 3}])
def test_what_is_no_frozen_quote_is_refused_in_a_sentence(data: object) -> None:
    with pytest.raises(FrozenQuoteUnread, match="can't be read by this version"):
        thaw(data)


def test_a_damaged_part_is_named() -> None:
    data = freeze(quote(TRIP, VARIANT, CATALOGUE, RULES, AS_OF), "digest")
    data["quote"]["lines"][0]["net"] = "a lot"
    with pytest.raises(NotPlain, match=r"lines\[0\]"):
        thaw(data)


def test_the_trip_and_the_rules_of_that_day_are_kept_with_the_quote() -> None:
    issued = quote(TRIP, VARIANT, CATALOGUE, RULES, AS_OF)
    thawed = thaw(json.loads(json.dumps(freeze(issued, "digest", trip=TRIP, variant="a", rules=RULES))))
    assert (thawed.trip, thawed.variant, thawed.rules) == (TRIP, "a", RULES)
    assert thaw(freeze(issued, "digest")).trip is None


def test_bookings_are_kept_where_they_lay_when_they_were_part_of_the_trip() -> None:
    """What was issued before they got rows of their own is read the same way."""
    issued = quote(TRIP, VARIANT, CATALOGUE, RULES, AS_OF)
    asked = Booking(id="k1", service=Service.LODGING, supplier="weir", from_day=AS_OF, to_day=AS_OF)
    frozen = freeze(issued, "digest", trip=TRIP, variant="a", rules=RULES, bookings=Bookings((asked,)))
    assert frozen["trip"] == to_plain(TRIP) | {"bookings": [to_plain(asked)]}
    thawed = thaw(json.loads(json.dumps(frozen)))
    assert (thawed.trip, thawed.bookings) == (TRIP, Bookings((asked,)))
    assert thaw(freeze(issued, "digest", trip=TRIP)).bookings == NO_BOOKINGS
    assert thaw(freeze(issued, "digest")).bookings is None, "today's are all there is to ask"
