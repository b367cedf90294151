"""Variants: other ways to spend the same trip, laid side by side for the client to choose from.

A variant is known by its letter, which is its place in the list; a copy goes last, so that letters already
spoken of on the telephone stay what they were. A variant the client accepted can't be thrown away.
"""

from dataclasses import replace
from datetime import date

from lacet.trip.edits.change import (
    EditRefused,
    changed,
    need_between,
    variant_of,
    with_variant,
)
from lacet.trip.edits.naming import fresh_id
from lacet.trip.edits.people import for_party
from lacet.trip.money import Money
from lacet.trip.trip import Accepted, Day, Pricing, Trip, Variant


def letter_at(index: int) -> str:
    """A for the first (index 0), Z for the 26th, then AA."""
    before, last = divmod(index, 26)
    return (letter_at(before - 1) if before else "") + chr(ord("A") + last)


def letter(trip: Trip, variant_id: str) -> str:
    """What a variant is called by: its place in the list."""
    return letter_at(trip.variants.index(variant_of(trip, variant_id)))


def add_variant(trip: Trip, name: str = "", *, days: int = 0) -> Trip:
    """Add a variant of so many empty days at the end; without a name it is called by its letter."""
    need_between(days, 0, 366, "number of days")
    empty = tuple(Day(id=f"d{number}") for number in range(1, days + 1))
    return _appended(trip, Variant(id="", name=name, days=empty))


def add_variant_of(trip: Trip, mine: Variant) -> Trip:
    """A variant more, with the days and hires of mine; whoever isn't in the party of the trip is left out."""
    made = add_variant(trip, f"{mine.name} (mine)")
    *others, empty = made.variants
    (fitted,) = for_party((mine,), trip.party)
    return replace(made, variants=(*others, replace(fitted, id=empty.id, name=empty.name)))


def copy_variant(trip: Trip, variant_id: str, name: str = "") -> Trip:
    """Copy a variant to the end, to change the copy and keep the original; its days keep their ids."""
    return _appended(trip, changed(variant_of(trip, variant_id), name=name))


def _appended(trip: Trip, variant: Variant) -> Trip:
    new_id = fresh_id("v", (each.id for each in trip.variants))
    name = variant.name.strip() or letter_at(len(trip.variants))
    return changed(trip, variants=(*trip.variants, changed(variant, id=new_id, name=name)))


def rename_variant(trip: Trip, variant_id: str, name: str) -> Trip:
    if not name.strip():
        raise EditRefused("A variant needs a name.")
    return with_variant(trip, changed(variant_of(trip, variant_id), name=name.strip()))


def set_variant_note(trip: Trip, variant_id: str, note: str) -> Trip:
    return with_variant(trip, changed(variant_of(trip, variant_id), note=note))


def remove_variant(trip: Trip, variant_id: str) -> Trip:
    """Throw a variant away. The last one and the accepted one are refused."""
    gone = variant_of(trip, variant_id)
    if len(trip.variants) == 1:
        raise EditRefused("A trip keeps at least one variant.")
    if trip.accepted is not None and trip.accepted.variant == variant_id:
        raise EditRefused("The client accepted '{gone}'; withdraw that first.", gone=gone.name)
    proposed = None if trip.proposed == variant_id else trip.proposed
    kept = tuple(each for each in trip.variants if each.id != variant_id)
    if trip.fixed_days(gone) and not any(trip.fixed_days(each) for each in kept):
        raise EditRefused("The party is under way in '{gone}'; it stays.", gone=gone.name)
    return changed(trip, variants=kept, proposed=proposed)


def move_variant(trip: Trip, variant_id: str, to_index: int) -> Trip:
    """Put a variant elsewhere in the list; letters follow the new order."""
    moved = variant_of(trip, variant_id)
    need_between(to_index, 0, len(trip.variants) - 1, "place")
    others = [each for each in trip.variants if each.id != variant_id]
    return changed(trip, variants=(*others[:to_index], moved, *others[to_index:]))


def propose(trip: Trip, variant_id: str | None) -> Trip:
    """Say which variant the office recommends (None = none)."""
    return changed(trip, proposed=None if variant_id is None else variant_of(trip, variant_id).id)


def accept(
    trip: Trip, variant_id: str, *, revision: int, price: Money | None = None, on: date | None = None
) -> Trip:
    """Write down that the client said yes to a variant as it was at that revision of the trip.

    Parameters
    ----------
    price
        What the whole party was sold it for; a price that rises later is told against it.
    on
        The day they said so.
    """
    need_between(revision, 0, 2**62, "revision")
    chosen = variant_of(trip, variant_id).id
    return changed(trip, accepted=Accepted(variant=chosen, revision=revision, price=price, on=on))


def withdraw_acceptance(trip: Trip) -> Trip:
    """The client thinks again; bookings stay as they are."""
    return changed(trip, accepted=None)


def set_pricing(trip: Trip, variant_id: str, pricing: Pricing) -> Trip:
    """Price this variant otherwise than the house rules say."""
    return with_variant(trip, changed(variant_of(trip, variant_id), pricing=pricing))
