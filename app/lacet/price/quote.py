"""The quote of one variant: lines, prices, dates. Pure: the same inputs make an equal quote.

Prices say 'from' as soon as anything in them is unknown or assumed. Services paid locally or by the
guests themselves, optional extras and refundable deposits are told apart and are in no total.
"""

from collections.abc import Iterator
from datetime import date, timedelta
from fractions import Fraction
from functools import partial

from lacet.price.amounts import from_minor, round_fraction, to_minor
from lacet.price.costing import Costing
from lacet.price.day_services import briefing_lines, meal_lines, move_lines, ride_lines, visit_lines
from lacet.price.lines import QuoteLine
from lacet.price.nights import night_lines, stay_lengths
from lacet.price.season import InSeason, in_plain_season
from lacet.price.selling import share, terms_of
from lacet.price.selling_prices import NO_PARTY, Payment
from lacet.price.shares import exact_shares, extra_price, net_minor, room_prices, traveller_prices
from lacet.price.single import single_net
from lacet.price.tariffs import tariff_book
from lacet.price.values import Quote
from lacet.price.whole_trip import fixed_lines, hire_lines
from lacet.trip.catalogue import Catalogue
from lacet.trip.hires import hires_by_day
from lacet.trip.house_rules import HouseRules
from lacet.trip.kept import Kept
from lacet.trip.money import Money
from lacet.trip.party import placeholder_party
from lacet.trip.trip import Day, Item, Night, Ride, Trip, Variant, Visit
from lacet.trip.words import Payer
from lacet.wording import NO_CURRENCY

__all__ = ["NO_PARTY", "Quote", "quote"]

_TWO = placeholder_party(2)
_DAY_LINES: Kept[tuple[QuoteLine, ...]] = Kept(4096)


def quote(
    trip: Trip,
    variant: Variant,
    catalogue: Catalogue,
    rules: HouseRules,
    as_of: date,
    in_season: InSeason = in_plain_season,
) -> Quote:
    """Price a variant.

    Parameters
    ----------
    as_of
        Today: exchange rates, the quote's validity and the due dates are seen from it.
    in_season
        Reads the seasons of tariffs; the default knows plain stretches of the calendar only.
    """
    costing = _costing(trip, variant, catalogue, rules, as_of, in_season)
    stays = stay_lengths(variant.days)
    lines = (*_by_day(costing, stays), *hire_lines(costing), *fixed_lines(costing))
    terms = terms_of(variant.pricing, rules)
    included = tuple(line for line in lines if line.in_price)
    prices = traveller_prices(exact_shares(included, costing.ages), terms, costing.currency)
    net = net_minor(included)
    total = sum(to_minor(each.price) for each in prices)
    commission = round_fraction(total * terms.commission_share, rules.half_even)
    valid_until = _valid_until(trip, rules, as_of)
    alone = single_net(costing, stays)
    return Quote(
        currency=costing.currency,
        as_of=as_of,
        valid_until=valid_until,
        lines=lines,
        net=from_minor(net, costing.currency),
        total=from_minor(total, costing.currency),
        commission=from_minor(commission, costing.currency),
        margin=from_minor(total - commission - net, costing.currency),
        markup_share=_written(terms.markup_share),
        margin_share=_written(terms.margin_share),
        commission_share=float(terms.commission_share),
        per_traveller=prices,
        by_room=room_prices(included, prices, costing.party, len(variant.days), rules.child_to_age),
        single_supplement=None if alone is None else from_minor(terms.price(alone), costing.currency),
        single_supplement_net=None if alone is None else _unrounded(alone, costing.currency),
        extras=tuple(extra_price(line, terms) for line in lines if _is_extra(line)),
        payments=_payments(trip, rules, total, costing.currency, valid_until, as_of),
        assumptions=() if trip.party.travellers else (NO_PARTY,),
    )


