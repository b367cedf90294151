"""The party: who travels. A guest who stays at home leaves no trace in any variant.

Cards, meals and beds for that guest alone go; those shared with others stay for the others. While the party
is under way the removal is refused. What a supplier still holds for that guest stays booked and is told.
"""

from collections.abc import Iterable
from typing import Any

from lacet.trip.edits.change import EditRefused, changed, checked_travellers
from lacet.trip.edits.naming import fresh_id
from lacet.trip.edits.overrules import without_overrules_of
from lacet.trip.edits.shared import rooms_for
from lacet.trip.party import Party, Traveller
from lacet.trip.trip import Alternative, Day, Night, Trip, Variant


def set_party(trip: Trip, party: Party) -> Trip:
    """Change the party as a whole; whoever is no longer in it is taken out of everything."""
    ids = [guest.id for guest in party.travellers]
    if len(ids) != len(set(ids)) or not all(ids):
        raise EditRefused("Each traveller needs an id of their own.")
    gone = [guest.id for guest in trip.party.travellers if guest.id not in ids]
    if gone and trip.fixed_through:
        raise EditRefused("The party is under way; say on which day the guest leaves it instead.")
    for guest in party.travellers:
        _need_sound(guest)
    return _settled(changed(trip, party=changed(party, sharing=_sharing(party))), set(gone))


def add_traveller(trip: Trip, traveller: Traveller) -> Trip:
    """One more guest, with a fresh id; they take part in whatever is for everybody."""
    new = changed(traveller, id=fresh_id("t", (guest.id for guest in trip.party.travellers)))
    return set_party(trip, changed(trip.party, travellers=(*trip.party.travellers, new)))


def remove_traveller(trip: Trip, traveller_id: str) -> Trip:
    """A guest stays at home."""
    checked_travellers(trip.party, (traveller_id,))
    kept = tuple(guest for guest in trip.party.travellers if guest.id != traveller_id)
    return set_party(trip, changed(trip.party, travellers=kept))


def set_traveller(trip: Trip, traveller: Traveller) -> Trip:
    """What is known of one guest."""
    checked_travellers(trip.party, (traveller.id,))
    guests = tuple(traveller if guest.id == traveller.id else guest for guest in trip.party.travellers)
    return set_party(trip, changed(trip.party, travellers=guests))


def for_party(variants: Iterable[Variant], party: Party) -> tuple[Variant, ...]:
    """Variants in which only travellers of this party are named, and nothing is left for nobody."""
    return tuple(_variant_for(variant, party) for variant in variants)


def _settled(trip: Trip, gone: set[str]) -> Trip:
    """The trip with everything in it fitted to its party."""
    return changed(
        trip,
        variants=tuple(without_overrules_of(each, gone) for each in for_party(trip.variants, trip.party)),
        arrivals=_for_those(trip.party, trip.arrivals),
        departures=_for_those(trip.party, trip.departures),
    )


def _variant_for(variant: Variant, party: Party) -> Variant:
    hires = tuple(hire for hire in variant.hires if party.traveller(hire.traveller) is not None)
    return changed(variant, days=tuple(_day_for(day, party) for day in variant.days), hires=hires)


def _day_for(day: Day, party: Party) -> Day:
    others = (_alternative_for(other, party) for other in day.alternatives)
    return changed(
        day,
        items=_for_those(party, day.items),
        nights=tuple(_with_rooms_for(one, party) for one in _for_those(party, day.nights)),
        meals=_for_those(party, day.meals),
        alternatives=tuple(other for other in others if other is not None),
    )


def _with_rooms_for(night: Night, party: Party) -> Night:
    return changed(night, rooms=rooms_for(night.rooms, _named(party, night)))


def _alternative_for(other: Alternative, party: Party) -> Alternative | None:
    items = _for_those(party, other.items)
    return changed(other, items=items) if items or not other.items else None


def _for_those(party: Party, parts: tuple[Any, ...]) -> tuple[Any, ...]:
    kept = []
    for part in parts:
        named = _named(party, part)
        if part.travellers is None:
            kept.append(part)
        elif named:
            kept.append(changed(part, travellers=checked_travellers(party, named)))
    return tuple(kept)


def _named(party: Party, part: Any) -> tuple[str, ...]:
    everybody = tuple(guest.id for guest in party.travellers)
    return everybody if part.travellers is None else tuple(who for who in part.travellers if who in everybody)


def _need_sound(guest: Traveller) -> None:
    if guest.from_day < 1 or (guest.to_day is not None and guest.to_day < guest.from_day):
        raise EditRefused("A guest joins on a day of the trip and leaves on the same day or a later one.")
    if guest.pace <= 0:
        raise EditRefused("A pace is a factor above nothing: 1 is the rule, 1.2 a fifth slower.")


def _sharing(party: Party) -> tuple[tuple[str, ...], ...]:
    known = {guest.id for guest in party.travellers}
    groups = (tuple(who for who in group if who in known) for group in party.sharing)
    return tuple(group for group in groups if group)
