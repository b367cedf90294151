"""A trip without its guests: what was done stays, who did it goes.

Days, stages, nights, bookings and prices are kept, so that the year's figures still add up. Every text
marked as the client's goes (`trip.texts`), because nobody can know whom it names; any other goes that holds a
word of the guests' own data. Guests become t1, t2, ... with the days they were there.
"""

from dataclasses import replace

from lacet.store.known_by import KnownBy
from lacet.trip.bookings import Bookings
from lacet.trip.party import Party, Traveller
from lacet.trip.texts import Change, Holds, rewritten
from lacet.trip.trip import Trip

FORGOTTEN_NAME = "Forgotten party"


def without_guests(trip: Trip, known: KnownBy, trip_id: str) -> Trip:
    """The trip under this id without its guests, whom one knows by `known`."""
    new_ids = _new_ids(trip)
    bare = rewritten(replace(trip, party=Party()), _change(trip, known, trip_id))
    variants = (replace(each, name=f"Variant {n}") for n, each in enumerate(bare.variants, start=1))
    return replace(
        bare,
        name=FORGOTTEN_NAME,
        party=_strangers(trip.party, new_ids),
        variants=tuple(variants),
        started_from="" if known.names_them(bare.started_from) else bare.started_from,
    )


def bookings_without_guests(bookings: Bookings, trip: Trip, known: KnownBy) -> Bookings:
    """What was asked for a trip, without its guests."""
    change = _change(trip, known, trip.id)
    return Bookings(tuple(rewritten(each, change) for each in bookings))


def _new_ids(trip: Trip) -> dict[str, str]:
    return {guest.id: f"t{number}" for number, guest in enumerate(trip.party.travellers, start=1)}


def _change(trip: Trip, known: KnownBy, trip_id: str) -> Change:
    new_ids = _new_ids(trip)

    def change(whose: Holds, text: str) -> str:
        match whose:
            case Holds.GUEST:
                return new_ids.get(text, text)
            case Holds.KEY:
                return trip_id if text == trip.id else text
            case Holds.CLIENT:
                return ""
            case _:
                return "" if known.names_them(text) else text

    return change


def _strangers(party: Party, new_ids: dict[str, str]) -> Party:
    guests = tuple(
        Traveller(id=new_ids[guest.id], from_day=guest.from_day, to_day=guest.to_day)
        for guest in party.travellers
    )
    sharing = tuple(tuple(new_ids.get(guest, guest) for guest in group) for group in party.sharing)
    return Party(travellers=guests, sharing=sharing)
