"""A thousand random edits on each demo trip: no exception, the same with nothing kept, equal digests equal
totals.

Run by itself it compares every one of ten thousand edits: `PYTHONPATH=app:. python tests/test_demo_edits.py`.
"""

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace
from datetime import date
from random import Random

import pytest

from lacet.assess import Assessment, assess
from lacet.demo import demo_items, demo_tracks, demo_trips
from lacet.demo.building import demo_settings
from lacet.digest import digest
from lacet.inputs import Inputs
from lacet.report import plain_totals
from lacet.tracks.track import Track
from lacet.trip.catalogue import Catalogue, catalogue_of
from lacet.trip.edits import EditRefused
from lacet.trip.house_rules import HouseRules
from lacet.trip.kept import forget_kept
from lacet.trip.trip import Trip
from tests.trip.random_edits import random_edit

AS_OF = date(2026, 11, 25)
RULES = HouseRules()
EDITS = 1000
TWICE_EVERY = 20


class Tracks(dict[str, Track]):
    """Tracks by id."""


def library() -> Catalogue:
    region, office = demo_settings()
    return catalogue_of(demo_items(), Tracks(demo_tracks()), region, office)


@pytest.fixture(scope="module")
def verrin() -> Catalogue:
    return library()


def from_nothing_kept(inputs: Inputs) -> Assessment:
    forget_kept()
    return assess(inputs)


def edited(trip: Trip, chance: Random, edits: int = EDITS) -> Iterator[Trip]:
    for _ in range(edits):
        # An edit without meaning is refused and changes nothing, as for a person.
        with suppress(EditRefused):
            trip = random_edit(chance, trip)(trip)
        yield trip


@pytest.mark.parametrize("trip", demo_trips(), ids=lambda trip: trip.id)
def test_a_thousand_random_edits(trip: Trip, verrin: Catalogue) -> None:
    totals: dict[str, object] = {}
    for number, each in enumerate(edited(trip, Random(trip.id))):
        variant = each.variants[number % len(each.variants)]
        found = assess(Inputs(each, variant.id, verrin, RULES, as_of=AS_OF))
        if number % TWICE_EVERY == 0:
            assert found == from_nothing_kept(Inputs(each, variant.id, verrin, RULES, as_of=AS_OF))
            stamp = digest(Inputs(each, variant.id, verrin, RULES, as_of=AS_OF))
            assert totals.setdefault(stamp, plain_totals(found.figures.totals)) == plain_totals(
                found.figures.totals
            )


def main(edits: int = 2000) -> None:
    """Every edit of every demo trip, assessed with what is kept and with a library not met before."""
    verrin = library()
    for trip in demo_trips():
        for number, each in enumerate(edited(trip, Random(f"by hand {trip.id}"), edits)):
            inputs = Inputs(each, each.variants[number % len(each.variants)].id, verrin, RULES, as_of=AS_OF)
            before = assess(inputs)
            kept = assess(inputs)
            assert before == kept == assess(replace(inputs, catalogue=replace(verrin))), (trip.id, number)
        print(f"{trip.id}: {edits} edits, all equal")


if __name__ == "__main__":
    main()
