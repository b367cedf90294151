"""The single supplement, found by pricing every night twice: for one guest alone and for two in one room.

supplement = sum over the nights of (price for one - half the price for two); board and taxes, which cost
a head the same either way, cancel out. Common practice, no source.
"""

from dataclasses import replace
from fractions import Fraction
from functools import partial

from lacet.price.amounts import to_minor
from lacet.price.costing import Costing
from lacet.price.nights import night_lines
from lacet.trip.kept import Kept
from lacet.trip.party import Party, placeholder_party
from lacet.trip.trip import Day
from lacet.trip.words import Payer

_ONE, _TWO = placeholder_party(1), placeholder_party(2)
_NIGHTS: Kept[Fraction | None] = Kept(4096)


def single_net(costing: Costing, stays: tuple[tuple[int, ...], ...]) -> Fraction | None:
    """What sleeping alone costs more, net, in minor units; None while any night's price is unknown.

    Where the party parts for a night, the first house named stands for it.
    """
    total = Fraction(0)
    for number, (day, lengths) in enumerate(zip(costing.variant.days, stays, strict=True), start=1):
        more = _NIGHTS.get(
            costing.catalogue,
            (day.nights, costing.book, costing.rules),
            (number, costing.trip.start, costing.trip.month, lengths, costing.currency, costing.as_of),
            partial(_more, costing, number, day, lengths),
        )
        if more is None:
            return None
        total += more
    return total


def _more(costing: Costing, number: int, day: Day, stays: tuple[int, ...]) -> Fraction | None:
    if not day.nights or day.nights[0].payer is not Payer.INCLUDED:
        return Fraction(0)
    night = replace(day.nights[0], rooms=(), travellers=None)
    alone = _net(_for(costing, _ONE), number, replace(day, nights=(night,)), stays[:1])
    shared = _net(_for(costing, _TWO), number, replace(day, nights=(night,)), stays[:1])
    return None if alone is None or shared is None else alone - Fraction(shared, 2)


def _for(costing: Costing, party: Party) -> Costing:
    return replace(costing, party=party, ages={guest.id: None for guest in party.travellers})


def _net(costing: Costing, number: int, day: Day, stays: tuple[int, ...]) -> int | None:
    nets = [line.net for line in night_lines(costing, number, day, stays) if line.in_price]
    known = [to_minor(net) for net in nets if net is not None]
    return sum(known) if len(known) == len(nets) else None
