"""The office's copy of a quote: terms to play with, every total a formula over the lines. Not for clients.

Change a quantity, a price, a mark-up or who shares a line, and everything follows as in the program.
"""

from lacet.documents.workbook.book import Book
from lacet.documents.workbook.ledger import Ledger
from lacet.documents.workbook.lines_page import write_lines
from lacet.documents.workbook.office_parts import by_day, by_kind, extras, supplement, vat
from lacet.documents.workbook.office_told import OfficeTold
from lacet.documents.workbook.office_totals import Sums, Terms, guest_prices, payments, room_prices, totals
from lacet.documents.workbook.page import SHARE_FORMAT
from lacet.documents.workbook.rounding import EVEN, UP, Rounding
from lacet.price import selling
from lacet.price.amounts import minor_digits
from lacet.price.selling import terms_of
from lacet.trip.house_rules import HouseRules

_WIDE = (42, 16, 16, 16, 40)
_BY_MARKUP, _BY_MARGIN = "mark-up", "margin"
NOT_FOR_CLIENTS = "Office copy: holds net prices and margin. Not for clients."


def write_office_quote(book: Book, told: OfficeTold, rules: HouseRules) -> None:
    """Add the sheets 'Quote' and 'Lines'.

    Parameters
    ----------
    rules
        Those the quote was made by: its terms stand in the sheet.
    """
    quote = told.quote
    ledger = Ledger(book.page("Quote"), quote.currency)
    _head(ledger, told)
    found = terms_of(told.variant.pricing, rules)
    terms = _terms(ledger, quote.currency, found, rules)
    lines = write_lines(book.page("Lines"), told, terms.rounding)
    sums = Sums(ledger=ledger, told=told, lines=lines, terms=terms, found=found)
    prices = guest_prices(sums)
    total = totals(sums, prices)
    room_prices(sums, prices)
    payments(sums, total)
    extras(sums)
    supplement(sums)
    by_kind(sums)
    by_day(sums)
    vat(sums, rules, total)


def _head(ledger: Ledger, told: OfficeTold) -> None:
    page, quote = ledger.page, told.quote
    page.heads(1, (told.title,), wide=_WIDE)
    page.text(2, 1, NOT_FOR_CLIENTS, bold=True)
    for row, (label, on) in enumerate((("As of", quote.as_of), ("Valid until", quote.valid_until)), start=3):
        page.text(row, 1, label)
        page.day(row, 2, on)
    ledger.row = 6


def _terms(ledger: Ledger, currency: str, found: selling.Terms, rules: HouseRules) -> Terms:
    ledger.title("Terms", "Yellow cells can be changed.")
    ledger.words("Currency", currency)
    rounding = Rounding(
        coins=ledger.figure("Smallest coins in one", 10 ** minor_digits(currency), "0"),
        halves=ledger.choice("Halves are rounded", EVEN if found.half_even else UP, (UP, EVEN)),
        step=ledger.figure("Prices are raised to a multiple of (coins)", found.step_minor, "0"),
    )
    by = ledger.choice(
        "Prices are made by",
        _BY_MARKUP if found.margin_share is None else _BY_MARGIN,
        (_BY_MARKUP, _BY_MARGIN),
    )
    markup = ledger.figure("Mark-up, a share of net", float(found.markup_share or 0), SHARE_FORMAT)
    margin = ledger.figure("Margin, a share of the price", float(found.margin_share or 0), SHARE_FORMAT)
    commission = ledger.figure(
        "Commission, a share of the price", float(found.commission_share), SHARE_FORMAT
    )
    deposit = ledger.figure("Deposit, a share of the total", rules.deposit_share, SHARE_FORMAT)
    ledger.page.text(ledger.row, 1, "So one of net sells for")
    formula = f'IF({by}="{_BY_MARGIN}",1/(1-{margin}),1+{markup})/(1-{commission})'
    factor = ledger.page.formula(ledger.row, 2, formula, float(found.factor), "0.000000")
    ledger.row += 2
    return Terms(rounding=rounding, factor=factor, commission=commission, deposit=deposit)
