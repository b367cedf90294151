"""What holds of every finding, on the demo trips and on what random edits make of them."""

from collections.abc import Iterator
from contextlib import suppress
from datetime import date
from random import Random

import pytest

from lacet.assess import Assessment, assess
from lacet.demo import demo_items, demo_tracks, demo_trips
from lacet.demo.building import demo_settings
from lacet.inputs import Inputs
from lacet.tracks.track import Track
from lacet.trip.catalogue import Catalogue, catalogue_of
from lacet.trip.edits import EditRefused
from lacet.trip.finding import Level
from lacet.trip.house_rules import HouseRules
from lacet.trip.trip import Trip
from tests.trip.random_edits import random_edit

AS_OF = date(2026, 11, 25)
RULES = HouseRules()
EDITS = 150
NOBODY_MAY = {"stage_closed", "minors", "bike_fits"}


class Tracks(dict[str, Track]):
    """Tracks by id."""


@pytest.fixture(scope="module")
def verrin() -> Catalogue:
    region, office = demo_settings()
    return catalogue_of(demo_items(), Tracks(demo_tracks()), region, office)


def assessments(trip: Trip, verrin: Catalogue) -> Iterator[Assessment]:
    """The demo trip's variants as they are, then after each of many random edits."""
    chance = Random(trip.id)
    for variant in trip.variants:
        yield assess(Inputs(trip, variant.id, verrin, RULES, as_of=AS_OF))
    for number in range(EDITS):
        with suppress(EditRefused):
            trip = random_edit(chance, trip)(trip)
        variant = trip.variants[number % len(trip.variants)]
        yield assess(Inputs(trip, variant.id, verrin, RULES, as_of=AS_OF))


@pytest.mark.parametrize("trip", demo_trips(), ids=lambda trip: trip.id)
def test_every_finding_is_whole(trip: Trip, verrin: Catalogue) -> None:
    for told in assessments(trip, verrin):
        named = [each.key for each in told.findings]
        assert len(named) == len(set(named)), sorted(each for each in named if named.count(each) > 1)
        for each in told.findings:
            assert not str(each.says)[0].islower(), str(each.says)
            assert str(each.says).endswith("."), str(each.says)
            assert "None" not in str(each.says), str(each.says)
            assert each.source, each.check
            assert each.figure is None or each.unit, each.check
            assert each.day is None or 1 <= each.day <= len(told.figures.days)
            assert each.may_overrule or each.check in NOBODY_MAY, each.check
            assert not (each.unknown and each.check == "done_by_sunset" and each.level is Level.STOP)
            assert len(each.fixes) <= 5, each.check
            assert len({str(fix.says) for fix in each.fixes}) == len(each.fixes), each.fixes
