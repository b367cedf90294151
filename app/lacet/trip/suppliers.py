"""What a supplier is called: bookings and needs name it by id, whatever it supplies."""

from lacet.trip.catalogue import Catalogue
from lacet.trip.library import Bike, Lodging, Restaurant, Transfer
from lacet.trip.words import Service

_KINDS = {
    Service.LODGING: Lodging,
    Service.RESTAURANT: Restaurant,
    Service.TRANSFER: Transfer,
    Service.BIKE: Bike,
    Service.BAG_MOVE: Transfer,
}


def supplier_name(catalogue: Catalogue, service: Service, supplier: str) -> str:
    """Its name in the library, else its id."""
    kind = _KINDS.get(service)
    item = catalogue.latest(kind, supplier) if kind else None
    return item.name if item else supplier
