"""Lines of the whole trip: hired bikes with their extras and deposits, fixed costs.

A hire is charged by the day or by the hire, whichever costs less where a tariff has both. What comes with
a bike is priced by a tariff of the bike service whose subject is the extra's name. Who rides a leg with
no bike hired, brought or named has a bike nobody has priced.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from lacet.price.costing import Costing
from lacet.price.lines import QuoteLine, Unknown
from lacet.price.tariffs import Ask, Found
from lacet.trip.filing import FIXED
from lacet.trip.hires import days_of, hires_by_day, named_by_legs
from lacet.trip.itinerary import takes
from lacet.trip.library import Bike, Ref, Tariff
from lacet.trip.trip import Hire
from lacet.trip.words import Payer, Service, Unit, Way


@dataclass(frozen=True, slots=True)
class _Use:
    """A bike and who has it for how long, from which day on."""

    bike: Ref
    traveller: str
    from_day: int
    days: int
    payer: Payer


def hire_lines(costing: Costing) -> Iterator[QuoteLine]:
    """Bikes hired, and those that a leg names without a hire."""
    for hire in costing.variant.hires:
        use = _use(costing, hire)
        if use is not None:
            yield from _bike_lines(costing, use)
        if hire.traveller in costing.ages:
            yield from _extra_lines(costing, hire)
    for hire in named_by_legs(costing.party, costing.variant):
        use = _use(costing, hire)
        if use is not None:
            yield from _bike_lines(costing, use)
    yield from _bikes_not_chosen(costing)


def _use(costing: Costing, hire: Hire) -> _Use | None:
    guest = costing.party.traveller(hire.traveller)
    if hire.bike is None or guest is None:
        return None
    days = [number for number in days_of(hire, costing.variant) if guest.there_on(number)]
    return _Use(hire.bike, guest.id, days[0], len(days), hire.payer) if days else None


def _bike_lines(costing: Costing, use: _Use) -> Iterator[QuoteLine]:
    bike = costing.catalogue.get(Bike, use.bike)
    what: dict[str, Any] = {
        "service": Service.BIKE,
        "subject": use.bike.id,
        "item": use.traveller,
        "says": use.bike.id if bike is None else bike.name,
        "payer": use.payer,
        "travellers": (use.traveller,),
    }
    found, quantity = _cheapest(costing, use.bike.id, use.from_day, use.days)
    unit = Unit.BIKE_DAY if found.rate is None else found.rate.unit
    yield from costing.lines(found, quantity, unit=unit, **what)
    deposit = costing.book.find(_ask(use.bike.id, Unit.DEPOSIT), costing.when(use.from_day))
    if deposit.picks:
        what["says"] += ": deposit"
        yield from costing.lines(deposit, 1, unit=Unit.DEPOSIT, refundable=True, **what)


def _cheapest(costing: Costing, subject: str, from_day: int, days: int) -> tuple[Found, int]:
    when = costing.when(from_day)
    by_day = costing.book.find(_ask(subject, Unit.BIKE_DAY, days), when)
    by_hire = costing.book.find(_ask(subject, Unit.BIKE_HIRE, days), when)
    if by_day.rate is None or by_hire.rate is None:
        return (by_hire, 1) if by_hire.rate is not None else (by_day, days)
    flat_is_less = by_hire.rate.amount.amount < by_day.rate.amount.amount * days
    return (by_hire, 1) if flat_is_less else (by_day, days)


def _ask(subject: str, unit: Unit, days: int = 1) -> Ask:
    return Ask(service=Service.BIKE, subject=subject, unit=unit, nights=days)


def _extra_lines(costing: Costing, hire: Hire) -> Iterator[QuoteLine]:
    days = days_of(hire, costing.variant)
    for extra in hire.extras:
        found, quantity = _cheapest(costing, extra, days.start or 1, max(1, len(days)))
        yield from costing.lines(
            found,
            quantity,
            service=Service.BIKE,
            subject=extra,
            item=hire.traveller,
            says=extra,
            unit=Unit.BIKE_HIRE if found.rate is None else found.rate.unit,
            payer=hire.payer,
            travellers=(hire.traveller,),
        )


def _bikes_not_chosen(costing: Costing) -> Iterator[QuoteLine]:
    without: dict[str, None] = {}
    hires = hires_by_day(costing.variant)
    for number, day in enumerate(costing.variant.days, start=1):
        hirers = [hire.traveller for hire in hires[number - 1]]
        unhired = [guest for guest in costing.party.travellers if guest.id not in hirers]
        for leg in day.legs() if unhired else ():
            if leg.way is Way.CYCLING and leg.bike is None:
                riders = (guest.id for guest in unhired if guest.there_on(number) and takes(leg, guest.id))
                without |= dict.fromkeys(riders)
    if without:
        yield costing.unknown(
            Unknown.NOT_CHOSEN,
            "nobody has said which, or that the guest brings their own",
            quantity=len(without),
            service=Service.BIKE,
            says="bike",
            unit=Unit.BIKE_HIRE,
            travellers=tuple(without),
        )


def fixed_lines(costing: Costing) -> Iterator[QuoteLine]:
    """Every fixed cost that holds on the first day, for the trip or for each person."""
    everyone = tuple(guest.id for guest in costing.party.travellers)
    for service, unit in zip(FIXED, (Unit.TRIP, Unit.PERSON), strict=True):
        for subject in costing.book.fixed_subjects(service):
            for tariffs in _by_name(costing.book.tariffs(service, subject)):
                ask = Ask(service=service, subject=subject, unit=unit)
                for found, some in costing.by_rate(ask, everyone, costing.when(1), tariffs):
                    yield from costing.lines(
                        found,
                        1 if unit is Unit.TRIP else len(some),
                        service=service,
                        subject=subject,
                        says=tariffs[0].name,
                        unit=unit,
                        travellers=some,
                    )


def _by_name(tariffs: tuple[Tariff, ...]) -> Iterator[tuple[Tariff, ...]]:
    """Fixed costs of one name follow one another in time (2026, 2027); other names come on top."""
    named: dict[str, list[Tariff]] = {}
    for tariff in tariffs:
        named.setdefault(tariff.name, []).append(tariff)
    for some in named.values():
        yield tuple(some)
