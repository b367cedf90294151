"""Where everybody is: who spends a day together, where each item begins and ends, where they wake up.

A group is the set of travellers who take the same items of a day; notes part nobody. Where stages run
and where houses stand is the catalogue's knowledge, so callers pass it in as two functions.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TypeAlias

from lacet.trip.library import Ref
from lacet.trip.party import Traveller
from lacet.trip.trip import Crossing, Day, Item, Leg, Night, Note, Ride, Trip, Visit

Ends: TypeAlias = tuple[str | None, str | None]
Where: TypeAlias = Mapping[str, str | None]
"""The place of each guest by id; None = unknown."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """One item of a day with the places it begins and ends at, and where the group stands before it.

    Places are ids; None = on the way, or unknown. `from_place` is the item's own, `stands_at` the group's:
    where they differ the day does not join up.
    """

    item: Item
    stands_at: str | None
    from_place: str | None
    to_place: str | None


@dataclass(frozen=True, slots=True)
class Group:
    """Those who spend a day together.

    `woke_at` is where each of them was that morning (or arrives at), `slept_at` where each sleeps after it;
    both run parallel to `travellers`.
    """

    travellers: tuple[str, ...]
    stretches: tuple[Stretch, ...]
    woke_at: tuple[str | None, ...]
    ends_at: str | None
    slept_at: tuple[str | None, ...]

    @property
    def items(self) -> tuple[Item, ...]:
        return tuple(stretch.item for stretch in self.stretches)

    @property
    def starts_at(self) -> str | None:
        """Where the group sets out: where its first traveller woke, else where its first item begins."""
        if self.woke_at and self.woke_at[0] is not None:
            return self.woke_at[0]
        return next((stretch.from_place for stretch in self.stretches if stretch.from_place), None)


@dataclass(frozen=True, slots=True)
class ItineraryDay:
    """One day (1-based) and its groups, in the order of the party."""

    number: int
    day: Day
    groups: tuple[Group, ...]


def takes(item: Item | Night, traveller_id: str) -> bool:
    """Whether a traveller takes part: everybody does where nobody is named."""
    return item.travellers is None or traveller_id in item.travellers


def travellers_there(trip: Trip, day_number: int) -> tuple[str, ...]:
    """Ids of those with the party on a day (1-based), in the order of the party."""
    return tuple(guest.id for guest in trip.party.travellers if guest.there_on(day_number))


def day_groups(day: Day, there: tuple[str, ...]) -> tuple[tuple[tuple[str, ...], tuple[Item, ...]], ...]:
    """Part those who are there by what they take: (travellers, their items), in the order of the party."""
    parted: dict[tuple[int, ...], list[str]] = {}
    binding = [(index, item) for index, item in enumerate(day.items) if not isinstance(item, Note)]
    for traveller_id in there:
        taken = tuple(index for index, item in binding if takes(item, traveller_id))
        parted.setdefault(taken, []).append(traveller_id)
    return tuple((tuple(ids), tuple(day.items[index] for index in taken)) for taken, ids in parted.items())


def night_of(day: Day, traveller_id: str) -> Night | None:
    """The night a traveller has after the day: one that names them, else one that names nobody."""
    named = (night for night in day.nights if night.travellers and traveller_id in night.travellers)
    common = (night for night in day.nights if night.travellers is None)
    return next(named, None) or next(common, None)


def crossing_of(crossings: tuple[Crossing, ...], traveller_id: str) -> Crossing | None:
    """A traveller's arrival or departure: one that names them, else one that names nobody."""
    named = (each for each in crossings if each.travellers and traveller_id in each.travellers)
    common = (each for each in crossings if each.travellers is None)
    return next(named, None) or next(common, None)


def arrives_on(trip: Trip, arrival: Crossing, guest: Traveller) -> int:
    """The day (1-based) on which a guest comes with this arrival: its date's, else the guest's first."""
    number = None if arrival.on is None else trip.number_of(arrival.on)
    return guest.from_day if number is None else number


