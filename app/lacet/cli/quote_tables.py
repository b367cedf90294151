"""A quote as tables on the terminal. For a client only selling prices are told."""

from collections.abc import Iterable
from decimal import Decimal

from lacet.cli.telling import print_table, say
from lacet.price.costing import NOT_SET
from lacet.price.lines import QuoteLine
from lacet.price.margin_vat import MarginVat
from lacet.price.shares import by_day, by_service
from lacet.price.values import Quote
from lacet.price.words import PAYERS, SERVICES, guest_names, rooms_said
from lacet.trip.money import Money
from lacet.trip.trip import Trip
from lacet.wording import ENGLISH, NO_CURRENCY

_money = ENGLISH.money


def tell_quote(title: str, trip: Trip, quote: Quote, vat: MarginVat | None, *, for_client: bool) -> None:
    """Print everything: by kind and by day for the office, prices, payments, and what is missing."""
    say(title)
    if quote.currency == NO_CURRENCY:
        say(f"Nothing has a price: {NOT_SET}.")
        return
    if quote.nothing_known:
        say("Nothing in it has a price.")
    else:
        _prices(trip, quote, vat, for_client)
    _apart(quote)
    _missing(quote, for_client)
    say(f"As of {quote.as_of}, valid until {quote.valid_until}.")


def _prices(trip: Trip, quote: Quote, vat: MarginVat | None, for_client: bool) -> None:
    if not for_client:
        _parts("By kind", "Kind", ((SERVICES[kind], *parts) for kind, *parts in by_service(quote)))
        _parts("By day", "Day", ((_day(trip, day), *parts) for day, *parts in by_day(quote)))
    _guests(trip, quote, for_client)
    _totals(quote, vat, for_client)
    for room, says in rooms_said(quote, trip.party):
        say(f"{says}: {_money(room.price)} per person")
    if quote.single_supplement is not None:
        say(f"Single supplement: {_money(quote.single_supplement)}")
    for each in quote.payments:
        due = "" if each.due is None else f" by {ENGLISH.day(each.due, 'd MMM yyyy')}"
        say(f"{each.says.capitalize()}: {_money(each.amount)}{due}")


def _parts(title: str, head: str, rows: Iterable[tuple[object, ...]]) -> None:
    told = ((str(name), *map(_money, parts)) for name, *parts in rows)  # type: ignore[arg-type] # net and price
    print_table(title, (head, "Net", "Price"), told, right=(1, 2))


def _day(trip: Trip, day: int | None) -> str:
    if day is None:
        return "whole trip"
    return f"{day} {ENGLISH.day(trip.date_of(day))}".strip()


def _guests(trip: Trip, quote: Quote, for_client: bool) -> None:
    rows = []
    names = guest_names(quote, trip.party)
    for each in quote.per_traveller:
        net = () if for_client else (_money(each.net),)
        rows.append((names[each.traveller], *net, _money(each.price)))
    heads = ("Guest", "Price") if for_client else ("Guest", "Net", "Price")
    print_table("Guests", heads, rows, right=(1, 2))


def _totals(quote: Quote, vat: MarginVat | None, for_client: bool) -> None:
    total = _money(quote.total, starting=quote.is_from)
    if for_client:
        say(f"Together {total}")
        return
    commission = f", commission {_money(quote.commission)}" if quote.commission.amount else ""
    say(f"Together {total}: net {_money(quote.net)}{commission}, margin {_money(quote.margin)}")
    if vat is not None:
        say(
            f"VAT on the margin of {_money(vat.margin)}: {_money(vat.vat_on_margin)}; "
            f"on own services of {_money(vat.own_price)}: {_money(vat.vat_on_own)}. {vat.caution}"
        )


def _apart(quote: Quote) -> None:
    for extra in quote.extras:
        say(f"Optional, {_where(extra.line)}: {_money(extra.a_head)} per person")
    sums: dict[tuple[str, str], Money | None] = {}
    for line in quote.apart:
        how = "Comes back" if line.refundable else PAYERS[line.payer].capitalize()
        what = how, SERVICES[line.service]
        before = sums.get(what, Money(Decimal(0), quote.currency))
        sums[what] = None if before is None or line.net is None else before + line.net
    for (how, kind), amount in sums.items():
        say(f"{how}, {kind}: {_money(amount)}")


def _missing(quote: Quote, for_client: bool) -> None:
    """Why the price is 'from', line by line; clients learn what is missing, not which sheet lacks it."""
    for says in quote.assumptions:
        say(f"Assumed: {says}")
    for line in quote.included:
        if line.net is None:
            say(f"Unknown, {_where(line)}" + ("" if for_client else f": {line.reason_unknown}"))
        elif line.assumed and not for_client:
            say(f"Assumed, {_where(line)}: {line.assumed}")


def _where(line: QuoteLine) -> str:
    return line.says if line.day is None else f"day {line.day}: {line.says}"
