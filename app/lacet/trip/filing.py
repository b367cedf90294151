"""Under which ids a library item can be looked up besides its own: its places, or what a tariff is for."""

from lacet.trip.library import LibraryItem, Lodging, Place, Restaurant, Tariff
from lacet.trip.words import Service

FIXED = (Service.FIXED_TRIP, Service.FIXED_PERSON)


def place_ids(item: LibraryItem) -> tuple[str, ...]:
    """The places an item lies at or joins, by id."""
    if isinstance(item, Place):
        return ()
    if isinstance(item, Lodging | Restaurant):
        return (item.place,)
    ends = (getattr(item, "from_place", None), getattr(item, "to_place", None))
    depots = tuple(depot.place for depot in getattr(item, "depots", ()))
    return (*(place for place in ends if place), *depots)


def filed_under(item: LibraryItem) -> frozenset[str]:
    """The item's places; of a tariff its subject, and the empty id where it is for every trip."""
    if isinstance(item, Tariff):
        return frozenset((item.subject_id, "" if item.service in FIXED else item.subject_id))
    return frozenset(place_ids(item))