def leaves_on(trip: Trip, departure: Crossing, guest: Traveller, days: int) -> int:
    """The day (1-based) on which a guest goes with this departure: its date's, else the guest's last.

    `days` is how many the variant has.
    """
    number = None if departure.on is None else trip.number_of(departure.on)
    return (guest.to_day or days) if number is None else number


def days_of_arrival(trip: Trip, arrival: Crossing) -> frozenset[int]:
    """The days (1-based) on which those who cross come; the first while nobody is named."""
    return frozenset(arrives_on(trip, arrival, guest) for guest in _who_cross(trip, arrival))


def days_of_departure(trip: Trip, departure: Crossing, days: int) -> frozenset[int]:
    """The days (1-based) on which those who cross go; the last of `days` while nobody is named."""
    return frozenset(leaves_on(trip, departure, guest, days) for guest in _who_cross(trip, departure))


def _who_cross(trip: Trip, crossing: Crossing) -> tuple[Traveller, ...]:
    guests = trip.party.travellers or (Traveller(id=""),)
    return tuple(each for each in guests if crossing.travellers is None or each.id in crossing.travellers)


def follow_day(
    day: Day,
    number: int,
    there: tuple[str, ...],
    where: Where,
    ends: Callable[[Leg], Ends],
    lodging_place: Callable[[Ref], str | None],
) -> tuple[ItineraryDay, Where]:
    """One day (1-based) of those who are there, and where everybody wakes after it.

    Parameters
    ----------
    where
        Where everybody woke that morning, or arrives at.
    ends
        Places where a leg begins and ends, in its own direction; None where a cut leaves it on the way.
    lodging_place
        The place of a lodging version, or None when the library doesn't hold it.
    """
    groups = groups_on(day, there, where, ends, lodging_place)
    after = dict(where)
    for group in groups:
        beds = zip(group.travellers, group.slept_at, strict=True)
        after.update({who: bed or group.ends_at for who, bed in beds})
    return ItineraryDay(number, day, groups), after


def groups_on(
    day: Day,
    there: tuple[str, ...],
    where: Mapping[str, str | None],
    ends: Callable[[Leg], Ends],
    lodging_place: Callable[[Ref], str | None],
) -> tuple[Group, ...]:
    """The groups of one day for travellers who wake at `where`."""
    groups = []
    for travellers, items in day_groups(day, there):
        woke_at = tuple(where[traveller_id] for traveller_id in travellers)
        stretches, ends_at = _stretches(items, woke_at[0], ends)
        slept_at = tuple(_sleeps_at(day, traveller_id, lodging_place) for traveller_id in travellers)
        groups.append(Group(travellers, stretches, woke_at, ends_at, slept_at))
    return tuple(groups)


def _stretches(
    items: tuple[Item, ...], start: str | None, ends: Callable[[Leg], Ends]
) -> tuple[tuple[Stretch, ...], str | None]:
    stretches = []
    stands_at = start
    for item in items:
        begins, finishes = _item_ends(item, stands_at, ends)
        stretches.append(Stretch(item, stands_at, begins, finishes))
        stands_at = finishes
    return tuple(stretches), stands_at


def _item_ends(item: Item, stands_at: str | None, ends: Callable[[Leg], Ends]) -> Ends:
    if isinstance(item, Leg):
        return ends(item)
    if isinstance(item, Ride):
        return item.from_place, item.to_place
    if isinstance(item, Visit) and item.place is not None:
        return item.place, item.place
    return stands_at, stands_at


def _sleeps_at(day: Day, traveller_id: str, lodging_place: Callable[[Ref], str | None]) -> str | None:
    night = night_of(day, traveller_id)
    return None if night is None else lodging_place(night.lodging)


def arrive(trip: Trip) -> Where:
    """Where everybody is before the first day."""
    return {guest.id: _arrives_at(trip, guest.id) for guest in trip.party.travellers}


def _arrives_at(trip: Trip, traveller_id: str) -> str | None:
    arrival = crossing_of(trip.arrivals, traveller_id)
    return None if arrival is None else arrival.hub
