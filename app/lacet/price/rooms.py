"""Who sleeps in which room: as the night says, else the party's sharing fitted to the house's rooms."""

from lacet.trip.itinerary import night_of
from lacet.trip.library import Lodging, Room
from lacet.trip.party import Party
from lacet.trip.trip import Day, Night, RoomUse


def sleepers(party: Party, number: int, day: Day, night: Night) -> tuple[str, ...]:
    """Ids of those who sleep there after the day (1-based), in the order of the party."""
    return tuple(
        guest.id
        for guest in party.travellers
        if guest.sleeps_after(number) and night_of(day, guest.id) is night
    )


def rooms_used(night: Night, lodging: Lodging, asleep: tuple[str, ...], party: Party) -> tuple[RoomUse, ...]:
    """The rooms of one night. A kind of "" means that no room of the house holds so many.

    Rooms the night names come first, as named; who is in none of them shares as the party does. Larger
    groups choose first; each takes the smallest room that holds it and is still free, or, when none is
    free any more, the smallest that would hold it (that the house is full is for a check to tell).
    """
    named = tuple(_present(room, asleep) for room in night.rooms)
    named = tuple(room for room in named if room.travellers)
    placed = {traveller for room in named for traveller in room.travellers}
    rest = tuple(traveller for traveller in asleep if traveller not in placed)
    free = {room.kind: room.count for room in lodging.rooms}
    for room in named:
        free[room.kind] = free.get(room.kind, 0) - 1
    return named + tuple(_place(group, lodging, free) for group in sharing_groups(party, rest))


def sharing_groups(party: Party, asleep: tuple[str, ...]) -> tuple[tuple[str, ...], ...]:
    """Those who sleep, parted by who shares a room; the largest group first, the rest alone."""
    shared = [tuple(guest for guest in group if guest in asleep) for group in party.sharing]
    grouped = {guest for group in shared for guest in group}
    alone = [(guest,) for guest in asleep if guest not in grouped]
    return tuple(sorted((group for group in [*shared, *alone] if group), key=len, reverse=True))


def _present(room: RoomUse, asleep: tuple[str, ...]) -> RoomUse:
    return RoomUse(kind=room.kind, travellers=tuple(guest for guest in room.travellers if guest in asleep))


def _place(group: tuple[str, ...], lodging: Lodging, free: dict[str, int]) -> RoomUse:
    fitting = sorted((room for room in lodging.rooms if room.sleeps >= len(group)), key=_size)
    chosen = next((room for room in fitting if free[room.kind] > 0), fitting[0] if fitting else None)
    if chosen is None:
        return RoomUse(kind="", travellers=group)
    free[chosen.kind] -= 1
    return RoomUse(kind=chosen.kind, travellers=group)


def _size(room: Room) -> int:
    return room.sleeps
