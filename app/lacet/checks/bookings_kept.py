"""Options don't run out, rooms aren't released, bookings match what the chosen variant needs.

Bookings are made for the variant the client accepted, else for the one proposed. Rooms and bikes are scarce
and missed at once; dinners, transfers and bag moves are asked for when the client has said yes. Where
trip and bookings no longer fit, nothing follows by itself: it is told here.
"""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from functools import partial

from lacet.checks.case import Case
from lacet.checks.words import begun, listed, on_day
from lacet.figures.needed import COUNTED, Needed, Unasked, Unneeded, match, needed
from lacet.trip import bookings
from lacet.trip.bookings import LIVE, Booking, booked_dates
from lacet.trip.finding import Finding, Fix, Level
from lacet.trip.library import Lodging
from lacet.trip.suppliers import supplier_name
from lacet.trip.trip import Trip
from lacet.trip.words import BookingState, Service

ID = "bookings_kept"
SAYS = "Options are confirmed in time, and bookings match what the accepted or proposed variant needs."
_WHAT = {
    Service.RESTAURANT: "a table",
    Service.TRANSFER: "a transfer",
    Service.BAG_MOVE: "a move of {}",
}


def check(case: Case) -> Iterator[Finding]:
    for booking in case.bookings:
        yield from _option(case, booking)
        yield from _release(case, booking)
        yield from _guests(case, booking)
    if case.trip.start is not None and case.variant_id == _chosen(case):
        wanted = needed(case.trip, case.variant, case.catalogue)
        told = match(case.trip, case.bookings, wanted, case.catalogue)
        yield from _unasked(case, told.unasked)
        yield from (_unneeded(case, each, wanted) for each in told.unneeded)


def _chosen(case: Case) -> str | None:
    return case.trip.accepted.variant if case.trip.accepted else case.trip.proposed


def _option(case: Case, booking: Booking) -> Iterator[Finding]:
    if booking.state is not BookingState.OPTION or booking.option_until is None:
        return
    left = (booking.option_until - case.as_of).days
    name = _name(case, booking.service, booking.supplier)
    confirmed = (_written("Write it down as confirmed", replace(booking, state=BookingState.CONFIRMED)),)
    if left < 0:
        says = f"The option at {name} ran out on {on_day(booking.option_until)}. Ask whether it still holds."
        yield _told(case, booking, Level.STOP, says, "option", left, 0, confirmed)
    elif left <= case.rules.option_warn_days:
        says = f"The option at {name} ends on {on_day(booking.option_until)}. Confirm it or let it go."
        limit = case.rules.option_warn_days
        yield _told(case, booking, Level.WARN, says, "option", left, limit, confirmed)


def _release(case: Case, booking: Booking) -> Iterator[Finding]:
    """A house gives unconfirmed rooms back some days before; told a fortnight ahead."""
    if booking.service is not Service.LODGING or booking.state is BookingState.CONFIRMED:
        return
    house = case.catalogue.latest(Lodging, booking.supplier)
    if house is None or house.release_days is None or booking.state not in LIVE:
        return
    until = booking.from_day - timedelta(days=house.release_days)
    left = (until - case.as_of).days
    if 0 <= left <= case.rules.release_warn_days:
        when = "today" if left == 0 else f"on {on_day(until)}, in {left} day{'s' if left > 1 else ''}"
        says = f"{house.name} gives the rooms back {when}. Confirm them before."
        yield _told(case, booking, Level.WARN, says, "release", left, case.rules.release_warn_days)


def _guests(case: Case, booking: Booking) -> Iterator[Finding]:
    """What was asked for guests by name who are no longer in the party."""
    gone = [who for who in booking.travellers or () if who not in case.guests]
    if not gone or booking.state not in LIVE:
        return
    name, count = _name(case, booking.service, booking.supplier), len(gone)
    who = "a guest who no longer travels" if count == 1 else f"{count} guests who no longer travel"
    nobody = count == len(booking.travellers or ())
    says = f"{name} was asked on {on_day(booking.from_day)} for {who}. {'Cancel' if nobody else 'Change'} it."
    cancelled = (_written("Write it down as cancelled", replace(booking, state=BookingState.CANCELLED)),)
    yield _told(case, booking, Level.WARN, says, "guests", None, None, cancelled if nobody else ())


def _unasked(case: Case, found: tuple[Unasked, ...]) -> Iterator[Finding]:
    """Each supplier once, however many days it is needed for."""
    by_supplier: dict[tuple[Service, str], list[Unasked]] = {}
    for each in found:
        by_supplier.setdefault((each.needed.service, each.needed.supplier), []).append(each)
    for (service, supplier), missing in by_supplier.items():
        urgent = service in COUNTED or case.trip.accepted is not None
        yield Finding(
            check=ID,
            level=Level.WARN if urgent else Level.NOTE,
            subject=f"unasked {service.value} {supplier}",
            day=missing[0].days[0],
            says=_unasked_says(case, service, supplier, missing),
            figure=float(sum(each.missing * len(each.days) for each in missing)),
            limit=0.0,
            unit={Service.LODGING: "room nights", Service.BIKE: "bike days"}.get(service, "services"),
            fixes=(Fix(says="Write it down as requested", act=_requested(case.trip, missing)),),
        )


def _unasked_says(case: Case, service: Service, supplier: str, missing: list[Unasked]) -> str:
    name, what = _name(case, service, supplier), listed([_what(each) for each in missing])
    if _refused(case, service, supplier, missing):
        return f"{name} has refused {what}. Choose another, or ask again."
    if service in COUNTED and any(each.missing < each.needed.quantity for each in missing):
        return f"{name} was asked for too little: {what} missing. Ask for more."
    return f"Nobody has asked {name} for {what}. Ask now."


