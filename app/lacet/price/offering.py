"""From a quote to what its clients may know of it: the one place where selling prices leave net prices."""

from datetime import date

from lacet.price.amounts import from_minor, rounded, to_minor
from lacet.price.lines import QuoteLine
from lacet.price.season import InSeason
from lacet.price.selling import terms_of
from lacet.price.selling_prices import ExtraOffered, GuestPrice, NamedService, PaidToOthers, SellingPrices
from lacet.price.tariffs import When, tariff_book
from lacet.price.values import Quote
from lacet.trip.catalogue import Catalogue
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import Transfer
from lacet.trip.money import Money
from lacet.trip.trip import Pricing


def selling_prices(quote: Quote) -> SellingPrices:
    """A quote without what it costs the office."""
    included = quote.included
    return SellingPrices(
        currency=quote.currency,
        as_of=quote.as_of,
        valid_until=quote.valid_until,
        total=quote.total,
        is_from=quote.is_from,
        nothing_known=quote.nothing_known,
        some_unknown=any(line.net is None or line.assumed for line in included),
        per_traveller=tuple(
            GuestPrice(traveller=each.traveller, price=each.price) for each in quote.per_traveller
        ),
        by_room=quote.by_room,
        single_supplement=quote.single_supplement,
        extras=tuple(
            ExtraOffered(service=_named(each.line), per_person=each.a_head) for each in quote.extras
        ),
        payments=quote.payments,
        assumptions=quote.assumptions,
        included=tuple(map(_named, included)),
        apart=tuple(
            PaidToOthers(service=_named(line), amount=line.net, refundable=line.refundable)
            for line in quote.apart
        ),
        unknown=tuple(map(_named, quote.unknown)),
    )


def lift_price(
    taxi: Transfer,
    heads: int,
    when: tuple[date | None, int | None, date],
    catalogue: Catalogue,
    pricing: Pricing,
    rules: HouseRules,
    in_season: InSeason,
) -> Money | None:
    """What so many guests pay the office for a ride in a taxi; None = no tariff holds that day.

    Parameters
    ----------
    when
        Day of the ride, month of the trip where there is no date, and today.
    """
    found = tariff_book(catalogue, in_season).vehicles(taxi.id, max(heads, 1), taxi.seats, When(*when))
    if not found.picks:
        return None
    currency = found.picks[0][0].amount.currency
    net_minor = sum(to_minor(rounded(rate.amount * count)) for rate, count in found.picks)
    return from_minor(terms_of(pricing, rules).price_of(net_minor, 1), currency)


def _named(line: QuoteLine) -> NamedService:
    return NamedService(
        service=line.service,
        says=line.says,
        payer=line.payer,
        day=line.day,
        subject=line.subject,
        reason_unknown=line.reason_unknown,
    )
