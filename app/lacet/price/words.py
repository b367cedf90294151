"""How kinds of service, units and payers are said, for tables of a quote."""

from collections.abc import Iterator, Sequence
from typing import Protocol

from lacet.price.selling_prices import RoomPrice
from lacet.trip.party import Party
from lacet.trip.words import Payer, Service, Unit
from lacet.wording import listed

SERVICES = {
    Service.LODGING: "lodging",
    Service.RESTAURANT: "meals",
    Service.TRANSFER: "transfers",
    Service.BIKE: "bikes",
    Service.BAG_MOVE: "luggage and bike transfers",
    Service.REP: "representative",
    Service.ENTRY: "entry fees",
    Service.VISITOR_TAX: "visitor tax",
    Service.FIXED_TRIP: "fixed costs of the trip",
    Service.FIXED_PERSON: "fixed costs per person",
}
UNITS = {
    Unit.ROOM_NIGHT: "room and night",
    Unit.PERSON_NIGHT: "person and night",
    Unit.PERSON: "person",
    Unit.VEHICLE: "vehicle",
    Unit.BIKE_DAY: "bike and day",
    Unit.BIKE_HIRE: "hire",
    Unit.DEPOSIT: "deposit",
    Unit.BAG: "bag",
    Unit.MOVE: "move",
    Unit.HOUR: "hour",
    Unit.DAY: "day",
    Unit.TRIP: "trip",
}
PAYERS = {
    Payer.INCLUDED: "included",
    Payer.OPTIONAL: "optional",
    Payer.LOCALLY: "paid locally",
    Payer.OWN: "paid by guests",
}


class PricedGuest(Protocol):
    """Somebody with a price."""

    @property
    def traveller(self) -> str: ...


class Priced(Protocol):
    """A quote, or its selling prices: whoever has a price, and prices by room."""

    @property
    def per_traveller(self) -> Sequence[PricedGuest]: ...

    @property
    def by_room(self) -> Sequence[RoomPrice]: ...


def guest_names(quote: Priced, party: Party) -> dict[str, str]:
    """Names by id, in the order of the quote: 'guest 1' where nobody is named or there is no party."""
    known = {guest.id for guest in party.travellers}
    return {
        each.traveller: party.name_of(each.traveller) if each.traveller in known else f"guest {number}"
        for number, each in enumerate(quote.per_traveller, start=1)
    }


def rooms_said(quote: Priced, party: Party) -> Iterator[tuple[RoomPrice, str]]:
    """Each price by room with 'double, 2 sharing'; with names where like rooms cost otherwise."""
    said = [_room(each) for each in quote.by_room]
    names = guest_names(quote, party)
    for each, says in zip(quote.by_room, said, strict=True):
        guests = listed([names[guest] for guest in each.travellers])
        yield each, says if said.count(says) == 1 else f"{says} ({guests})"


def _room(room: RoomPrice) -> str:
    kinds = listed([kind or "room" for kind in room.room_kinds])
    sharing = listed([str(count) for count in room.sharing])
    return f"{kinds}, single occupancy" if room.sharing == (1,) else f"{kinds}, {sharing} sharing"
