"""Options don't run out, rooms aren't released, bookings match what the chosen variant needs."""

from collections.abc import Iterator
from datetime import date, timedelta

from lacet.checks.case import Case
from lacet.checks.nights import sleeps
from lacet.trip.finding import Finding, Level
from lacet.trip.library import Bike, Lodging, Restaurant, Transfer
from lacet.trip.trip import Booking
from lacet.trip.words import BookingState, Service

ID = "bookings_kept"
SAYS = "Options are confirmed in time, and bookings match what the accepted or proposed variant needs."
_LIVE = (BookingState.REQUESTED, BookingState.OPTION, BookingState.CONFIRMED, BookingState.WAITLISTED)
_KINDS = {
    Service.LODGING: Lodging,
    Service.RESTAURANT: Restaurant,
    Service.TRANSFER: Transfer,
    Service.BIKE: Bike,
}


def check(case: Case) -> Iterator[Finding]:
    for booking in case.trip.bookings:
        yield from _option(case, booking)
        yield from _release(case, booking)
    if case.variant.id == _chosen(case):
        yield from _unasked(case)
        yield from _unneeded(case)


def _chosen(case: Case) -> str | None:
    """Bookings are made for the variant the client accepted, else for the one proposed."""
    return case.trip.accepted.variant if case.trip.accepted else case.trip.proposed


def _option(case: Case, booking: Booking) -> Iterator[Finding]:
    if booking.state is not BookingState.OPTION or booking.option_until is None:
        return
    left = (booking.option_until - case.as_of).days
    name = _name(case, booking)
    if left < 0:
        says = f"The option at {name} ran out on {booking.option_until:%-d %B}. Ask whether it still holds."
        yield _told(booking, Level.STOP, says, "option", float(left), 0.0)
    elif left <= case.rules.option_warn_days:
        says = f"The option at {name} ends on {booking.option_until:%-d %B}. Confirm it or let it go."
        yield _told(booking, Level.WARN, says, "option", float(left), float(case.rules.option_warn_days))


def _release(case: Case, booking: Booking) -> Iterator[Finding]:
    """A house gives unconfirmed rooms back some days before; told a fortnight ahead."""
    if booking.service is not Service.LODGING or booking.state is BookingState.CONFIRMED:
        return
    house = case.catalogue.latest(Lodging, booking.supplier)
    if house is None or house.release_days is None or booking.state not in _LIVE:
        return
    until = booking.from_day - timedelta(days=house.release_days)
    left = (until - case.as_of).days
    if 0 <= left <= case.rules.release_warn_days:
        says = f"{house.name} gives the rooms back on {until:%-d %B}, in {left} days. Confirm them before."
        yield _told(booking, Level.WARN, says, "release", float(left), float(case.rules.release_warn_days))


def _unasked(case: Case) -> Iterator[Finding]:
    """Nights of the chosen variant for which nobody was asked."""
    for sleep in sleeps(case):
        if sleep.house is None or sleep.on is None:
            continue
        if not any(_covers(booking, sleep.house.id, sleep.on) for booking in case.trip.bookings):
            yield Finding(
                check=ID,
                level=Level.WARN,
                subject=f"unasked {sleep.day.id} {sleep.house.id}",
                day=sleep.day.number,
                says=f"{sleep.house.name} is needed that night and nobody has asked. Ask for the rooms.",
            )


def _unneeded(case: Case) -> Iterator[Finding]:
    """Lodgings asked for on a night on which the chosen variant sleeps elsewhere."""
    slept = {(sleep.house.id, sleep.on) for sleep in sleeps(case) if sleep.house is not None}
    for booking in case.trip.bookings:
        if booking.service is not Service.LODGING or booking.state not in _LIVE:
            continue
        nights = (booking.to_day - booking.from_day).days
        dates = [booking.from_day + timedelta(days=number) for number in range(max(nights, 1))]
        if not any((booking.supplier, on) in slept for on in dates):
            says = f"{_name(case, booking)} was asked for {booking.from_day:%-d %B}, but isn't needed."
            yield _told(booking, Level.WARN, says, "unneeded", None, None)


def _covers(booking: Booking, house: str, on: date) -> bool:
    return (
        booking.service is Service.LODGING
        and booking.supplier == house
        and booking.state in _LIVE
        and booking.from_day <= on < booking.to_day
    )


def _name(case: Case, booking: Booking) -> str:
    kind = _KINDS.get(booking.service)
    item = case.catalogue.latest(kind, booking.supplier) if kind else None
    return item.name if item else booking.supplier


def _told(
    booking: Booking, level: Level, says: str, about: str, figure: float | None, limit: float | None
) -> Finding:
    return Finding(
        check=ID, level=level, subject=f"booking {booking.id} {about}", says=says, figure=figure, limit=limit,
        unit="days" if figure is not None else "", worse_is_more=False,
    )  # fmt: skip
