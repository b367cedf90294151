"""What a trip has become since it was begun from a standard trip of the house, told like any comparison."""

from dataclasses import replace

from lacet.assess import Assessment, assess
from lacet.compare.comparison import Comparison, Side, compare
from lacet.inputs import Inputs
from lacet.trip.edits import trip_from_standard
from lacet.trip.trip import Trip
from lacet.wording import ENGLISH, Wording


def since_standard(
    inputs: Inputs,
    found: Assessment,
    standard: Trip,
    *,
    show_money: bool = True,
    wording: Wording = ENGLISH,
) -> Comparison:
    """The variant (last) held against the standard's (first), both for this party on these dates.

    A variant added since is held against the standard's first.
    """
    trip, variant = inputs.trip, inputs.variant
    begun = trip_from_standard(standard, trip.id, trip.name, trip.party, start=trip.start)
    origin = begun.variant(variant.id) or begun.variants[0]
    at_first = replace(trip, variants=(origin,), accepted=None, proposed=None)
    before = assess(replace(inputs, trip=at_first, variant_id=origin.id))
    sides = (Side(origin, before), Side(variant, found))
    return compare(sides, inputs.catalogue, show_money=show_money, wording=wording)
