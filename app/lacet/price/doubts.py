"""What there is to doubt about a price, as plain figures for the checks to tell.

Nothing here decides how bad it is; a doubt names a figure, a limit and where the limit comes from.
"""

from collections import defaultdict
from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal

from lacet.language import Text, to_count, to_say
from lacet.price.doubt import Doubt, DoubtKind, said
from lacet.price.lines import QuoteLine, Unknown
from lacet.price.rise import price_rise
from lacet.price.values import Quote
from lacet.trip.bookings import NO_BOOKINGS, Booking, Bookings
from lacet.trip.catalogue import Catalogue
from lacet.trip.commitments import NO_COMMITMENTS, Commitments
from lacet.trip.library import Lodging, Tariff
from lacet.trip.money import Money
from lacet.trip.trip import Trip
from lacet.trip.words import Board, BookingState, MealKind, Service, Unit

_WITH_DINNER = (Board.HALF_BOARD, Board.FULL_BOARD)
_HOLDS = (BookingState.CONFIRMED, BookingState.OPTION)
_NAMED_AS = {
    Unknown.SEASON_GAP: "season_gap",
    Unknown.NOT_VALID: "expired_tariff",
}


def doubts(
    quote: Quote,
    trip: Trip,
    catalogue: Catalogue,
    bookings: Bookings = NO_BOOKINGS,
    commitments: Commitments = NO_COMMITMENTS,
) -> tuple[Doubt, ...]:
    """Everything to doubt about a quote's own lines, in their order."""
    found = [
        *_of_unknown(quote),
        *_of_minimum_nights(quote),
        *_of_allotments(quote, trip, catalogue, commitments),
        *_of_releases(quote, trip, catalogue, bookings),
        *_of_dinners(quote),
        *_of_bookings(quote, trip, bookings),
    ]
    return tuple(sorted(found, key=lambda doubt: (doubt.day is None, doubt.day or 0)))


def _of_unknown(quote: Quote) -> Iterator[Doubt]:
    for line in quote.lines:
        if line.unknown is not None:
            kind = DoubtKind(_NAMED_AS.get(line.unknown, "no_price"))
            why = line.reason_unknown.removeprefix(f"{line.says}: ")
            says = to_say("{service}: {why}", service=line.says, why=why)
            yield Doubt(kind=kind, day=line.day, subject=line.subject, says=says)
        elif line.assumed:
            says = to_say("{service}: {assumed}", service=line.says, assumed=line.assumed)
            yield Doubt(kind=DoubtKind.ASSUMED, day=line.day, subject=line.subject, says=says)


def _of_minimum_nights(quote: Quote) -> Iterator[Doubt]:
    told: set[str] = set()
    for line in quote.lines:
        short = line.stay_nights is not None and line.stay_nights < line.minimum_nights
        if short and line.stay_nights is not None and line.subject not in told:
            told.add(line.subject)
            yield Doubt(
                kind=DoubtKind.MINIMUM_NIGHTS,
                day=line.day,
                subject=line.subject,
                says=to_count(
                    "{service}: {count} night, the rate is meant for {minimum} or more",
                    "{service}: {count} nights, the rate is meant for {minimum} or more",
                    line.stay_nights,
                    service=line.says,
                    minimum=line.minimum_nights,
                ),
                figure=float(line.stay_nights),
                limit=float(line.minimum_nights),
                unit="nights",
            )


def _of_allotments(
    quote: Quote, trip: Trip, catalogue: Catalogue, commitments: Commitments
) -> Iterator[Doubt]:
    """Rooms wanted and those other trips have taken, against what the tariff allots for a night."""
    nights: defaultdict[tuple[int, str, Tariff], list[QuoteLine]] = defaultdict(list)
    for line in quote.lines:
        tariff = None if line.tariff is None else catalogue.get(Tariff, line.tariff)
        if line.day is not None and line.sharing and tariff is not None and tariff.allotment is not None:
            nights[line.day, line.subject, tariff].append(line)
    for (day, subject, tariff), lines in nights.items():
        on = trip.date_of(day)
        kinds = {rate.room_kind or "" for rate in tariff.rates} | {line.room_kind for line in lines}
        taken = sum(commitments.count(Service.LODGING, subject, kind, on) for kind in kinds) if on else 0
        wanted = sum(_rooms(line) for line in lines)
        limit = tariff.allotment or 0
        if wanted + taken > limit:
            yield Doubt(
                kind=DoubtKind.ALLOTMENT,
                day=day,
                subject=subject,
                says=_allotted(lines[0].says, wanted, taken, limit),
                figure=float(wanted + taken),
                limit=float(limit),
                unit="rooms",
            )


