"""What a trip has become since it was begun from a standard trip of the house, told like any comparison."""

from dataclasses import replace
from datetime import date

from lacet.assess import Assessment, assess
from lacet.compare.comparison import Comparison, Side, compare
from lacet.trip.catalogue import Catalogue
from lacet.trip.commitments import NO_COMMITMENTS, Commitments
from lacet.trip.edits import trip_from_standard
from lacet.trip.house_rules import HouseRules
from lacet.trip.trip import Trip, Variant
from lacet.wording import ENGLISH, Wording


def since_standard(
    trip: Trip,
    variant: Variant,
    found: Assessment,
    standard: Trip,
    catalogue: Catalogue,
    rules: HouseRules,
    commitments: Commitments = NO_COMMITMENTS,
    *,
    as_of: date,
    show_money: bool = True,
    wording: Wording = ENGLISH,
) -> Comparison:
    """The variant (last) held against the standard's (first), both for this party on these dates.

    A variant added since is held against the standard's first.
    """
    begun = trip_from_standard(standard, trip.id, trip.name, trip.party, start=trip.start)
    origin = begun.variant(variant.id) or begun.variants[0]
    at_first = replace(trip, variants=(origin,), accepted=None, proposed=None)
    before = assess(at_first, origin, catalogue, rules, commitments, as_of=as_of)
    sides = (Side(origin, before), Side(variant, found))
    return compare(sides, catalogue, show_money=show_money, wording=wording)
