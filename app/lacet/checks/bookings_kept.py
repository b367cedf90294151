"""Options don't run out, rooms aren't released, bookings match what the chosen variant needs.

Bookings are made for the variant the client accepted, else for the one proposed. Rooms and bikes are scarce
and missed at once; dinners, transfers and bag moves are asked for when the client has said yes. Where
trip and bookings no longer fit, nothing follows by itself: it is told here.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date, timedelta
from functools import partial

from lacet.checks.case import Case
from lacet.figures.needed import COUNTED, Needed, Unasked, Unneeded, match, needed
from lacet.language import Text, marked, to_count, to_say
from lacet.trip import bookings
from lacet.trip.bookings import LIVE, Booking, booked_dates
from lacet.trip.finding import Finding, Fix, Level, subject
from lacet.trip.library import Lodging
from lacet.trip.suppliers import supplier_name
from lacet.trip.trip import Trip
from lacet.trip.words import BookingState, Service

ID = "bookings_kept"
SAYS = "Options are confirmed in time, and bookings match what the accepted or proposed variant needs."


_NOT_NEEDED = marked("{name} was asked for {on:day}, but isn't needed. Cancel it.")
_NOT_NEEDED_FREE = marked(
    "{name} was asked for {on:day}, but isn't needed. Cancel it. It is free until {until:day}."
)
_MOVED = marked(
    "{name} was asked for {on:day}, but isn't needed then: the trip has it on {moved} now. Cancel it."
)
_MOVED_FREE = marked(
    "{name} was asked for {on:day}, but isn't needed then: the trip has it on {moved} now. Cancel it. "
    "It is free until {until:day}."
)
_TOO_MUCH = marked("{name} was asked for more than is needed on {dates}. Change the booking.")
_TOO_MUCH_MOVED = marked(
    "{name} was asked for more than is needed on {dates}: the trip has it on {moved} now. Change the booking."
)


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
    confirmed = (
        _written(to_say("Write it down as confirmed"), replace(booking, state=BookingState.CONFIRMED)),
    )
    if left < 0:
        says = to_say(
            "The option at {name} ran out on {until:day}. Ask whether it still holds.",
            name=name,
            until=booking.option_until,
        )
        yield _told(case, booking, Level.STOP, says, "option", left, 0, confirmed)
    elif left <= case.rules.option_warn_days:
        says = to_say(
            "The option at {name} ends on {until:day}. Confirm it or let it go.",
            name=name,
            until=booking.option_until,
        )
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
        says = to_say(
            "{lodging} gives the rooms back {when}. Confirm them before.",
            lodging=house.name,
            when=_when(until, left),
        )
        yield _told(case, booking, Level.WARN, says, "release", left, case.rules.release_warn_days)


def _when(until: date, left: int) -> Text:
    if left == 0:
        return to_say("today")
    return to_count("on {until:day}, in {count} day", "on {until:day}, in {count} days", left, until=until)


def _guests(case: Case, booking: Booking) -> Iterator[Finding]:
    """What was asked for guests by name who are no longer in the party."""
    gone = [who for who in booking.travellers or () if who not in case.guests]
    if not gone or booking.state not in LIVE:
        return
    name, count = _name(case, booking.service, booking.supplier), len(gone)
    nobody = count == len(booking.travellers or ())
    values = {"name": name, "on": booking.from_day}
    if nobody:
        says = to_count(
            "{name} was asked on {on:day} for a guest who no longer travels. Cancel it.",
            "{name} was asked on {on:day} for {count} guests who no longer travel. Cancel it.",
            count,
            **values,
        )
    else:
        says = to_count(
            "{name} was asked on {on:day} for a guest who no longer travels. Change it.",
            "{name} was asked on {on:day} for {count} guests who no longer travel. Change it.",
            count,
            **values,
        )
    cancelled = (
        _written(to_say("Write it down as cancelled"), replace(booking, state=BookingState.CANCELLED)),
    )
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
            code="unasked",
            level=Level.WARN if urgent else Level.NOTE,
            subject=subject({"service": service.value, "supplier": supplier}),
            day=missing[0].days[0],
            says=_unasked_says(case, service, supplier, missing),
            figure=float(sum(each.missing * len(each.days) for each in missing)),
            limit=0.0,
            unit={Service.LODGING: "room nights", Service.BIKE: "bike days"}.get(service, "services"),
            fixes=(Fix(says=to_say("Write it down as requested"), act=_requested(case.trip, missing)),),
        )


def _unasked_says(case: Case, service: Service, supplier: str, missing: list[Unasked]) -> Text:
    name, what = _name(case, service, supplier), tuple(_what(each) for each in missing)
    if _refused(case, service, supplier, missing):
        return to_say("{name} has refused {what}. Choose another, or ask again.", name=name, what=what)
    if service in COUNTED and any(each.missing < each.needed.quantity for each in missing):
        return to_say("{name} was asked for too little: {what} missing. Ask for more.", name=name, what=what)
    return to_say("Nobody has asked {name} for {what}. Ask now.", name=name, what=what)


def _what(each: Unasked) -> Text:
    need, days = each.needed, _days(each.days)
    if need.service is Service.LODGING and need.detail:
        return to_count(
            "{count} {kind} room after {days}", "{count} {kind} rooms after {days}", each.missing,
            kind=need.detail, days=days,
        )  # fmt: skip
    if need.service is Service.LODGING:
        return to_count("{count} room after {days}", "{count} rooms after {days}", each.missing, days=days)
    if need.service is Service.BIKE:
        return to_count("{count} bike on {days}", "{count} bikes on {days}", each.missing, days=days)
    if need.service is Service.BAG_MOVE:
        return to_say("a move of {load} on {days}", load=need.detail, days=days)
    if need.service is Service.RESTAURANT:
        return to_say("a table on {days}", days=days)
    return to_say("a transfer on {days}", days=days)


def _days(days: tuple[int, ...]) -> Text:
    if len(days) > 2 and days[-1] - days[0] == len(days) - 1:
        return to_say("days {first} to {last}", first=days[0], last=days[-1])
    return to_count("day {days}", "days {days}", len(days), days=days)


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
    cancelled = _written(to_say("Write it down as cancelled"), replace(booking, state=BookingState.CANCELLED))
    moved = _moved(case, booking, wanted)
    if _wholly(found):
        until = booking.free_cancel_until
        free = until is not None and until >= case.as_of
        says = to_say(
            (_MOVED_FREE if free else _MOVED) if moved else (_NOT_NEEDED_FREE if free else _NOT_NEEDED),
            name=name,
            on=booking.from_day,
            moved=moved,
            until=until,
        )
        fixes: tuple[Fix, ...] = (cancelled,)
    else:
        says = to_say(
            _TOO_MUCH_MOVED if moved else _TOO_MUCH, name=name, dates=_dates(found.dates), moved=moved
        )
        fixes = ()
    return _told(case, booking, Level.WARN, says, "unneeded", None, None, fixes)


def _moved(case: Case, booking: Booking, wanted: tuple[Needed, ...]) -> tuple[Text, ...]:
    """When the trip has what it was made for, if on other days."""
    on: list[date] = []
    for need in wanted:
        for day, parts in zip(need.days, need.parts, strict=True):
            at = case.trip.date_of(day)
            if at is not None and not set(booking.made_for).isdisjoint(parts):
                on.append(at)
    return _dates(sorted(set(on).difference(booked_dates(booking))))


def _dates(days: Iterable[date]) -> tuple[Text, ...]:
    return tuple(to_say("{on:day}", on=on) for on in days)


def _wholly(found: Unneeded) -> bool:
    booking = found.booking
    nights = (booking.to_day - booking.from_day).days + (booking.service is not Service.LODGING)
    return len(found.dates) >= nights and found.surplus == booking.quantity


def _written(says: Text, booking: Booking) -> Fix:
    return Fix(says=says, act=partial(_with_booking, booking))


def _with_booking(booking: Booking, before: bookings.Bookings) -> bookings.Bookings:
    return bookings.change(before, booking)


def _name(case: Case, service: Service, supplier: str) -> str:
    name = supplier_name(case.catalogue, service, supplier)
    return name[:1].upper() + name[1:] if name == supplier else name


def _told(
    case: Case, booking: Booking, level: Level, says: Text, code: str, figure: int | None, limit: int | None,
    fixes: tuple[Fix, ...] = (),
) -> Finding:  # fmt: skip
    number = None if case.trip.start is None else (booking.from_day - case.trip.start).days + 1
    return Finding(
        check=ID, code=code, level=level, subject=subject({"booking": booking.id}), says=says,
        day=number if number is not None and 1 <= number <= len(case.figures.days) else None,
        figure=None if figure is None else float(figure), limit=None if limit is None else float(limit),
        unit="" if figure is None else "days", worse_is_more=False, fixes=fixes,
    )  # fmt: skip
