"""What was asked of suppliers for the open trip, as a list and its history say it."""

from functools import partial
from typing import NamedTuple

from lacet.service.session import Session
from lacet.store import BookingStep
from lacet.trip import bookings
from lacet.trip.bookings import Booking
from lacet.trip.suppliers import supplier_name
from lacet.trip.words import BookingState, Service

_WHAT = {
    Service.LODGING: "rooms",
    Service.RESTAURANT: "table",
    Service.TRANSFER: "transfer",
    Service.BIKE: "bikes",
    Service.BAG_MOVE: "bag move",
}


class BookedRow(NamedTuple):
    """One booking as a list shows it."""

    booking_id: str
    supplier: str
    what: str
    days: str
    state: str


def booked_rows(session: Session) -> tuple[BookedRow, ...]:
    """The bookings of the open trip, by their first day."""
    held = sorted(session.need_open().bookings, key=lambda each: (each.from_day, each.to_day))
    return tuple(_row(session, each) for each in held)


def acts_told(session: Session) -> tuple[str, ...]:
    """Who did what when with them, the last first: '25 Nov 2026, anna: Quay House cancelled, was option'."""
    return tuple(_told(session, each) for each in reversed(session.booking_history()))


def write_state(session: Session, booking_id: str, state: BookingState) -> bool:
    """Note what has become of a booking."""
    if state is BookingState.CANCELLED:
        return session.cancel(booking_id)
    return session.book(
        partial(bookings.with_state, booking_id=booking_id, state=state),
        f"{_name(session, booking_id)}: {state.value}",
    )


def take_out(session: Session, booking_id: str) -> bool:
    """Take out what was written down by mistake."""
    says = f"take out {_name(session, booking_id)}"
    return session.book(partial(bookings.take_out, booking_id=booking_id), says)


def _name(session: Session, booking_id: str) -> str:
    found = session.need_open().bookings.get(booking_id)
    return "" if found is None else supplier_name(session.catalogue, found.service, found.supplier)


def _row(session: Session, booking: Booking) -> BookedRow:
    wording = session.wording
    what = _WHAT.get(booking.service, booking.service.value.replace("_", " "))
    detail = f", {booking.detail}" if booking.detail and booking.service is Service.LODGING else ""
    days = wording.day(booking.from_day)
    if booking.to_day != booking.from_day:
        days = f"{days} to {wording.day(booking.to_day)}"
    until = f" until {wording.day(booking.option_until)}" if booking.option_until is not None else ""
    state = f"{booking.state.value}{until if booking.state is BookingState.OPTION else ''}"
    name = supplier_name(session.catalogue, booking.service, booking.supplier)
    return BookedRow(booking.id, name, f"{booking.quantity} × {what}{detail}", days, state)


def _told(session: Session, step: BookingStep) -> str:
    booking = step.after or step.before
    assert booking is not None, "an act is on something"
    by = f", {step.by}" if step.by else ""
    name = supplier_name(session.catalogue, booking.service, booking.supplier)
    return f"{session.wording.day(step.at.date(), 'd MMM y')}{by}: {name} {_became(step.before, step.after)}"


def _became(before: Booking | None, after: Booking | None) -> str:
    if after is None:
        return "taken out"
    if before is None:
        return f"written down as {after.state.value}"
    return "changed" if after.state is before.state else f"{after.state.value}, was {before.state.value}"
