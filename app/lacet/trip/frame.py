"""What holds for every day of a trip, without the days: the party, its dates and its crossings."""

from functools import partial

from lacet.trip.catalogue import Catalogue
from lacet.trip.kept import Kept
from lacet.trip.trip import Trip

_FRAMES: Kept[Trip] = Kept(256)


def frame_of(trip: Trip, catalogue: Catalogue) -> Trip:
    """The trip without variants and what only an office reads; the same object while that holds.

    What is worked out from a frame and one day can't rest on another day, and can be kept by both.
    """
    return _FRAMES.get(
        catalogue,
        (trip.party, trip.arrivals, trip.departures),
        (trip.start, trip.month, trip.standard, trip.fixed_through),
        partial(_framed, trip),
    )


def _framed(trip: Trip) -> Trip:
    return Trip(
        id="",
        name="",
        party=trip.party,
        start=trip.start,
        month=trip.month,
        arrivals=trip.arrivals,
        departures=trip.departures,
        fixed_through=trip.fixed_through,
        standard=trip.standard,
    )
