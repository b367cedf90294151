"""Overrules: a named person lets a finding stand, and says why.

An overrule binds check, subject and figure, so it lapses by itself when the figure gets worse. It goes with
the day or card it was about: ids are used again, and a decision about one day must never cover another.
"""

from collections.abc import Set

from lacet.trip.edits.change import EditRefused, changed, variant_of, with_variant
from lacet.trip.trip import Overrule, Trip, Variant


def overrule(trip: Trip, variant_id: str, decision: Overrule) -> Trip:
    """Let a finding stand; a decision on the same check and subject is replaced."""
    variant = variant_of(trip, variant_id)
    if not decision.name.strip() or not decision.reason.strip():
        raise EditRefused("An overrule needs a name and a reason.")
    kept = _without(variant, decision.check, decision.subject)
    return with_variant(trip, changed(variant, overrules=(*kept, decision)))


def lift_overrule(trip: Trip, variant_id: str, check: str, subject: str) -> Trip:
    """Take a decision back: the finding counts again."""
    variant = variant_of(trip, variant_id)
    kept = _without(variant, check, subject)
    if len(kept) == len(variant.overrules):
        raise EditRefused("Nobody has overruled '{check}' for {subject}.", check=check, subject=subject)
    return with_variant(trip, changed(variant, overrules=kept))


def without_overrules_of(variant: Variant, ids: Set[str]) -> Variant:
    """The variant without decisions whose subject names one of these ids ("day d4", "traveller t2")."""
    kept = tuple(each for each in variant.overrules if ids.isdisjoint(each.subject.split()))
    return changed(variant, overrules=kept)


def _without(variant: Variant, check: str, subject: str) -> tuple[Overrule, ...]:
    return tuple(each for each in variant.overrules if (each.check, each.subject) != (check, subject))
