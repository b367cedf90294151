"""The client's copy of a quote: selling prices alone. Nothing here reads a net price, a margin or a tariff.

What is payable locally is shown at what the lodging or the boat charges there: that is the guests' own price.
"""

from collections.abc import Iterator

from lacet.documents.workbook.book import Book
from lacet.documents.workbook.ledger import Ledger
from lacet.documents.workbook.telling import Told
from lacet.price.selling_prices import NamedService
from lacet.price.words import SERVICES, rooms_said
from lacet.trip.words import Payer, Service

_WIDE = (46, 16, 16, 44)
# What the office spends on making a trip is in its prices and no service of its own.
_NOT_TOLD = (Service.FIXED_TRIP, Service.FIXED_PERSON)


def write_client_quote(book: Book, told: Told) -> None:
    """Add the sheet 'Quote'."""
    prices = told.prices
    ledger = Ledger(book.page("Quote"), prices.currency)
    _head(ledger, told)
    _prices(ledger, told)
    _extras(ledger, told)
    _apart(ledger, told)
    _included(ledger, told)


def _head(ledger: Ledger, told: Told) -> None:
    page, catalogue, prices = ledger.page, told.catalogue, told.prices
    page.heads(1, (told.title,), wide=_WIDE)
    office = catalogue.office
    lines = [told.trip.party.name, *(each for each in (office.name, office.telephone, office.email) if each)]
    for says in filter(None, lines):
        ledger.row += 1
        page.text(ledger.row, 1, says)
    ledger.row += 2
    for label, on in (("Quote of", prices.as_of), ("Valid until", prices.valid_until)):
        page.text(ledger.row, 1, label)
        page.day(ledger.row, 2, on)
        ledger.row += 1
    ledger.words("Currency", prices.currency)
    ledger.gap()


def _prices(ledger: Ledger, told: Told) -> None:
    prices, page = told.prices, ledger.page
    if prices.by_room:
        ledger.title("Price per person by room")
        for each, says in rooms_said(prices, told.trip.party):
            page.text(ledger.row, 1, says)
            page.number(ledger.row, 2, each.price.amount, ledger.shown)
            ledger.row += 1
        ledger.gap()
    ledger.title("Price per guest")
    cells = []
    for name, guest in zip(told.guests, prices.per_traveller, strict=True):
        page.text(ledger.row, 1, name)
        cells.append(page.number(ledger.row, 2, guest.price.amount, ledger.shown))
        ledger.row += 1
    starting = "Total, from" if prices.is_from else "Total"
    total = ledger.amount(starting, "+".join(cells), prices.total)
    for says in _why_from(told):
        page.text(ledger.row, 1, says)
        ledger.row += 1
    ledger.gap()
    _payments(ledger, told, total)


def _why_from(told: Told) -> Iterator[str]:
    if told.prices.is_from:
        yield "This is a lowest price: some of it isn't confirmed yet."
        yield from (
            f"Price to be confirmed: {line.says}" for line in told.prices.included if line.reason_unknown
        )


def _payments(ledger: Ledger, told: Told, total: str) -> None:
    ledger.title("How to pay", "due")
    left = total
    for number, each in enumerate(told.prices.payments, start=1):
        last = number == len(told.prices.payments)
        if last:
            paid = ledger.amount(each.says, left, each.amount)
        else:
            ledger.page.text(ledger.row, 1, each.says)
            paid = ledger.page.number(ledger.row, 2, each.amount.amount, ledger.shown)
            ledger.row += 1
        ledger.page.day(ledger.row - 1, 3, each.due)
        left = f"{left}-{paid}"
    ledger.gap()


def _extras(ledger: Ledger, told: Told) -> None:
    prices, page = told.prices, ledger.page
    if prices.single_supplement is not None and prices.single_supplement.amount > 0:
        page.text(ledger.row, 1, "Single supplement")
        page.number(ledger.row, 2, prices.single_supplement.amount, ledger.shown)
        ledger.row += 2
    if not prices.extras:
        return
    ledger.title("Optional extras", "per person")
    for each in prices.extras:
        page.text(ledger.row, 1, _on_day(each.service))
        page.number(ledger.row, 2, None if each.per_person is None else each.per_person.amount, ledger.shown)
        ledger.row += 1
    ledger.gap()


def _apart(ledger: Ledger, told: Told) -> None:
    """What guests pay to others, and deposits that come back."""
    if not told.prices.apart:
        return
    ledger.title("Not in the price", "for the party")
    for each in told.prices.apart:
        how = "payable locally" if each.service.payer is Payer.LOCALLY else "paid by you"
        ledger.page.text(ledger.row, 1, _on_day(each.service))
        ledger.page.number(ledger.row, 2, None if each.amount is None else each.amount.amount, ledger.shown)
        ledger.page.text(ledger.row, 3, "refundable deposit" if each.refundable else how)
        ledger.row += 1
    ledger.gap()


def _included(ledger: Ledger, told: Told) -> None:
    page = ledger.page
    lines = [line for line in told.prices.included if line.service not in _NOT_TOLD]
    ledger.title("Included")
    for says in dict.fromkeys((_on_day(line), SERVICES[line.service]) for line in lines):
        page.text(ledger.row, 1, says[0])
        page.text(ledger.row, 2, says[1])
        ledger.row += 1


def _on_day(line: NamedService) -> str:
    return line.says if line.day is None else f"day {line.day}: {line.says}"
