"""A digest changes with everything the totals rest on, and with nothing else."""

from dataclasses import replace
from datetime import date

import pytest

from lacet.digest import digest
from lacet.inputs import Inputs
from lacet.trip.catalogue import Catalogue
from lacet.trip.commitments import Commitments
from lacet.trip.house_rules import HouseRules
from lacet.trip.trip import Trip, Variant
from lacet.trip.words import Service
from tests.small_library import items, small_catalogue, small_trip

RULES = HouseRules()
AS_OF = date(2027, 1, 4)
NIGHT = (Service.LODGING, "birch-house", "double", date(2027, 5, 8))


def of(trip: Trip, catalogue: Catalogue | None = None, rules: HouseRules = RULES, **more: object) -> str:
    taken = more.get("taken", {})
    assert isinstance(taken, dict)
    catalogue = catalogue or small_catalogue()
    return digest(Inputs(trip, "v1", catalogue, rules, Commitments(taken=taken), as_of=AS_OF))


def test_equal_inputs_have_an_equal_digest() -> None:
    assert of(small_trip()) == of(small_trip())


@pytest.mark.parametrize(
    "rules",
    [
        replace(RULES, markup_share=0.31),
        replace(RULES, walking_rule="naismith"),
        replace(RULES, stops_share=0.4),
    ],
)
def test_a_changed_house_rule_changes_the_digest(rules: HouseRules) -> None:
    assert of(small_trip(), rules=rules) != of(small_trip())


def test_what_others_have_taken_changes_the_digest() -> None:
    none, one, two = of(small_trip()), of(small_trip(), taken={NIGHT: 1}), of(small_trip(), taken={NIGHT: 2})
    assert len({none, one, two}) == 3
    elsewhere = (NIGHT[0], "quay-house", *NIGHT[2:])
    both = {NIGHT: 1, elsewhere: 2}
    assert of(small_trip(), taken=both) == of(small_trip(), taken=dict(reversed(both.items())))


@pytest.mark.parametrize("item", ["climb", "birch-house", "alder", "birch"])
def test_a_newer_item_of_the_library_changes_the_digest_where_it_is_read(item: str) -> None:
    old = next(each for each in items() if each.id == item)
    newer = small_catalogue(replace(old, version=old.version + 1))
    # Stages and houses are read in the version the trip names; places always in the newest.
    read = item in {"alder", "birch"}
    assert (of(small_trip(), newer) != of(small_trip())) is read


def test_another_variant_changes_nothing_here() -> None:
    trip = small_trip()
    two = replace(trip, variants=(*trip.variants, Variant(id="v2", name="Other", days=())))
    assert of(two) == of(trip)


def test_the_region_changes_the_digest() -> None:
    catalogue = small_catalogue()
    moved = replace(catalogue, region=replace(catalogue.region, zone="Europe/Lisbon"))
    assert of(small_trip(), moved) != of(small_trip(), catalogue)
