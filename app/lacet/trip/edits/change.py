"""What every edit stands on: find or refuse, change or leave alone.

An edit is a pure function from a trip to a trip. It raises only where it has no meaning, and an edit that
changes nothing gives back the very same object, so that the window adds no step to undo. Days up to
`fixed_through` belong to a party already under way; edits of them are refused here, in one place.
"""

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Any, TypeVar

from lacet.trip.edits.naming import fresh_id, named
from lacet.trip.errors import LacetError
from lacet.trip.party import Party
from lacet.trip.trip import Day, Item, Travellers, Trip, Variant

Value = TypeVar("Value")


class EditRefused(LacetError):
    """An edit without meaning: an unknown id, a cut outside its stage, a day already under way."""


def changed(value: Value, **parts: Any) -> Value:
    """The value with these parts, or the same object where they are already so."""
    if all(getattr(value, name) == part for name, part in parts.items()):
        return value
    made: Value = replace(value, **parts)  # type: ignore[type-var]  # a dataclass, which typing can't say in 3.11
    return made


def variant_of(trip: Trip, variant_id: str) -> Variant:
    found = trip.variant(variant_id)
    if found is None:
        raise EditRefused("This trip has no variant '{variant_id}'.", variant_id=variant_id)
    return found


def day_index(variant: Variant, day_id: str) -> int:
    for index, day in enumerate(variant.days):
        if day.id == day_id:
            return index
    raise EditRefused("Variant '{variant}' has no day '{day_id}'.", variant=variant.name, day_id=day_id)


def find_item(variant: Variant, item_id: str) -> tuple[Day, int]:
    """The day that holds a card, and the card's place in it."""
    for day in variant.days:
        for index, item in enumerate(day.items):
            if item.id == item_id:
                return day, index
    raise EditRefused("Variant '{variant}' has no card '{item_id}'.", variant=variant.name, item_id=item_id)


def need_open(trip: Trip, variant: Variant, index: int) -> None:
    """Refuse to touch a day (0-based index) that the party already has behind it."""
    fixed = trip.fixed_days(variant)
    if index < fixed:
        raise EditRefused(
            "Day {index} is fixed: the party is under way through day {fixed}.", index=index + 1, fixed=fixed
        )


def need_between(number: int, low: int, high: int, what: str) -> None:
    if not low <= number <= high:
        raise EditRefused(
            "There is no {what} {number} here; it can be {low} to {high}.",
            what=what,
            number=number,
            low=low,
            high=high,
        )


def checked_travellers(party: Party, travellers: Travellers) -> Travellers:
    """Travellers in the order of the party, each once; the whole party is said as None.

    Raises
    ------
    EditRefused
        When nobody is named, or somebody who isn't of the party.
    """
    if travellers is None:
        return None
    if not travellers:
        raise EditRefused("Name at least one traveller, or leave it to everybody.")
    known = [guest.id for guest in party.travellers]
    strangers = sorted(set(travellers).difference(known))
    if strangers:
        raise EditRefused("Nobody in this party is called '{strangers}'.", strangers=strangers[0])
    chosen = tuple(guest for guest in known if guest in travellers)
    return None if len(chosen) == len(known) else chosen


def with_variant(trip: Trip, variant: Variant) -> Trip:
    """The trip with a variant as it is now; what was put into it without an id gets one."""
    new = named(variant)
    kept = tuple(new if each.id == new.id else each for each in trip.variants)
    return changed(trip, variants=kept)


def with_days(trip: Trip, variant: Variant, days: Iterable[Day]) -> Trip:
    return with_variant(trip, changed(variant, days=tuple(days)))


def change_day(trip: Trip, variant_id: str, day_id: str, change: Callable[[Day], Day]) -> Trip:
    """The trip with one open day changed."""
    variant = variant_of(trip, variant_id)
    index = day_index(variant, day_id)
    need_open(trip, variant, index)
    day = change(variant.days[index])
    return with_days(trip, variant, (*variant.days[:index], day, *variant.days[index + 1 :]))


def item_ids(variant: Variant) -> list[str]:
    """Ids of all cards of a variant, those of its alternatives among them."""
    return [item.id for day in variant.days for item in items_of(day)]


def items_of(day: Day) -> tuple[Item, ...]:
    """All cards of a day, those of its alternatives after its own."""
    return (*day.items, *(item for other in day.alternatives for item in other.items))


def numbered_items(variant: Variant, items: Iterable[Item]) -> tuple[Item, ...]:
    """The items with fresh ids of this variant."""
    used = item_ids(variant)
    made: list[Item] = []
    for item in items:
        used.append(fresh_id("i", used))
        made.append(changed(item, id=used[-1]))
    return tuple(made)
