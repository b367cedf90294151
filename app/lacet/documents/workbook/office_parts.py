"""The rest of the office's copy: extras, single supplement, net by kind and by day, VAT on the margin."""

from collections.abc import Collection

from lacet.documents.workbook import lines_page as at
from lacet.documents.workbook.office_totals import Sums
from lacet.documents.workbook.page import SHARE_FORMAT, UNKNOWN
from lacet.price.amounts import from_minor
from lacet.price.margin_vat import OWN_SERVICES, margin_vat
from lacet.price.shares import net_minor
from lacet.price.words import SERVICES
from lacet.trip.house_rules import HouseRules
from lacet.trip.money import Money
from lacet.trip.words import Service


def extras(sums: Sums) -> None:
    """What guests may add, at selling price."""
    ledger, quote = sums.ledger, sums.told.quote
    if not quote.extras:
        return
    ledger.title("Optional extras, at selling price")
    ledger.page.heads(ledger.row, ("Extra", "Per person", "For the party"))
    for each in quote.extras:
        ledger.row += 1
        index = next(
            number for number, line in enumerate(quote.lines) if line is each.line or line == each.line
        )
        net, heads = sums.lines.cell(index, at.NET), sums.lines.cell(index, at.GUESTS)
        price = sums.terms.rounding.price(f"{net}/{heads}*{sums.terms.factor}")
        ledger.page.text(ledger.row, 1, each.line.says)
        a_head = ledger.money(ledger.row, 2, _if_known(net, price), each.a_head)
        for_all = sums.terms.rounding.exact(f"{a_head}*{heads}")
        ledger.money(ledger.row, 3, _if_known(a_head, for_all), each.price)
    ledger.row += 2


def supplement(sums: Sums) -> None:
    """The single supplement: its net is found by the program, its price follows the terms."""
    ledger, quote = sums.ledger, sums.told.quote
    net = quote.single_supplement_net
    ledger.title("Single supplement", "found by pricing every night for one alone and for two sharing")
    ledger.page.text(ledger.row, 1, "Net, unrounded")
    cell = ledger.page.number(ledger.row, 2, None if net is None else net.amount, ledger.shown, live=True)
    ledger.row += 1
    price = sums.terms.rounding.price(f"{cell}*{sums.terms.factor}")
    ledger.amount("Price", _if_known(cell, price), quote.single_supplement)
    ledger.gap()


def by_kind(sums: Sums) -> None:
    """Net by kind of service."""
    sums.ledger.title("Net by kind")
    for kind in dict.fromkeys(line.service for line in sums.told.quote.included):
        said = SERVICES[kind]
        formula = sums.net(f'{sums.lines.column(at.KIND)},"{said}"')
        sums.ledger.amount(said, formula, _net(sums, services=(kind,)))
    sums.ledger.gap()


def by_day(sums: Sums) -> None:
    """Net by day, and what belongs to the whole trip."""
    sums.ledger.title("Net by day")
    for day in dict.fromkeys(line.day for line in sums.told.quote.included):
        wanted = f'"{at.WHOLE_TRIP}"' if day is None else str(day)
        formula = sums.net(f"{sums.lines.column(at.DAY)},{wanted}")
        said = "whole trip" if day is None else f"day {day}"
        sums.ledger.amount(said, formula, _net(sums, days=(day,)))
    sums.ledger.gap()


def vat(sums: Sums, rules: HouseRules, total: str) -> None:
    """VAT of the special scheme for travel agents, where the house uses it."""
    ledger, rounding = sums.ledger, sums.terms.rounding
    found = margin_vat(sums.told.quote, rules)
    if found is None:
        return
    ledger.title("VAT on the margin", found.caution)
    rate = ledger.figure("Rate of VAT", rules.vat_share, SHARE_FORMAT)
    kinds = (f'{sums.lines.column(at.KIND)},"{SERVICES[kind]}"' for kind in OWN_SERVICES)
    own_net = _net(sums, services=OWN_SERVICES)
    own = ledger.amount("Own services, net", rounding.exact("+".join(map(sums.net, kinds))), own_net)
    bought = ledger.amount("Bought in", rounding.exact(f"{sums.net()}-{own}"), found.bought_in)
    whole = f"IF({own}+{bought}=0,0,{total}*{own}/({own}+{bought}))"
    ledger.amount("Price of own services", rounding.rounded(whole), found.own_price)
    margin = f"{total}-{whole}-{bought}"
    ledger.amount("Margin, with its VAT", rounding.rounded(margin), found.margin)
    contained = f"{rate}/(1+{rate})"
    ledger.amount("VAT in the margin", rounding.rounded(f"MAX(0,{margin})*{contained}"), found.vat_on_margin)
    ledger.amount("VAT in own services", rounding.rounded(f"{whole}*{contained}"), found.vat_on_own)


def _if_known(cell: str, formula: str) -> str:
    return f'IF(ISNUMBER({cell}),{formula},"{UNKNOWN}")'


def _net(
    sums: Sums, services: Collection[Service] = tuple(Service), days: Collection[int | None] | None = None
) -> Money:
    quote = sums.told.quote
    lines = (
        line for line in quote.included if line.service in services and (days is None or line.day in days)
    )
    return from_minor(net_minor(lines), quote.currency)
