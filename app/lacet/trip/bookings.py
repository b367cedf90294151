"""What was asked of suppliers for a trip: values, the acts on them, and two people's acts put together.

Bookings lie beside the trip, not within it. Variants come and go, and undo goes back in a trip, but what a
supplier was asked for stays asked until somebody asks otherwise: each act here is one of its own.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import TypeAlias

from lacet.trip.edits.change import EditRefused
from lacet.trip.edits.naming import fresh_id
from lacet.trip.errors import LacetError
from lacet.trip.money import Money
from lacet.trip.texts import ClientText, Key, LibraryText
from lacet.trip.trip import Travellers
from lacet.trip.words import BookingState, Service

LIVE = (BookingState.REQUESTED, BookingState.OPTION, BookingState.CONFIRMED, BookingState.WAITLISTED)


@dataclass(frozen=True, slots=True, kw_only=True)
class Booking:
    """What was asked of a supplier.

    `to_day` is the last day of the service, of a lodging the day of leaving. `made_for` are the ids of the
    nights, meals, transfers, moves or hires it was asked for; () = nobody has said.
    """

    id: Key
    service: Service
    supplier: Key
    from_day: date
    to_day: date
    quantity: int = 1
    detail: LibraryText = ""
    travellers: Travellers = None
    state: BookingState = BookingState.REQUESTED
    option_until: date | None = None
    free_cancel_until: date | None = None
    reference: ClientText = ""
    price: Money | None = None
    made_for: tuple[Key, ...] = ()


@dataclass(frozen=True, slots=True)
class Bookings:
    """Everything that was asked for one trip, in the order in which it was."""

    held: tuple[Booking, ...] = ()

    def __iter__(self) -> Iterator[Booking]:
        return iter(self.held)

    def __len__(self) -> int:
        return len(self.held)

    def get(self, booking_id: str) -> Booking | None:
        return next((each for each in self.held if each.id == booking_id), None)


NO_BOOKINGS = Bookings()
Act: TypeAlias = Callable[[Bookings], Bookings]


def booked_dates(booking: Booking) -> tuple[date, ...]:
    """The nights or days a booking is for; a lodging's last date is the day of departure."""
    last = 0 if booking.service is Service.LODGING else 1
    count = (booking.to_day - booking.from_day).days + last
    return tuple(booking.from_day + timedelta(days=number) for number in range(max(count, 1)))


def as_they_are(bookings: Bookings) -> Bookings:
    """The act of who books nothing."""
    return bookings


class BookedMeanwhile(LacetError):
    """Somebody else booked the same, or changed the same booking, before this could be kept.

    Attributes
    ----------
    booking
        What they have written down; as it was before, where they took it out.
    """

    def __init__(self, booking: Booking) -> None:
        super().__init__(
            "Somebody else has meanwhile written down what was asked of '{supplier}' from {from_day}. "
            "Yours was not kept: look at the bookings as they are now.",
            supplier=booking.supplier,
            from_day=booking.from_day.isoformat(),
        )
        self.booking = booking


# --- acts


def add(bookings: Bookings, booking: Booking) -> Bookings:
    """Write down what was asked of a supplier, under a fresh id."""
    new_id = fresh_id("k", (each.id for each in bookings))
    return Bookings((*bookings.held, _sound(replace(booking, id=new_id))))


def add_all(bookings: Bookings, asked: Iterable[Booking]) -> Bookings:
    """Write down several at once."""
    for each in asked:
        bookings = add(bookings, each)
    return bookings


def change(bookings: Bookings, booking: Booking) -> Bookings:
    """What has become of a booking: its state, option date, reference, price."""
    _need(bookings, booking.id)
    new = _sound(booking)
    return Bookings(tuple(new if each.id == new.id else each for each in bookings))


def with_state(bookings: Bookings, booking_id: str, state: BookingState) -> Bookings:
    """What the supplier answered, or was told."""
    return change(bookings, replace(_need(bookings, booking_id), state=state))


def cancel(bookings: Bookings, booking_id: str) -> Bookings:
    """The supplier was told that it isn't wanted any more; it stays written down as cancelled."""
    return with_state(bookings, booking_id, BookingState.CANCELLED)


