"""A thousand random edits on each demo trip: no exception, the same with nothing kept, equal digests equal
totals.

By hand every one of ten thousand edits is compared: `EDITS=2000 COMPARED_EVERY=1 python tests/run.py
tests/test_demo_edits.py`.
"""

from collections.abc import Iterator
from contextlib import suppress
from datetime import date
from hashlib import sha256
from os import environ
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
EDITS = int(environ.get("EDITS", "1000"))
COMPARED_EVERY = int(environ.get("COMPARED_EVERY", "20"))


class Tracks(dict[str, Track]):
    """Tracks by id."""


@pytest.fixture(scope="module")
def verrin() -> Catalogue:
    region, office = demo_settings()
    return catalogue_of(demo_items(), Tracks(demo_tracks()), region, office)


def from_nothing_kept(inputs: Inputs) -> Assessment:
    forget_kept()
    return assess(inputs)


def edited(trip: Trip, chance: Random) -> Iterator[Trip]:
    for _ in range(EDITS):
        # An edit without meaning is refused and changes nothing, as for a person.
        with suppress(EditRefused):
            trip = random_edit(chance, trip)(trip)
        yield trip


def text_of(found: Assessment) -> str:
    """Figures, quote, findings and all, as a digest of their text."""
    return sha256(repr(found).encode()).hexdigest()


@pytest.mark.parametrize("trip", demo_trips(), ids=lambda trip: trip.id)
def test_a_thousand_random_edits(trip: Trip, verrin: Catalogue) -> None:
    totals: dict[str, object] = {}
    asked: list[tuple[Inputs, str]] = []
    for number, each in enumerate(edited(trip, Random(trip.id))):
        inputs = Inputs(each, each.variants[number % len(each.variants)].id, verrin, RULES, as_of=AS_OF)
        found = assess(inputs)
        if number % COMPARED_EVERY == 0:
            asked.append((inputs, text_of(found)))
            plain = plain_totals(found.figures.totals)
            assert totals.setdefault(digest(inputs), plain) == plain
    assert [text for _, text in asked] == [text_of(from_nothing_kept(inputs)) for inputs, _ in asked]
