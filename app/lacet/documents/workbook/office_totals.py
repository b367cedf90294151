"""Guests' prices, totals and payments of the office's copy: formulas over the lines and the terms."""

from dataclasses import dataclass

from lacet.documents.workbook import lines_page as at
from lacet.documents.workbook.ledger import Ledger
from lacet.documents.workbook.lines_page import LinesPage
from lacet.documents.workbook.office_told import OfficeTold
from lacet.documents.workbook.page import UNKNOWN
from lacet.documents.workbook.rounding import Rounding
from lacet.price import selling
from lacet.price.amounts import minor_digits
from lacet.price.shares import shares_of
from lacet.price.words import rooms_said


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """Addresses of the terms prices are made by."""

    rounding: Rounding
    factor: str
    commission: str
    deposit: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Sums:
    """What every sum needs: where it is written, what about, over which lines, by which terms.

    `found` holds the terms themselves, for the values that stand beside the formulas.
    """

    ledger: Ledger
    told: OfficeTold
    lines: LinesPage
    terms: Terms
    found: selling.Terms

    def net(self, *conditions: str) -> str:
        """The formula for the net of lines in the price that meet some conditions."""
        met = ",".join((self.included, *conditions))
        return self.terms.rounding.exact(f"SUMIFS({self.lines.column(at.NET)},{met})")

    @property
    def included(self) -> str:
        """The condition that a line is in the price."""
        return f'{self.lines.column(at.IN_PRICE)},"{at.YES}"'


def guest_prices(sums: Sums) -> dict[str, str]:
    """Net and price of every guest; where the prices stand, by traveller."""
    ledger, quote, rounding = sums.ledger, sums.told.quote, sums.terms.rounding
    shares = shares_of(quote)
    coins_in_one = 10 ** minor_digits(quote.currency)
    ledger.title("Guests")
    ledger.page.heads(ledger.row, ("Guest", "Net, unrounded", "In coins", "Price"))
    prices = {}
    for name, each in zip(sums.told.guests, quote.per_traveller, strict=True):
        ledger.row += 1
        exact = shares[each.traveller]
        ledger.page.text(ledger.row, 1, name)
        formula = f"SUMIF({sums.lines.guest(each.traveller)},1,{sums.lines.column(at.A_HEAD)})"
        net = ledger.page.formula(ledger.row, 2, formula, float(exact / coins_in_one), ledger.shown)
        formula = rounding.in_coins(f"{net}*{sums.terms.factor}")
        coins = ledger.page.formula(ledger.row, 3, formula, round(float(sums.found.exact(exact)), 6))
        prices[each.traveller] = ledger.money(ledger.row, 4, rounding.raised(coins), each.price)
    ledger.row += 2
    return prices


def totals(sums: Sums, prices: dict[str, str]) -> str:
    """Net, total, commission and margin, and whether the price is 'from'; where the total stands."""
    ledger, quote, rounding = sums.ledger, sums.told.quote, sums.terms.rounding
    ledger.title("Totals")
    _from(sums)
    net = ledger.amount("Net", sums.net(), quote.net)
    total = ledger.amount("Total", rounding.exact("+".join(prices.values())), quote.total)
    commission = ledger.amount(
        "of it commission", rounding.rounded(f"{total}*{sums.terms.commission}"), quote.commission
    )
    ledger.amount("of it margin", rounding.exact(f"{total}-{commission}-{net}"), quote.margin)
    ledger.gap()
    return total


def _from(sums: Sums) -> None:
    ledger, quote = sums.ledger, sums.told.quote
    unknown = f'COUNTIFS({sums.included},{sums.lines.column(at.NET)},"{UNKNOWN}")'
    assumed = f'COUNTIFS({sums.included},{sums.lines.column(at.ASSUMED)},"{at.YES}")'
    formula = f'IF({unknown}+{assumed}+{len(quote.assumptions)}>0,"from","final")'
    ledger.page.text(ledger.row, 1, "The price is")
    ledger.page.formula(ledger.row, 2, formula, "from" if quote.is_from else "final")
    if quote.assumptions:
        ledger.page.text(ledger.row, 3, "; ".join(quote.assumptions))
    ledger.gap()


def room_prices(sums: Sums, prices: dict[str, str]) -> None:
    """What adults on the whole trip pay a head, by the rooms they sleep in."""
    if sums.told.quote.by_room:
        sums.ledger.title("Price per person by room")
        for each, says in rooms_said(sums.told.quote, sums.told.trip.party):
            sums.ledger.amount(says, prices[each.travellers[0]], each.price)
        sums.ledger.gap()


def payments(sums: Sums, total: str) -> None:
    """The deposit by its share, the balance as what is left."""
    ledger, quote, rounding = sums.ledger, sums.told.quote, sums.terms.rounding
    ledger.title("Payments", "due")
    left = total
    for number, each in enumerate(quote.payments, start=1):
        last = number == len(quote.payments)
        deposit = rounding.rounded(f"{total}*{sums.terms.deposit}")
        paid = ledger.amount(each.says, rounding.exact(left) if last else deposit, each.amount)
        ledger.page.day(ledger.row - 1, 3, each.due)
        left = f"{left}-{paid}"
    ledger.gap()
