"""A quote as plain data for scripts: amounts as text with the decimals of their currency, unknown as null.

For a client only selling prices are told: nothing a supplier asks, no mark-up, no margin, no commission.
"""

from typing import Any

from lacet.price.amounts import amount_text
from lacet.price.lines import QuoteLine
from lacet.price.margin_vat import MarginVat
from lacet.price.shares import by_day, by_service, price_a_head
from lacet.price.values import ExtraPrice, Quote
from lacet.price.words import guest_names
from lacet.trip.money import Money
from lacet.trip.party import Party


def plain_price(quote: Quote) -> dict[str, Any]:
    """In short: a head (shared equally), for the party, and whether it is a lowest price."""
    return {
        "per_person": _amount(price_a_head(quote)),
        "party": None if quote.nothing_known else amount_text(quote.total),
        "currency": quote.currency,
        "from": quote.is_from,
    }


def plain_quote(
    quote: Quote, party: Party, *, for_client: bool = False, vat: MarginVat | None = None
) -> dict[str, Any]:
    """The whole quote."""
    names = guest_names(quote, party)
    told = {
        "as_of": quote.as_of.isoformat(),
        "valid_until": quote.valid_until.isoformat(),
        "price": plain_price(quote),
        "assumptions": list(quote.assumptions),
        "guests": [
            _kept({"name": names[each.traveller], "net": each.net, "price": each.price}, for_client)
            for each in quote.per_traveller
        ],
        "rooms": [
            {
                "rooms": list(each.room_kinds),
                "sharing": list(each.sharing),
                "price": amount_text(each.price),
                "guests": [names[guest] for guest in each.travellers],
            }
            for each in quote.by_room
        ],
        "single_supplement": _amount(quote.single_supplement),
        "payments": [
            {"says": each.says, "amount": amount_text(each.amount), "due": each.due and each.due.isoformat()}
            for each in quote.payments
        ],
        "extras": [_extra(each) for each in quote.extras],
        "lines": [_line(line, names, for_client) for line in quote.lines],
    }
    return told if for_client else told | _office(quote, vat)


def _office(quote: Quote, vat: MarginVat | None) -> dict[str, Any]:
    return {
        "net": amount_text(quote.net),
        "commission": amount_text(quote.commission),
        "margin": amount_text(quote.margin),
        "terms": {
            "markup_share": quote.markup_share,
            "margin_share": quote.margin_share,
            "commission_share": quote.commission_share,
        },
        "by_kind": [
            {"kind": service.value, "net": amount_text(net), "price": amount_text(price)}
            for service, net, price in by_service(quote)
        ],
        "by_day": [
            {"day": day, "net": amount_text(net), "price": amount_text(price)}
            for day, net, price in by_day(quote)
        ],
        "margin_vat": None if vat is None else _vat(vat),
    }


def _extra(extra: ExtraPrice) -> dict[str, Any]:
    return {
        "day": extra.line.day,
        "says": extra.line.says,
        "a_head": _amount(extra.a_head),
        "price": _amount(extra.price),
    }


def _vat(vat: MarginVat) -> dict[str, Any]:
    names = ("bought_in", "margin", "vat_on_margin", "own_price", "vat_on_own")
    amounts = {name: amount_text(getattr(vat, name)) for name in names}
    return amounts | {"from": vat.is_from, "caution": vat.caution}


def _line(line: QuoteLine, names: dict[str, str], for_client: bool) -> dict[str, Any]:
    told: dict[str, Any] = {
        "day": line.day,
        "kind": line.service.value,
        "says": line.says,
        "payer": line.payer.value,
        "in_price": line.in_price,
        "comes_back": line.refundable,
        "known": line.net is not None,
        "guests": [names[guest] for guest in line.travellers],
    }
    if for_client:
        return told
    return told | {
        "quantity": str(line.quantity),
        "unit": line.unit.value,
        "each": _amount(line.each),
        "currency": None if line.each is None else line.each.currency,
        "exchange": None if line.exchange is None else str(line.exchange),
        "exchange_on": None if line.exchange_on is None else line.exchange_on.isoformat(),
        "net": _amount(line.net),
        "tariff": None if line.tariff is None else {"id": line.tariff.id, "version": line.tariff.version},
        "item": line.item,
        "unknown": line.unknown and line.unknown.value,
        "remark": line.reason_unknown or line.assumed,
    }


def _kept(told: dict[str, Any], for_client: bool) -> dict[str, Any]:
    kept = {name: value for name, value in told.items() if name != "net" or not for_client}
    return {name: amount_text(value) if isinstance(value, Money) else value for name, value in kept.items()}


def _amount(money: Money | None) -> str | None:
    return None if money is None else amount_text(money)
