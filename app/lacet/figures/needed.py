"""What a variant needs from suppliers, and how that meets the bookings: matched by content, not by id.

A booking outlives the variant it was made for. So both sides are spread over dates
and compared there: same service, same supplier, same date, and for rooms the same kind. Rooms and bikes are
counted; of a dinner, a transfer or a bag move it is enough that the supplier was asked for that day.

What guests pay and arrange themselves is not needed, nor what is only offered. Scheduled buses and the
office's own reps take no booking (common practice, no source).
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import TypeAlias

from lacet.price.rooms import rooms_used, sleepers
from lacet.trip.bookings import LIVE, Booking, Bookings, booked_dates
from lacet.trip.catalogue import Catalogue
from lacet.trip.hires import days_of, named_by_legs
from lacet.trip.itinerary import travellers_there
from lacet.trip.library import Lodging, Ref, Transfer
from lacet.trip.trip import Day, Ride, Trip, Variant
from lacet.trip.words import Carrier, Payer, Service

COUNTED = (Service.LODGING, Service.BIKE)
_MATCHED = (*COUNTED, Service.RESTAURANT, Service.TRANSFER, Service.BAG_MOVE)
_ASKED_BY_US = (Payer.INCLUDED, Payer.LOCALLY)
_UNBOOKED = (Carrier.BUS, Carrier.REP)

_Each: TypeAlias = tuple[Service, str, str, int]
_Desk: TypeAlias = tuple[Service, str, date | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Needed:
    """One thing a supplier is to be asked for.

    Days are 1-based. `to_day` is the last day of the service; for a lodging it is the day of departure, as
    in bookings. `detail` is the kind of room, the meal, the load, or the two places of a transfer. `parts`
    are, for each of its `days`, the ids of the nights, meals, transfers, moves or hires that need it.
    """

    service: Service
    supplier: str
    detail: str
    from_day: int
    to_day: int
    quantity: int
    parts: tuple[tuple[str, ...], ...] = ()

    @property
    def days(self) -> range:
        """The nights or days it is needed for (1-based)."""
        last = self.to_day if self.service is Service.LODGING else self.to_day + 1
        return range(self.from_day, max(last, self.from_day + 1))


@dataclass(frozen=True, slots=True)
class Unasked:
    """Something needed for which too little was asked: on which days (1-based), and how many at worst."""

    needed: Needed
    days: tuple[int, ...]
    missing: int


@dataclass(frozen=True, slots=True)
class Unneeded:
    """A booking that asks for more than is needed: on which dates, and how many at most."""

    booking: Booking
    dates: tuple[date, ...]
    surplus: int


@dataclass(frozen=True, slots=True)
class Matching:
    """Both sides of the comparison of needs and bookings."""

    unasked: tuple[Unasked, ...]
    unneeded: tuple[Unneeded, ...]


def needed(trip: Trip, variant: Variant, catalogue: Catalogue) -> tuple[Needed, ...]:
    """Everything a variant needs from suppliers, by first day; equal nights and days run together."""
    daily: Counter[_Each] = Counter()
    parts: dict[_Each, dict[str, None]] = {}
    for number, day in enumerate(variant.days, start=1):
        for service, supplier, detail, quantity, part in _of_day(trip, day, number, catalogue):
            daily[service, supplier, detail, number] += quantity
            parts.setdefault((service, supplier, detail, number), {})[part] = None
    for hire in (*variant.hires, *named_by_legs(trip.party, variant)):
        if hire.bike is not None and hire.payer in _ASKED_BY_US:
            for number in days_of(hire, variant):
                daily[Service.BIKE, hire.bike.id, "", number] += 1
                parts.setdefault((Service.BIKE, hire.bike.id, "", number), {})[hire.id] = None
    return tuple(sorted(_runs(daily, parts), key=lambda each: (each.from_day, each.service, each.supplier)))


def match(trip: Trip, bookings: Bookings, wanted: tuple[Needed, ...], catalogue: Catalogue) -> Matching:
    """Hold bookings that stand against what is needed; nothing to tell while the trip has no start."""
    if trip.start is None:
        return Matching((), ())
    ledger = _Ledger(trip, wanted)
    standing = [each for each in bookings if each.state in LIVE and each.service in _MATCHED]
    # Bookings that name a kind of room take theirs first; one that doesn't may stand for any kind.
    standing.sort(key=lambda each: not _kind_of(each, catalogue))
    surplus = [ledger.enter(booking, _kind_of(booking, catalogue)) for booking in standing]
    return Matching(
        tuple(found for need in wanted if (found := ledger.missing(need)) is not None),
        tuple(found for found in surplus if found is not None),
    )


class _Ledger:
    """What is still to be asked for, by service, supplier, detail and date."""

    def __init__(self, trip: Trip, wanted: tuple[Needed, ...]) -> None:
        self._left: dict[_Desk, dict[str, int]] = {}
        self._date_of = {day: trip.date_of(day) for need in wanted for day in need.days}
        for need in wanted:
            for day in need.days:
                desk = (need.service, need.supplier, self._date_of[day])
                self._left.setdefault(desk, {})[need.detail] = need.quantity

    def enter(self, booking: Booking, kind: str) -> Unneeded | None:
        """Take off what the booking covers; what it asks for beyond that comes back."""
        over = {on: self._cover(booking, on, kind) for on in booked_dates(booking)}
        dates = tuple(on for on, surplus in over.items() if surplus)
        return Unneeded(booking, dates, max(over.values())) if dates else None

    def _cover(self, booking: Booking, on: date, kind: str) -> int:
        left = self._left.get((booking.service, booking.supplier, on), {})
        if booking.service not in COUNTED:
            left.update(dict.fromkeys(left, 0))
            return 0 if left else booking.quantity
        spare = booking.quantity
        for detail in left:
            if kind in ("", detail):
                taken = min(spare, left[detail])
                left[detail] -= taken
                spare -= taken
        return spare

    def missing(self, need: Needed) -> Unasked | None:
        desks = {day: (need.service, need.supplier, self._date_of[day]) for day in need.days}
        short = {day: self._left[desk][need.detail] for day, desk in desks.items()}
        days = tuple(day for day, count in short.items() if count)
        return Unasked(need, days, max(short.values())) if days else None


def _kind_of(booking: Booking, catalogue: Catalogue) -> str:
    """The kind of room a booking names, or "" where its detail is something else."""
    house = catalogue.latest(Lodging, booking.supplier) if booking.service is Service.LODGING else None
    kinds = [room.kind for room in house.rooms] if house is not None else []
    return booking.detail if booking.detail in kinds else ""


def _of_day(
    trip: Trip, day: Day, number: int, catalogue: Catalogue
) -> Iterator[tuple[Service, str, str, int, str]]:
    """(service, supplier, detail, quantity, id of the part that needs it), one part after the other."""
    for night in day.nights:
        asleep = sleepers(trip.party, number, day, night)
        if asleep and night.payer in _ASKED_BY_US:
            house = catalogue.get(Lodging, night.lodging)
            rooms = rooms_used(night, house, asleep, trip.party) if house is not None else ()
            kinds = Counter(room.kind for room in rooms) or Counter([""])
            for kind, count in kinds.items():
                yield Service.LODGING, night.lodging.id, kind, count, night.id
    for meal in day.meals:
        if meal.restaurant is not None and meal.payer in _ASKED_BY_US:
            heads = sum(1 for who in travellers_there(trip, number) if _in(who, meal.travellers))
            yield Service.RESTAURANT, meal.restaurant.id, meal.kind.value, heads, meal.id
    for item in day.items:
        if isinstance(item, Ride) and item.payer in _ASKED_BY_US:
            service = _booked_service(item, catalogue)
            if service is not None:
                heads = sum(1 for who in travellers_there(trip, number) if _in(who, item.travellers))
                yield Service.TRANSFER, service.id, f"{item.from_place} {item.to_place}", heads, item.id
    for move in day.moves:
        if move.means is not None and move.payer in _ASKED_BY_US:
            count = move.count or len(travellers_there(trip, number))
            yield Service.BAG_MOVE, move.means.id, move.load.value, count, move.id


def _in(who: str, travellers: tuple[str, ...] | None) -> bool:
    return travellers is None or who in travellers


def _booked_service(ride: Ride, catalogue: Catalogue) -> Ref | None:
    """The service a ride has to be asked for, or None."""
    service = None if ride.transfer is None else catalogue.get(Transfer, ride.transfer)
    return None if service is not None and service.carrier in _UNBOOKED else ride.transfer


def _runs(daily: Counter[_Each], parts: dict[_Each, dict[str, None]]) -> Iterator[Needed]:
    """Days on end with the same need as one; what isn't a night or a hire is asked for day by day."""
    for (service, supplier, detail, number), quantity in daily.items():
        runs_on = service in COUNTED
        if runs_on and daily.get((service, supplier, detail, number - 1)) == quantity:
            continue
        last = number
        while runs_on and daily.get((service, supplier, detail, last + 1)) == quantity:
            last += 1
        leaves = last + 1 if service is Service.LODGING else last
        named = (parts[service, supplier, detail, day] for day in range(number, last + 1))
        yield Needed(service=service, supplier=supplier, detail=detail, from_day=number, to_day=leaves,
                     quantity=quantity, parts=tuple(tuple(filter(None, each)) for each in named))  # fmt: skip
