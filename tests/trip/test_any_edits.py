"""Whatever is done to a trip, in whatever order, it stays sound, and every past value can be had back."""

import inspect
import json
from random import Random

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lacet.trip import edits
from lacet.trip.edits import EditRefused
from lacet.trip.plain import from_plain, to_plain
from lacet.trip.trip import Trip
from tests.trip.random_edits import FOR_THE_TRIP, edit_names, random_edit
from tests.trip.sound import assert_sound
from tests.trip.strategies import trips

NOT_EDITS = {
    "EditRefused",
    "fresh_trip_id",
    "letter",
    "letter_at",
    "uses",
    "uses_on",
    "new_trip",
    "trip_from_standard",
    "as_standard",
}


def assert_fixed_days_untouched(before: Trip, after: Trip) -> None:
    for variant in before.variants:
        later = after.variant(variant.id)
        if later is not None:
            assert later.days[: before.fixed_days(variant)] == variant.days[: before.fixed_days(variant)]


@settings(max_examples=40, suppress_health_check=[HealthCheck.too_slow])
@given(trips(), st.integers(0, 2**32))
def test_any_run_of_edits_leaves_a_sound_trip_its_fixed_days_and_its_past(trip: Trip, seed: int) -> None:
    assert_sound(trip)
    chance = Random(seed)
    past, kept = [trip], [json.dumps(to_plain(trip))]
    for _ in range(120):
        try:
            after = random_edit(chance, trip)(trip)
        except EditRefused:
            continue
        assert after is trip or after != trip, "an edit that changes nothing gives back the same object"
        assert_sound(after)
        assert_fixed_days_untouched(trip, after)
        trip = after
        past.append(trip)
        kept.append(json.dumps(to_plain(trip)))
    assert [from_plain(Trip, json.loads(text)) for text in kept] == past


def test_every_edit_is_among_those_thrown_at_trips() -> None:
    assert edit_names() == set(edits.__all__) - NOT_EDITS


def test_every_edit_takes_the_trip_first_and_then_the_variant_unless_it_is_for_the_whole_trip() -> None:
    for name in set(edits.__all__) - NOT_EDITS:
        first, *others = inspect.signature(getattr(edits, name)).parameters
        assert first == "trip"
        assert (bool(others) and others[0] in {"variant_id", "from_variant_id"}) == (name not in FOR_THE_TRIP)
