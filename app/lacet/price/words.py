"""How kinds of service, units and payers are said, for tables of a quote."""

from lacet.trip.words import Payer, Service, Unit

SERVICES = {
    Service.LODGING: "lodging",
    Service.RESTAURANT: "meals",
    Service.TRANSFER: "transfers",
    Service.BIKE: "bikes",
    Service.BAG_MOVE: "bags and bikes moved",
    Service.REP: "representative",
    Service.ENTRY: "entries",
    Service.VISITOR_TAX: "visitor tax",
    Service.FIXED_TRIP: "fixed costs of the trip",
    Service.FIXED_PERSON: "fixed costs a head",
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
    Payer.OWN: "on the guests' own account",
}