def _what(each: Unasked) -> str:
    need, plural = each.needed, "" if each.missing == 1 else "s"
    if need.service is Service.LODGING:
        kind = f"{need.detail} " if need.detail else ""
        return f"{each.missing} {kind}room{plural} after {_days(each.days)}"
    if need.service is Service.BIKE:
        return f"{each.missing} bike{plural} on {_days(each.days)}"
    return f"{_WHAT[need.service].format(need.detail)} on {_days(each.days)}"


def _days(days: tuple[int, ...]) -> str:
    if len(days) > 2 and days[-1] - days[0] == len(days) - 1:
        return f"days {days[0]} to {days[-1]}"
    return ("day " if len(days) == 1 else "days ") + listed([str(day) for day in days])


def _refused(case: Case, service: Service, supplier: str, missing: list[Unasked]) -> bool:
    dates = {case.trip.date_of(day) for each in missing for day in each.days}
    return any(
        booking.state is BookingState.REFUSED
        and (booking.service, booking.supplier) == (service, supplier)
        and any(on is not None and booking.from_day <= on <= booking.to_day for on in dates)
        for booking in case.bookings
    )


def _requested(trip: Trip, missing: list[Unasked]) -> bookings.Act:
    asked = tuple(
        _asked_for(trip, each.needed, first, last, each.missing)
        for each in missing
        for first, last in _spans(each.days)
    )
    return partial(_all_added, asked)


def _all_added(asked: tuple[Booking, ...], before: bookings.Bookings) -> bookings.Bookings:
    return bookings.add_all(before, asked)


def _spans(days: tuple[int, ...]) -> Iterator[tuple[int, int]]:
    """Days on end, as first and last."""
    first = days[0]
    for day, following in zip(days, (*days[1:], None), strict=True):
        if following != day + 1:
            yield first, day
            first = following or day


def _asked_for(trip: Trip, need: Needed, first: int, last: int, quantity: int) -> Booking:
    leaves = last + 1 if need.service is Service.LODGING else last
    from_day, to_day = trip.date_of(first), trip.date_of(leaves)
    assert from_day is not None
    assert to_day is not None, "nothing is unasked without a start"
    parts = need.parts[first - need.from_day : last + 1 - need.from_day]
    return Booking(id="", service=need.service, supplier=need.supplier, detail=need.detail, quantity=quantity,
                   from_day=from_day, to_day=to_day,
                   made_for=tuple(dict.fromkeys(part for each in parts for part in each)))  # fmt: skip


def _unneeded(case: Case, found: Unneeded, wanted: tuple[Needed, ...]) -> Finding:
    booking = found.booking
    name = _name(case, booking.service, booking.supplier)
    cancelled = _written("Write it down as cancelled", replace(booking, state=BookingState.CANCELLED))
    moved = _moved(case, booking, wanted)
    if _wholly(found):
        until = booking.free_cancel_until
        free = f" It is free until {on_day(until)}." if until is not None and until >= case.as_of else ""
        says = f"{name} was asked for {on_day(booking.from_day)}, but isn't needed{moved}. Cancel it.{free}"
        fixes: tuple[Fix, ...] = (cancelled,)
    else:
        dates = listed([on_day(on) for on in found.dates])
        there = moved.replace(" then:", ":")
        says = f"{name} was asked for more than is needed on {dates}{there}. Change the booking."
        fixes = ()
    return _told(case, booking, Level.WARN, says, "unneeded", None, None, fixes)


def _moved(case: Case, booking: Booking, wanted: tuple[Needed, ...]) -> str:
    """When the trip has what it was made for, if on other days: ' then: the trip has it on 12 May now'."""
    on: list[date] = []
    for need in wanted:
        for day, parts in zip(need.days, need.parts, strict=True):
            at = case.trip.date_of(day)
            if at is not None and not set(booking.made_for).isdisjoint(parts):
                on.append(at)
    dates = sorted(set(on).difference(booked_dates(booking)))
    if not dates:
        return ""
    return f" then: the trip has it on {listed([on_day(each) for each in dates])} now"


def _wholly(found: Unneeded) -> bool:
    booking = found.booking
    nights = (booking.to_day - booking.from_day).days + (booking.service is not Service.LODGING)
    return len(found.dates) >= nights and found.surplus == booking.quantity


def _written(says: str, booking: Booking) -> Fix:
    return Fix(says=says, act=partial(_with_booking, booking))


def _with_booking(booking: Booking, before: bookings.Bookings) -> bookings.Bookings:
    return bookings.change(before, booking)


def _name(case: Case, service: Service, supplier: str) -> str:
    name = supplier_name(case.catalogue, service, supplier)
    return begun(name) if name == supplier else name


def _told(
    case: Case, booking: Booking, level: Level, says: str, about: str, figure: int | None, limit: int | None,
    fixes: tuple[Fix, ...] = (),
) -> Finding:  # fmt: skip
    number = None if case.trip.start is None else (booking.from_day - case.trip.start).days + 1
    return Finding(
        check=ID, level=level, subject=f"booking {booking.id} {about}", says=says,
        day=number if number is not None and 1 <= number <= len(case.figures.days) else None,
        figure=None if figure is None else float(figure), limit=None if limit is None else float(limit),
        unit="" if figure is None else "days", worse_is_more=False, fixes=fixes,
    )  # fmt: skip
