"""Who has which bike on which day: hired for some days, or named by a leg without a hire."""

from collections.abc import Iterable

from lacet.trip.library import Ref
from lacet.trip.party import Party
from lacet.trip.trip import Hire, Leg, Variant


def days_of(hire: Hire, variant: Variant) -> range:
    """The numbers (1-based) of the days of a hire; none where it names a day the variant doesn't hold."""
    number = {day.id: n for n, day in enumerate(variant.days, start=1)}
    first = 1 if hire.from_day is None else number.get(hire.from_day)
    last = len(variant.days) if hire.to_day is None else number.get(hire.to_day)
    return range(0) if first is None or last is None else range(first, last + 1)


def hires_by_day(variant: Variant) -> list[tuple[Hire, ...]]:
    """The hires that cover each day, in the variant's order."""
    by_day: list[tuple[Hire, ...]] = [()] * len(variant.days)
    for hire in variant.hires:
        for number in days_of(hire, variant):
            by_day[number - 1] += (hire,)
    return by_day


def in_order(variant: Variant, hires: Iterable[Hire]) -> tuple[Hire, ...]:
    """Hires as a variant keeps them: by traveller, then by the day they begin on."""
    return tuple(sorted(hires, key=lambda hire: (hire.traveller, days_of(hire, variant).start)))


def covers(hire: Hire, variant: Variant, traveller: str, number: int) -> bool:
    """Whether a hire of the variant gives this traveller a bike on this day (1-based)."""
    return hire.traveller == traveller and number in days_of(hire, variant)


def named_by_legs(party: Party, variant: Variant) -> tuple[Hire, ...]:
    """Bikes that legs name and nobody hires, as a hire of that day for each who rides them."""
    had: dict[tuple[int, Ref, str], Hire] = {}
    for number, day in enumerate(variant.days, start=1):
        for leg in day.legs():
            if leg.bike is None:
                continue
            for traveller in _riders(party, leg, number):
                hired = (hire.bike for hire in variant.hires if covers(hire, variant, traveller, number))
                if leg.bike not in hired:
                    had[number, leg.bike, traveller] = Hire(
                        traveller=traveller, bike=leg.bike, from_day=day.id, to_day=day.id
                    )
    return tuple(had[key] for key in sorted(had))


def _riders(party: Party, leg: Leg, number: int) -> list[str]:
    return [
        guest.id
        for guest in party.travellers
        if guest.there_on(number) and (leg.travellers is None or guest.id in leg.travellers)
    ]
