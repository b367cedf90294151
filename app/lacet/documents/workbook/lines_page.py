"""The lines of a quote as a sheet: what each costs, where it comes from, who bears it. Office only."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from lacet.documents.workbook.office_told import OfficeTold
from lacet.documents.workbook.page import UNKNOWN, Page, money_format
from lacet.documents.workbook.rounding import Rounding
from lacet.price.amounts import minor_digits
from lacet.price.lines import QuoteLine
from lacet.price.words import PAYERS, SERVICES, UNITS
from lacet.trip.catalogue import Catalogue
from lacet.trip.library import Tariff
from lacet.trip.trip import Trip

_HEADS = (
    *("Day", "Date", "Kind", "What", "Quantity", "Unit", "Each", "Currency", "Rate", "Rate of"),
    *("In coins", "Net", "Who pays", "In the price", "Assumed", "Guests", "Per person", "Tariff", "Remark"),
)
_WIDE = (6, 12, 20, 44, 9, 17, 11, 9, 10, 12, 12, 11, 16, 11, 9, 8, 11, 34, 44)
DAY, DATE, KIND, WHAT, QUANTITY, UNIT, EACH, CURRENCY, RATE, RATE_OF = range(1, 11)
COINS, NET, PAYER, IN_PRICE, ASSUMED, GUESTS, A_HEAD, TARIFF, REMARK = range(11, 20)
FIRST_GUEST = 20
_HEAD_ROW = 3
_FIRST = _HEAD_ROW + 1
YES, NO = "yes", "no"
WHOLE_TRIP = "trip"


@dataclass(frozen=True, slots=True)
class LinesPage:
    """Where the lines stand: the rows from `first` to `last`, and the guests' columns."""

    page: Page
    first: int
    last: int
    guests: tuple[str, ...]

    def column(self, column: int) -> str:
        """All rows of a column, as an address."""
        return self.page.stretch(column, self.first, self.last)

    def guest(self, traveller: str) -> str:
        """The column that marks what a guest has a share in."""
        return self.column(FIRST_GUEST + self.guests.index(traveller))

    def cell(self, index: int, column: int) -> str:
        """One cell of the line of that place in the quote, counted from 0."""
        return self.page.address(self.first + index, column)


def write_lines(page: Page, told: OfficeTold, rounding: Rounding) -> LinesPage:
    """Write all lines of the quote, each with a mark in the column of every guest it is for."""
    quote = told.quote
    page.text(1, 1, "Office copy: net prices. Yellow cells can be changed; totals follow.", bold=True)
    page.heads(_HEAD_ROW, (*_HEADS, *told.guests), wide=_WIDE)
    page.freeze(_FIRST, QUANTITY)
    guests = tuple(each.traveller for each in quote.per_traveller)
    for row, line in enumerate(quote.lines, start=_FIRST):
        _Row(page, row, line, quote.currency, rounding, len(guests)).write(_date(told.trip, line))
        page.text(row, TARIFF, _tariff_name(line, told.catalogue))
        for column, guest in enumerate(guests, start=FIRST_GUEST):
            if guest in line.travellers:
                page.number(row, column, 1, live=True)
    # A stretch of no rows would turn round; an empty row keeps every address sound.
    return LinesPage(page, _FIRST, _FIRST + max(0, len(quote.lines) - 1), guests)


@dataclass(frozen=True, slots=True)
class _Row:
    page: Page
    row: int
    line: QuoteLine
    currency: str
    rounding: Rounding
    guests: int

    def write(self, on: date | None) -> None:
        line, page, row = self.line, self.page, self.row
        if line.day is None:
            page.text(row, DAY, WHOLE_TRIP)
        else:
            page.number(row, DAY, line.day)
        page.day(row, DATE, on)
        for column, says in (
            (KIND, SERVICES[line.service]),
            (WHAT, line.says),
            (UNIT, UNITS[line.unit]),
            (PAYER, PAYERS[line.payer]),
            (IN_PRICE, YES if line.in_price else NO),
            (ASSUMED, YES if line.assumed else ""),
            (REMARK, _remark(line)),
        ):
            if says:
                page.text(row, column, says)
        self._price()
        self._share()

    def _price(self) -> None:
        line, page, row = self.line, self.page, self.row
        foreign = self.currency if line.each is None else line.each.currency
        # The same currency has a rate of one; a missing rate is unknown, and so is the price.
        rate = line.exchange if foreign != self.currency else Decimal(1)
        each = None if line.each is None else line.each.amount
        page.number(row, QUANTITY, line.quantity, live=True)
        page.number(row, EACH, each, money_format(foreign), live=True)
        page.text(row, CURRENCY, foreign)
        page.number(row, RATE, rate, live=True)
        page.day(row, RATE_OF, line.exchange_on)
        coins = None
        if each is not None and rate is not None:
            coins = round((line.quantity * each * rate).scaleb(minor_digits(self.currency)), 6)
        known = f"COUNT({self._at(QUANTITY)},{self._at(EACH)},{self._at(RATE)})=3"
        product = self.rounding.in_coins(f"{self._at(QUANTITY)}*{self._at(EACH)}*{self._at(RATE)}")
        page.formula(row, COINS, f'IF({known},{product},"{UNKNOWN}")', coins)
        net = None if line.net is None else line.net.amount
        whole = f"{self.rounding.whole(self._at(COINS))}/{self.rounding.coins}"
        formula = f'IF(ISNUMBER({self._at(COINS)}),{whole},"{UNKNOWN}")'
        page.formula(row, NET, formula, net, money_format(self.currency))

    def _share(self) -> None:
        """Of what is in the price each guest of the line bears an equal share."""
        line, page, row = self.line, self.page, self.row
        marks = f"{self._at(FIRST_GUEST)}:{self._at(FIRST_GUEST + self.guests - 1)}"
        page.formula(row, GUESTS, f"COUNT({marks})", len(line.travellers))
        share: float | str | None = ""
        if line.in_price:
            share = None if line.net is None else float(line.net.amount) / len(line.travellers)
        page.formula(row, A_HEAD, f'IF({self._at(IN_PRICE)}="{YES}",IF(ISNUMBER({self._at(NET)}),'
                     f'{self._at(NET)}/{self._at(GUESTS)},"{UNKNOWN}"),"")',
                     share, money_format(self.currency))  # fmt: skip

    def _at(self, column: int) -> str:
        return self.page.address(self.row, column).rpartition("!")[2]


def _date(trip: Trip, line: QuoteLine) -> date | None:
    return None if line.day is None else trip.date_of(line.day)


def _remark(line: QuoteLine) -> str:
    parts = [line.reason_unknown, line.assumed, "refundable" if line.refundable else ""]
    if line.stay_nights is not None and line.stay_nights < line.minimum_nights:
        parts.append(f"meant for {line.minimum_nights} nights or more")
    return "; ".join(part for part in parts if part)


def _tariff_name(line: QuoteLine, catalogue: Catalogue) -> str:
    tariff = None if line.tariff is None else catalogue.get(Tariff, line.tariff)
    if tariff is None:
        return ""
    vat = f"; VAT: {tariff.vat_note}" if tariff.vat_note else ""
    return f"{tariff.name} ({tariff.valid_from} to {tariff.valid_to}){vat}"
