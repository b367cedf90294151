"""An issued quote comes back as it was issued."""

import json

import pytest

from lacet.price.frozen import FrozenQuoteUnread, freeze, thaw
from lacet.price.quote import quote
from lacet.trip.plain import NotPlain
from tests.price.small_library import AS_OF, CATALOGUE, RULES, TRIP, VARIANT


def test_a_frozen_quote_thaws_equal_even_through_json() -> None:
    issued = quote(TRIP, VARIANT, CATALOGUE, RULES, AS_OF)
    thawed = thaw(json.loads(json.dumps(freeze(issued, "digest"))))
    assert thawed.quote == issued
    assert thawed.still_holds("digest")
    assert not thawed.still_holds("another")


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
