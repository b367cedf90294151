"""Overrules: a named person lets a finding stand, and says why.

An overrule binds check, subject and figure, so it lapses by itself when the figure gets worse. It goes with
the day or card it was about: ids are used again, and a decision about one day must never cover another.
"""

from collections.abc import Set

from lacet.trip.edits.change import EditRefused, changed, variant_of, with_variant
from lacet.trip.trip import Overrule, Trip, Variant


def overrule(trip: Trip, variant_id: str, decision: Overrule) -> Trip:
    """Let a finding stand; a decision on the same check, code and subject is replaced."""
    variant = variant_of(trip, variant_id)
    if not decision.name.strip() or not decision.reason.strip():
        raise EditRefused("An overrule needs a name and a reason.")
    kept = _without(variant, decision)
    return with_variant(trip, changed(variant, overrules=(*kept, decision)))


def lift_overrule(trip: Trip, variant_id: str, decision: Overrule) -> Trip:
    """Take a decision back: the finding counts again."""
    variant = variant_of(trip, variant_id)
    kept = _without(variant, decision)
    if len(kept) == len(variant.overrules):
        raise EditRefused("Nobody has overruled this. Look at what is left to resolve.")
    return with_variant(trip, changed(variant, overrules=kept))


def without_overrules_of(variant: Variant, ids: Set[str]) -> Variant:
    """The variant without decisions about any of these days, guests or cards."""
    kept = tuple(each for each in variant.overrules if ids.isdisjoint(about.id for about in each.subject))
    return changed(variant, overrules=kept)


def _without(variant: Variant, decision: Overrule) -> tuple[Overrule, ...]:
    return tuple(each for each in variant.overrules if each.key != decision.key)
