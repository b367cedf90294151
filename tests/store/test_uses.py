"""The names of fields by which items are found in plain data cover every field that points at one."""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from typing import Any, get_args, get_type_hints

from hypothesis import given, settings

from lacet.store.uses import EITHER, PLACES, VERSIONED, renamed, uses_of
from lacet.trip.bookings import Bookings
from lacet.trip.library import Ref
from lacet.trip.plain import from_plain, to_plain
from lacet.trip.trip import Trip
from tests.trip.strategies import HOUSES, STAGES, trips
from tests.trip.strategies import PLACES as SOME_PLACES


def inner_types(kind: Any) -> Iterator[Any]:
    """A type and everything its annotation is made of."""
    yield kind
    for part in get_args(kind):
        yield from inner_types(part)


def dataclasses_below(kind: type, seen: set[type]) -> set[type]:
    if kind not in seen:
        seen.add(kind)
        for hint in get_type_hints(kind).values():
            for part in inner_types(hint):
                if isinstance(part, type) and is_dataclass(part):
                    dataclasses_below(part, seen)
    return seen


KINDS = dataclasses_below(Trip, set()) | dataclasses_below(Bookings, set())


def test_every_field_that_holds_a_version_is_known() -> None:
    holding = {
        part.name
        for kind in KINDS
        for part in fields(kind)
        if Ref in inner_types(get_type_hints(kind)[part.name])
    }
    assert holding == set(VERSIONED)


def test_every_field_that_may_hold_a_place_is_known() -> None:
    names = {part.name for kind in KINDS for part in fields(kind)}
    assert names >= PLACES
    telling = {name for name in names if "place" in name or name in ("hub",) or name.endswith("_id")}
    assert telling == PLACES | set(EITHER) - {"tariff"}


@settings(max_examples=30)
@given(trips())
def test_renaming_and_back_changes_nothing(trip: Trip) -> None:
    plain = to_plain(trip)
    there = renamed(plain, lambda kind, old: f"{old}+")
    assert all(item.endswith("+") for _, item, _ in uses_of(there))
    assert from_plain(Trip, renamed(there, lambda kind, old: old.removesuffix("+"))) == trip


@settings(max_examples=30)
@given(trips())
def test_what_is_used_is_what_was_put_in(trip: Trip) -> None:
    known = {"stage": set(STAGES), "lodging": set(HOUSES), "place": set(SOME_PLACES), "bike": {"b-hill"}}
    assert all(item in known[kind] for kind, item, _ in uses_of(to_plain(trip)))