def _costing(
    trip: Trip,
    variant: Variant,
    catalogue: Catalogue,
    rules: HouseRules,
    as_of: date,
    in_season: InSeason,
) -> Costing:
    party = trip.party if trip.party.travellers else _TWO
    return Costing(
        trip=trip,
        variant=variant,
        party=party,
        catalogue=catalogue,
        rules=rules,
        book=tariff_book(catalogue, in_season),
        currency=variant.pricing.currency or catalogue.region.currency or NO_CURRENCY,
        as_of=as_of,
        ages={guest.id: guest.age for guest in party.travellers},
    )


def _by_day(costing: Costing, stays: tuple[tuple[int, ...], ...]) -> Iterator[QuoteLine]:
    """Lines of each day. Nobody is paid for a leg, so moving one asks for no price anew."""
    woke_in: tuple[Night, ...] | None = None
    hires = hires_by_day(costing.variant)
    shared = (costing.party, costing.rules, costing.book)
    seen_from = (costing.trip.start, costing.trip.month, costing.as_of, costing.currency)
    for number, (day, lengths) in enumerate(zip(costing.variant.days, stays, strict=True), start=1):
        sold = tuple([item for item in day.items if isinstance(item, Ride | Visit)])
        objects = (day.nights, day.meals, day.moves, woke_in, *shared, *sold, "hires", *hires[number - 1])
        values = (number, day.id, day.briefing, lengths, *seen_from)
        make = partial(_day_lines, costing, number, day, sold, woke_in, lengths)
        yield from _DAY_LINES.get(costing.catalogue, objects, values, make)
        woke_in = day.nights


def _day_lines(
    costing: Costing,
    number: int,
    day: Day,
    sold: tuple[Item, ...],
    woke_in: tuple[Night, ...] | None,
    stays: tuple[int, ...],
) -> tuple[QuoteLine, ...]:
    """The lines of what is sold that day: whoever makes them sees nothing else of the days."""
    bare = Day(
        id=day.id, items=sold, nights=day.nights, meals=day.meals, moves=day.moves, briefing=day.briefing
    )
    before = None if woke_in is None else Day(id="", nights=woke_in)
    return tuple(_each_line(costing, number, bare, before, stays))


def _each_line(
    costing: Costing, number: int, day: Day, before: Day | None, stays: tuple[int, ...]
) -> Iterator[QuoteLine]:
    yield from briefing_lines(costing, number, day)
    for item in day.items:
        if isinstance(item, Ride):
            yield from ride_lines(costing, number, item)
        elif isinstance(item, Visit):
            yield from visit_lines(costing, number, item)
    for move in day.moves:
        yield from move_lines(costing, number, day, move)
    yield from meal_lines(costing, number, day, before)
    yield from night_lines(costing, number, day, stays)


def _unrounded(minor: Fraction, currency: str) -> Money:
    """Halves of a minor unit are kept: there are no finer parts in half a room."""
    halves = from_minor(int(minor * 2), currency)
    return Money(halves.amount / 2, currency)


def _is_extra(line: QuoteLine) -> bool:
    return line.payer is Payer.OPTIONAL and not line.refundable


def _written(part: Fraction | None) -> float | None:
    return None if part is None else float(part)


def _valid_until(trip: Trip, rules: HouseRules, as_of: date) -> date:
    ends = as_of + timedelta(days=rules.quote_valid_days)
    return ends if trip.start is None else max(as_of, min(ends, trip.start))


def _payments(
    trip: Trip, rules: HouseRules, total: int, currency: str, valid_until: date, as_of: date
) -> tuple[Payment, ...]:
    """Deposit and balance; everything at once where the balance would already be due."""
    balance_due = None if trip.start is None else trip.start - timedelta(days=rules.balance_days)
    if balance_due is not None and balance_due <= as_of:
        return (Payment(says="full amount", amount=from_minor(total, currency), due=valid_until),)
    deposit = round_fraction(total * share(rules.deposit_share), rules.half_even)
    return (
        Payment(says="deposit", amount=from_minor(deposit, currency), due=valid_until),
        Payment(says="balance", amount=from_minor(total - deposit, currency), due=balance_due),
    )
