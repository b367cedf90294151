"""A trip held against the standard trip it was begun from: one more side, told like any other."""

from dataclasses import replace

from lacet.assess import assess
from lacet.compare.comparison import CannotCompare, Side
from lacet.inputs import Inputs
from lacet.trip.trip import Trip

LETTER = "S"


def standard_side(standard: Trip, like: Inputs) -> Side:
    """The variant of a standard trip that another was made from, assessed by the same library and rules.

    It is the one with the same id, since a trip begun from a standard keeps ids, else the first. Its party is
    a placeholder and its dates are open, so its price may be a lowest price.

    Raises
    ------
    CannotCompare
        When the standard trip has no variant at all.
    """
    variant = standard.variant(like.variant_id) or next(iter(standard.variants), None)
    if variant is None:
        raise CannotCompare(
            "The standard trip '{standard}' has no variant to compare with.", standard=standard.name
        )
    found = assess(Inputs(standard, variant.id, like.catalogue, like.rules, as_of=like.as_of))
    # Its name is often that of the variant made from it.
    return Side(replace(variant, name=f"{variant.name} (standard)"), found, LETTER)
