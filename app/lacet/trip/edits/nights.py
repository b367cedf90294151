"""Nights: where the party sleeps, and stays that are made longer or shorter by their edge.

To add a night to a stay is to stay on: a rest day without a bed that follows gets the same house; without
one, a day is put in after the stay's last night, and all later days move by one. To drop a night is to leave
a day earlier: the last rest day of the stay goes. A day with a stage on it isn't dropped by way of a night,
because the stage would silently go with it.
"""

from lacet.trip.edits.change import (
    EditRefused,
    change_day,
    changed,
    checked_travellers,
    day_index,
    need_between,
    variant_of,
)
from lacet.trip.edits.days import insert_day, remove_day
from lacet.trip.edits.shared import put_in, taken_out
from lacet.trip.party import Party
from lacet.trip.stays import Stay, is_rest_day, stay_of
from lacet.trip.trip import Day, Night, Rest, RoomUse, Travellers, Trip, Variant, Visit


def set_night(trip: Trip, variant_id: str, day_id: str, night: Night) -> Trip:
    """Say where the night's travellers (None = everybody) sleep after a day.

    Raises
    ------
    EditRefused
        When a room has nobody in it, or somebody who doesn't sleep in that house.
    """
    sleepers = checked_travellers(trip.party, night.travellers)
    rooms = _checked_rooms(trip.party, night.rooms, sleepers)
    new = changed(night, travellers=sleepers, rooms=rooms)

    def slept(day: Day) -> Day:
        return changed(day, nights=put_in(trip.party, day.nights, new, lambda _: True))

    return change_day(trip, variant_id, day_id, slept)


def clear_night(trip: Trip, variant_id: str, day_id: str, *, travellers: Travellers = None) -> Trip:
    """Leave open where these travellers (None = everybody) sleep after a day."""
    some = checked_travellers(trip.party, travellers)

    def cleared(day: Day) -> Day:
        return changed(day, nights=taken_out(trip.party, day.nights, some, lambda _: True))

    return change_day(trip, variant_id, day_id, cleared)


def stretch_stay(
    trip: Trip, variant_id: str, day_id: str, *, nights: int, lodging_id: str | None = None
) -> Trip:
    """Make the stay that the night after this day belongs to so many nights longer (or, below 0, shorter).

    `lodging_id` tells which house is meant where the party sleeps in two.

    Raises
    ------
    EditRefused
        When there is no such stay, or not so many rest days in it to drop.
    """
    need_between(nights, -366, 366, "number of nights")
    for _ in range(abs(nights)):
        variant = variant_of(trip, variant_id)
        stay = _stay(variant, day_id, lodging_id)
        trip = _stay_on(trip, variant, stay) if nights > 0 else _leave_earlier(trip, variant, stay, day_id)
    return trip


def _stay(variant: Variant, day_id: str, lodging_id: str | None) -> Stay:
    index = day_index(variant, day_id)
    houses = [night.lodging.id for night in variant.days[index].nights]
    if lodging_id is None and len(houses) > 1:
        raise EditRefused("The party sleeps in several houses that night; say which stay is meant.")
    chosen = lodging_id if lodging_id is not None else next(iter(houses), "")
    stay = stay_of(variant, index, chosen)
    if stay is None:
        raise EditRefused("Nobody sleeps there after day {index}.", index=index + 1)
    return stay


def _stay_on(trip: Trip, variant: Variant, stay: Stay) -> Trip:
    # Whoever sleeps elsewhere needs a bed that night too, so all nights of the last day are repeated.
    nights = variant.days[stay.last].nights
    after = stay.last + 1
    # The last day of a trip needs no bed: nobody sleeps there after it.
    if after < len(variant.days) - 1 and is_rest_day(variant.days[after]) and not variant.days[after].nights:
        new = tuple(changed(night, id="") for night in nights)
        return change_day(trip, variant.id, variant.days[after].id, lambda day: changed(day, nights=new))
    return insert_day(trip, variant.id, after, Day(id="", items=(Rest(id=""),), nights=nights))


def _leave_earlier(trip: Trip, variant: Variant, stay: Stay, day_id: str) -> Trip:
    if stay.nights == 1:
        raise EditRefused("A stay has at least one night; take the lodging off the day instead.")
    within = variant.days[max(stay.first + 1, trip.fixed_days(variant)) : stay.last + 1]
    resting = [day for day in within if is_rest_day(day)]
    if not resting:
        raise EditRefused("Every day of this stay has a stage or a ride; take one of them out first.")

    def worth_keeping(day: Day) -> tuple[bool, bool]:
        # The day that names the stay is needed to drop the next night; something to see is worth a night.
        return day.id == day_id, any(isinstance(item, Visit) for item in day.items)

    return remove_day(trip, variant.id, min(reversed(resting), key=worth_keeping).id)


def _checked_rooms(party: Party, rooms: tuple[RoomUse, ...], sleepers: Travellers) -> tuple[RoomUse, ...]:
    house = {guest.id for guest in party.travellers} if sleepers is None else set(sleepers)
    beds = [who for room in rooms for who in room.travellers]
    if any(not room.travellers for room in rooms):
        raise EditRefused("A room needs at least one guest in it.")
    if not house.issuperset(beds):
        raise EditRefused("A room is given to somebody who doesn't sleep in that house.")
    if len(beds) != len(set(beds)):
        raise EditRefused("A guest is put into two rooms for the same night.")
    return rooms