def _allotted(service: str, wanted: int, taken: int, limit: int) -> Text:
    values = {"service": service, "taken": taken, "limit": limit}
    if taken:
        return to_count(
            "{service}: {count} room wanted and {taken} taken by other trips, {limit} allotted",
            "{service}: {count} rooms wanted and {taken} taken by other trips, {limit} allotted",
            wanted,
            **values,
        )
    return to_count(
        "{service}: {count} room wanted, {limit} allotted",
        "{service}: {count} rooms wanted, {limit} allotted",
        wanted,
        **values,
    )


def _rooms(line: QuoteLine) -> int:
    per_unit = (line.sharing or 1) if line.unit is Unit.PERSON_NIGHT else 1
    return -(-int(line.quantity) // per_unit)


def _of_releases(quote: Quote, trip: Trip, catalogue: Catalogue, bookings: Bookings) -> Iterator[Doubt]:
    """Rooms held only until so many days before, and neither booked nor on option when that day is past."""
    told: set[tuple[int, str]] = set()
    for line in quote.lines:
        on = None if line.day is None else trip.date_of(line.day)
        days = _release_days(line, trip, quote, catalogue)
        if on is None or line.day is None or days is None or (line.day, line.subject) in told:
            continue
        released = on - timedelta(days=days)
        if quote.as_of > released and not _is_held(bookings, line, on):
            told.add((line.day, line.subject))
            yield Doubt(
                kind=DoubtKind.RELEASED,
                day=line.day,
                subject=line.subject,
                says=to_say(
                    "{service}: held until {until:date} only, ask whether it is still to be had",
                    service=line.says,
                    until=released,
                ),
                figure=float((on - quote.as_of).days),
                limit=float(days),
                unit="days",
            )


def _release_days(line: QuoteLine, trip: Trip, quote: Quote, catalogue: Catalogue) -> int | None:
    tariff = None if line.tariff is None else catalogue.get(Tariff, line.tariff)
    if tariff is not None and tariff.release_days is not None:
        return tariff.release_days
    house = catalogue.latest(Lodging, line.subject) if line.service is Service.LODGING else None
    return None if house is None else house.release_days


def _is_held(bookings: Bookings, line: QuoteLine, on: date) -> bool:
    return any(_covers(booking, line, on) for booking in bookings if booking.state in _HOLDS)


def _covers(booking: Booking, line: QuoteLine, on: date) -> bool:
    same = booking.supplier == line.subject and booking.service is line.service
    return same and booking.from_day <= on <= booking.to_day


def _of_dinners(quote: Quote) -> Iterator[Doubt]:
    """Half board at the house and a dinner in the price elsewhere, on one evening for one guest."""
    dinners = [line for line in quote.lines if line.meal is MealKind.DINNER and line.in_price]
    boards = [line for line in quote.lines if line.board in _WITH_DINNER and line.in_price]
    for dinner in dinners:
        for board in boards:
            both = set(dinner.travellers) & set(board.travellers)
            if dinner.day == board.day and both:
                yield Doubt(
                    kind=DoubtKind.PAID_TWICE,
                    day=dinner.day,
                    subject=dinner.subject,
                    says=to_say(
                        "{dinner}, although {board} holds dinner", dinner=dinner.says, board=board.says
                    ),
                    figure=float(len(both)),
                    limit=0.0,
                    unit="guests",
                )


def _of_bookings(quote: Quote, trip: Trip, bookings: Bookings) -> Iterator[Doubt]:
    """Suppliers who now ask more than they were booked for."""
    for booking in bookings:
        now = _asked_now(quote, trip, booking)
        if booking.state not in _HOLDS or booking.price is None or now is None:
            continue
        rise = price_rise(booking.price, now)
        if rise > 0:
            yield Doubt(
                kind=DoubtKind.BOOKED_FOR_LESS,
                day=None if trip.start is None else (booking.from_day - trip.start).days + 1,
                subject=booking.supplier,
                says=to_say(
                    "{supplier}: booked at {booked}, by tariff it is now {now}",
                    supplier=booking.supplier,
                    booked=said(booking.price),
                    now=said(now),
                ),
                figure=float(rise),
                limit=0.0,
                unit="share",
            )


def _asked_now(quote: Quote, trip: Trip, booking: Booking) -> Money | None:
    if booking.price is None or booking.price.currency != quote.currency:
        return None
    nets = []
    for line in quote.lines:
        on = None if line.day is None else trip.date_of(line.day)
        if on is not None and not line.refundable and _covers(booking, line, on):
            nets.append(line.net)
    known = [net for net in nets if net is not None]
    if not known or len(known) < len(nets):
        return None
    return Money(sum((net.amount for net in known), Decimal(0)), quote.currency)