def take_out(bookings: Bookings, booking_id: str) -> Bookings:
    """Take out what was written down by mistake; one that was called off is cancelled instead."""
    _need(bookings, booking_id)
    return Bookings(tuple(each for each in bookings if each.id != booking_id))


def _sound(booking: Booking) -> Booking:
    if booking.to_day < booking.from_day or booking.quantity < 1:
        raise EditRefused("A booking is for at least one, from a day to the same day or a later one.")
    if booking.travellers == ():
        raise EditRefused("Name at least one traveller, or leave it to everybody.")
    return booking


def _need(bookings: Bookings, booking_id: str) -> Booking:
    found = bookings.get(booking_id)
    if found is None:
        raise EditRefused("This trip has no booking '{booking_id}'.", booking_id=booking_id)
    return found


# --- two people at once


@dataclass(frozen=True, slots=True)
class Change:
    """What one act did to one booking: None before = it was added, None after = it was taken out."""

    before: Booking | None
    after: Booking | None

    @property
    def booking_id(self) -> str:
        found = self.after or self.before
        assert found is not None, "what changes nothing is no change"
        return found.id


def changes(before: Bookings, after: Bookings) -> tuple[Change, ...]:
    """What lies between two values, those that were there first."""
    found = [Change(each, after.get(each.id)) for each in before if after.get(each.id) != each]
    return (*found, *(Change(None, each) for each in after if before.get(each.id) is None))


def put_onto(before: Bookings, after: Bookings, theirs: Bookings) -> tuple[Bookings, tuple[Change, ...]]:
    """What lies between two values done to a third, as if it had been done after it; and what that changed.

    A booking that is new here gets another id where theirs have taken it.

    Raises
    ------
    BookedMeanwhile
        Where they changed the same booking, or asked the same supplier for the same days meanwhile.
    """
    if theirs == before:
        return after, changes(before, after)
    new_there = [each for each in theirs if before.get(each.id) != each]
    result, done = theirs, []
    for each in changes(before, after):
        _refuse_meeting(each, theirs, new_there)
        made = each.after
        if each.before is None and made is not None and result.get(made.id) is not None:
            made = replace(made, id=fresh_id("k", (one.id for one in result)))
        done.append(Change(each.before, made))
        result = _with(result, done[-1])
    return result, tuple(done)


def renamed(bookings: Bookings, names: Mapping[str, str]) -> Bookings:
    """The same under other ids, where a file gave other ones than were expected."""
    return Bookings(tuple(replace(each, id=names.get(each.id, each.id)) for each in bookings))


def moved_on(names: Mapping[str, str], waiting: Iterable[str]) -> dict[str, str]:
    """The names with fresh ones for ids that wait and would be called as something else is by now."""
    ids = list(dict.fromkeys(waiting))
    made = dict(names)
    for each in ids:
        if each in names.values() and each not in names:
            made[each] = fresh_id("k", (*ids, *made.values()))
    return made


def _refuse_meeting(mine: Change, theirs: Bookings, new_there: list[Booking]) -> None:
    if mine.before is not None and theirs.get(mine.before.id) != mine.before:
        raise BookedMeanwhile(theirs.get(mine.before.id) or mine.before)
    for other in new_there:
        if mine.after is not None and _meet(mine.after, other):
            raise BookedMeanwhile(other)


def _meet(one: Booking, other: Booking) -> bool:
    """Whether two bookings that stand are for the same: of one supplier then, or for one part of the trip."""
    if one.service is not other.service or one.state not in LIVE or other.state not in LIVE:
        return False
    if not set(one.made_for).isdisjoint(other.made_for):
        return True
    return one.supplier == other.supplier and not set(booked_dates(one)).isdisjoint(booked_dates(other))


def _with(bookings: Bookings, done: Change) -> Bookings:
    if done.before is None:
        return Bookings(bookings.held + (() if done.after is None else (done.after,)))
    put = ((done.after if each.id == done.before.id else each) for each in bookings)
    return Bookings(tuple(each for each in put if each is not None))
