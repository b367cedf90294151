"""Things of which everybody has one a day, though not everybody the same one: a night, a dinner.

Saying where some travellers sleep takes them out of where they were to sleep before; what was said for
everybody then holds for the others, by name. The same house said for two groups is one night for both.
"""

from collections.abc import Callable
from typing import TypeVar

from lacet.trip.edits.change import changed, checked_travellers
from lacet.trip.party import Party
from lacet.trip.trip import Meal, Night, RoomUse, Travellers

Shared = TypeVar("Shared", bound=Night | Meal)


def put_in(
    party: Party, there: tuple[Shared, ...], new: Shared, same_kind: Callable[[Shared], bool]
) -> tuple[Shared, ...]:
    """What there is with `new` for its travellers, taken out of all of the same kind.

    Where nothing is left of one, `new` takes its place and its id.
    """
    kept = taken_out(party, there, new.travellers, same_kind)
    for index, one in enumerate(kept):
        if same_kind(one) and alike(one, new):
            return (*kept[:index], _joined(party, one, new), *kept[index + 1 :])
    left = {one.id for one in kept}
    gone = next((at for at, one in enumerate(there) if one.id not in left), None)
    if gone is None:
        return (*kept, changed(new, id=""))
    at = sum(one.id in left for one in there[:gone])
    return (*kept[:at], changed(new, id=there[gone].id), *kept[at:])


def taken_out(
    party: Party, there: tuple[Shared, ...], travellers: Travellers, same_kind: Callable[[Shared], bool]
) -> tuple[Shared, ...]:
    """What there is without these travellers (None = everybody); nothing is left for nobody."""
    kept: list[Shared] = []
    for one in there:
        if not same_kind(one):
            kept.append(one)
            continue
        rest = others(party, one.travellers, travellers)
        if rest:
            kept.append(for_only(party, one, rest))
    return tuple(kept)


def others(party: Party, among: Travellers, without: Travellers) -> tuple[str, ...]:
    """Those of `among` (None = the party) who aren't in `without` (None = everybody is)."""
    if without is None:
        return ()
    everybody = tuple(guest.id for guest in party.travellers)
    return tuple(who for who in (everybody if among is None else among) if who not in without)


def for_only(party: Party, one: Shared, travellers: tuple[str, ...]) -> Shared:
    """The same night or meal for these travellers; rooms nobody is left in are given back."""
    one = changed(one, travellers=checked_travellers(party, travellers))
    if isinstance(one, Night):
        return changed(one, rooms=rooms_for(one.rooms, travellers))
    return one


def rooms_for(rooms: tuple[RoomUse, ...], travellers: tuple[str, ...]) -> tuple[RoomUse, ...]:
    """The rooms with only these travellers in them."""
    kept = (
        changed(room, travellers=tuple(who for who in room.travellers if who in travellers)) for room in rooms
    )
    return tuple(room for room in kept if room.travellers)


def alike(one: Shared, other: Shared) -> bool:
    """Whether two are the same but for whom: one for both would do."""
    return _but_for_people(one) == _but_for_people(other)


def _but_for_people(one: Shared) -> Shared:
    alone = changed(one, travellers=None, id="")
    if isinstance(alone, Night):
        return changed(alone, rooms=())
    return alone


def _joined(party: Party, one: Shared, new: Shared) -> Shared:
    if one.travellers is None or new.travellers is None:
        return changed(new, id=one.id)
    both = changed(one, travellers=checked_travellers(party, (*one.travellers, *new.travellers)))
    if isinstance(both, Night) and isinstance(one, Night) and isinstance(new, Night):
        # Rooms named for some only would leave the others without one: then the party's sharing decides.
        rooms = (*one.rooms, *new.rooms) if one.rooms and new.rooms else ()
        return changed(both, rooms=rooms)
    return both
