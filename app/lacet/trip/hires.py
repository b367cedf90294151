"""Who has which bike on which day: hired for some days, or named by a leg without a hire."""

from lacet.trip.library import Ref
from lacet.trip.party import Party
from lacet.trip.trip import Hire, Leg, Variant


def covers(hire: Hire, traveller: str, number: int) -> bool:
    """Whether a hire gives this traveller a bike on this day (1-based)."""
    return hire.traveller == traveller and hire.from_day <= number <= (hire.to_day or number)


def named_by_legs(party: Party, variant: Variant) -> tuple[Hire, ...]:
    """Bikes that legs name and nobody hires, as a hire of that day for each who rides them."""
    had: dict[tuple[int, Ref, str], Hire] = {}
    for number, day in enumerate(variant.days, start=1):
        for leg in day.legs():
            if leg.bike is None:
                continue
            for traveller in _riders(party, leg, number):
                hired = (hire.bike for hire in variant.hires if covers(hire, traveller, number))
                if leg.bike not in hired:
                    had[number, leg.bike, traveller] = Hire(
                        traveller=traveller, bike=leg.bike, from_day=number, to_day=number
                    )
    return tuple(had[key] for key in sorted(had))


def _riders(party: Party, leg: Leg, number: int) -> list[str]:
    return [
        guest.id
        for guest in party.travellers
        if guest.there_on(number) and (leg.travellers is None or guest.id in leg.travellers)
    ]
