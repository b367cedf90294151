"""Whatever input is changed: figures that change have another digest."""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from enum import Enum
from functools import cache
from typing import Any

import pytest

from lacet.assess import assess
from lacet.demo import demo_bookings, demo_items, demo_tracks, demo_trips
from lacet.demo.building import demo_settings
from lacet.digest import _relevant, digest
from lacet.inputs import Inputs
from lacet.tracks.track import Track
from lacet.trip.bookings import NO_BOOKINGS
from lacet.trip.catalogue import Catalogue, catalogue_of
from lacet.trip.commitments import Commitments
from lacet.trip.errors import LacetError
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import Bike, Lodging, Place, Restaurant, Stage, Tariff, Transfer
from lacet.trip.plain import to_plain
from lacet.trip.words import Service

AS_OF = date(2026, 11, 25)
KINDS = (Place, Stage, Lodging, Restaurant, Transfer, Bike, Tariff)


class Tracks(dict[str, Track]):
    """Tracks by id."""


@cache
def basis() -> Inputs:
    region, office = demo_settings()
    catalogue = catalogue_of(demo_items(), Tracks(demo_tracks()), region, office)
    trip = demo_trips()[0]
    booked = demo_bookings()[trip.id]
    return Inputs(trip, trip.variants[0].id, catalogue, HouseRules(), bookings=booked, as_of=AS_OF)


def told(inputs: Inputs) -> tuple[Any, ...] | None:
    """The figures and the price; None where the inputs have no meaning."""
    try:
        found = assess(inputs)
    except (LacetError, ValueError, KeyError):
        return None
    return found.figures, found.quote


def other(value: Any) -> Any:
    """Another value of the same type; the same where there is none."""
    if isinstance(value, bool):
        return not value
    if isinstance(value, Enum):
        return next((each for each in type(value) if each is not value), value)
    if isinstance(value, datetime | date):
        return value + timedelta(days=1)
    if isinstance(value, time):
        return value.replace(minute=(value.minute + 7) % 60)
    if isinstance(value, int | float | Decimal):
        return value + 1
    if isinstance(value, str):
        return f"{value}x"
    return value


def changed(value: Any) -> Iterator[Any]:
    """The value with one leaf changed or one entry gone, for every leaf and entry of it."""
    if is_dataclass(value) and not isinstance(value, type):
        for each in fields(value):
            for part in changed(getattr(value, each.name)) if each.init else ():
                try:
                    yield replace(value, **{each.name: part})
                except (LacetError, ValueError, TypeError):
                    continue
    elif isinstance(value, tuple):
        for index, entry in enumerate(value):
            for part in changed(entry):
                yield (*value[:index], part, *value[index + 1 :])
        if value:
            yield value[:-1]
    elif (another := other(value)) != value:
        yield another


def spoilt_library(kind: type, chosen: list[str]) -> Iterator[Catalogue]:
    """The library with one leaf of one of these items changed, in the very version that is read."""
    catalogue = basis().catalogue
    held = catalogue.items[kind]
    for item_id in chosen:
        for version, item in held[item_id].items():
            for spoilt in changed(item):
                there = {**held, item_id: {**held[item_id], version: spoilt}}
                yield replace(catalogue, items={**catalogue.items, kind: there})


def unnamed(item_id: str) -> bool:
    """Whether the trip doesn't name it: False sorts first."""
    return repr(item_id) not in repr(basis().trip)


def holds(inputs: Inputs, before: tuple[Any, ...] | None) -> bool:
    """Whether the digest tells this change; where it doesn't, no figure may have changed."""
    try:
        stamp = digest(inputs)
    except (LacetError, ValueError):
        return True  # refused, so nothing can be told from it
    if stamp != digest(basis()):
        return True
    after = told(inputs)
    assert after is None or after == before
    return False


def test_the_day_changes_the_digest_as_it_changes_what_is_said() -> None:
    assert holds(replace(basis(), as_of=AS_OF + timedelta(days=90)), told(basis()))


def test_every_field_of_the_inputs_is_looked_at() -> None:
    looked_at = {"trip", "variant_id", "catalogue", "rules", "commitments", "bookings", "as_of", "variant"}
    assert {each.name for each in fields(Inputs)} == looked_at
    assert {each.name for each in fields(Catalogue)} == {"items", "tracks", "region", "office"}
    assert set(basis().catalogue.items) == set(KINDS)


def test_every_leaf_of_the_trip_changes_the_digest() -> None:
    trip = basis().trip
    mine = replace(trip, variants=trip.variants[:1])
    spoilt = [each for each in changed(mine) if each.variant(basis().variant_id) is not None]
    assert len(spoilt) > 100
    assert all(holds(replace(basis(), trip=each), None) for each in spoilt if each.variants[0].days)


def test_every_leaf_of_the_bookings_changes_the_digest() -> None:
    spoilt = list(changed(basis().bookings))
    assert len(spoilt) > 20
    digests = {digest(replace(basis(), bookings=each)) for each in spoilt}
    assert len(digests) == len(spoilt)
    assert digest(basis()) not in digests


def test_bookings_beside_the_trip_leave_the_digest_what_it_was_within() -> None:
    """As issued before: a trip's own data held its bookings."""
    mine = basis()
    within = replace(mine, bookings=NO_BOOKINGS)
    plain = _relevant(within)
    assert plain | {"bookings": [to_plain(each) for each in mine.bookings]} == _relevant(mine)
    assert "bookings" not in plain


@pytest.mark.parametrize("part", ["rules", "region"])
def test_every_leaf_of_rules_and_region_changes_the_digest(part: str) -> None:
    catalogue, rules = basis().catalogue, basis().rules
    if part == "rules":
        spoilt = [replace(basis(), rules=each) for each in changed(rules)]
    else:
        regions = changed(catalogue.region)
        spoilt = [replace(basis(), catalogue=replace(catalogue, region=each)) for each in regions]
    assert len(spoilt) > 5
    assert all(holds(each, None) for each in spoilt)


@pytest.mark.parametrize("kind", KINDS)
def test_a_changed_row_of_the_library_changes_the_digest_where_figures_change(kind: type) -> None:
    every = sorted(basis().catalogue.items[kind], key=unnamed)
    chosen = [*every[:2], every[-1]]
    before = told(basis())
    for catalogue in spoilt_library(kind, chosen):
        holds(replace(basis(), catalogue=catalogue), before)


def test_what_others_took_counts_where_the_variant_is_and_not_elsewhere() -> None:
    night = date(2027, 5, 8)
    nights = [each for day in basis().variant.days for each in day.nights]
    here = nights[0].lodging.id
    elsewhere = "a house of another island"
    taken = [Commitments(taken={(Service.LODGING, each, "double", night): 1}) for each in (here, elsewhere)]
    assert digest(replace(basis(), commitments=taken[0])) != digest(basis())
    assert digest(replace(basis(), commitments=taken[1])) == digest(basis())
