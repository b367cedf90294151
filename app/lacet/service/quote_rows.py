"""The quote as rows of a table: what the office reads, or what a client beside them may."""

from dataclasses import dataclass

from lacet.price.grouped import Key, LineGroup, PricedLine, lines_by_day, lines_by_kind
from lacet.price.lines import QuoteLine, Unknown
from lacet.price.values import Quote
from lacet.price.words import PAYERS, SERVICES, UNITS
from lacet.trip.catalogue import Catalogue
from lacet.trip.library import Tariff
from lacet.trip.trip import Trip
from lacet.trip.words import Payer, Service
from lacet.wording import Wording

HEADS = ("What", "Quantity", "Each", "Net", "Price", "Tariff")
UNPRICED = "unknown"
OFFICE_COLUMNS = (2, 3, 5)
TO_DO = {
    Unknown.NO_TARIFF: "Add a tariff for it in the library.",
    Unknown.NOT_VALID: "Add the tariff for that date in the library.",
    Unknown.SEASON_GAP: "Add a rate for that date to its tariff in the library.",
    Unknown.NO_RATE: "Add a rate for this case to its tariff in the library.",
    Unknown.NO_EXCHANGE_RATE: "Add the exchange rate to the house rules.",
    Unknown.NOT_CHOSEN: "Choose it on the sheet.",
    Unknown.NOT_IN_LIBRARY: "Choose another on the sheet.",
    Unknown.UNREADABLE: "Mend the seasons of its tariff in the library.",
}


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the table. `day` counts from 1, None = the whole trip; `to_do` where it is unknown."""

    texts: tuple[str, ...]
    spoken: str
    day: int | None
    item: str = ""
    to_do: str = ""
    apart: bool = False


@dataclass(frozen=True, slots=True)
class RowGroup:
    """A day or a kind, with its lines."""

    key: Key
    head: Row
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class RowMaker:
    """Says lines in words; for a client without what suppliers ask, and without single selling prices."""

    quote: Quote
    trip: Trip
    catalogue: Catalogue
    wording: Wording
    for_client: bool = False

    def groups(self, *, by_day: bool) -> tuple[RowGroup, ...]:
        """All lines in groups."""
        found = lines_by_day(self.quote) if by_day else lines_by_kind(self.quote)
        return tuple(
            RowGroup(
                group.key, self._head(group), tuple(self._row(each, by_day=by_day) for each in group.lines)
            )
            for group in found
        )

    def _head(self, group: LineGroup) -> Row:
        name = self._group_name(group)
        net, price = self._sums(group)
        day = group.key if isinstance(group.key, int) else None
        said = f"{name}: {price or 'nothing in the price'}" + (f", net {net}" if net else "")
        return Row((name, "", "", net, price, ""), said, day)

    def _sums(self, group: LineGroup) -> tuple[str, str]:
        """Net and price; nothing where nothing is in the price, 'unknown' where all of that is."""
        held = [each.line for each in group.lines if each.line.in_price]
        if not held:
            return "", ""
        if all(line.net is None for line in held):
            return ("" if self.for_client else UNPRICED), UNPRICED
        net = "" if self.for_client else self.wording.money(group.net)
        return net, self.wording.money(group.price, starting=group.is_from)

    def _group_name(self, group: LineGroup) -> str:
        if isinstance(group.key, Service):
            said = SERVICES[group.key]
            return f"{said[0].upper()}{said[1:]}"
        if group.key is None:
            return "The whole trip"
        return f"Day {group.key} {self.wording.day(self.trip.date_of(group.key))}".strip()

    def _row(self, priced: PricedLine, *, by_day: bool) -> Row:
        line = priced.line
        what = line.says if by_day or line.day is None else f"{line.says}  (day {line.day})"
        apart = _apart(line)
        if apart:
            what = f"{what}, {apart}"
        quantity = f"{line.quantity.normalize():f} × {UNITS[line.unit]}"
        texts = (what, quantity, self._each(line), self._net(line), self._price(priced), self._source(line))
        if self.for_client:
            texts = (what, quantity, "", "", self._price(priced) if apart else "", "")
        to_do = "" if line.unknown is None or self.for_client else self._to_do(line)
        spoken = ", ".join(filter(None, (*texts, to_do or ("" if self.for_client else line.assumed))))
        return Row(texts, spoken, line.day, line.item, to_do, bool(apart))

    def _each(self, line: QuoteLine) -> str:
        if line.each is None:
            return UNPRICED
        said = self.wording.money(line.each)
        return said if line.exchange is None else f"{said} at {line.exchange.normalize():f}"

    def _net(self, line: QuoteLine) -> str:
        return UNPRICED if line.net is None else self.wording.money(line.net)

    def _price(self, priced: PricedLine) -> str:
        if priced.line.net is None:
            return UNPRICED
        return self.wording.money(priced.price, starting=bool(priced.line.assumed))

    def _source(self, line: QuoteLine) -> str:
        tariff = None if line.tariff is None else self.catalogue.get(Tariff, line.tariff)
        if tariff is None:
            return ""
        return tariff.name if tariff.version == 1 else f"{tariff.name}, version {tariff.version}"

    def _to_do(self, line: QuoteLine) -> str:
        assert line.unknown is not None, "asked of unknown lines only"
        return f"{line.reason_unknown[0].upper()}{line.reason_unknown[1:]}. {TO_DO[line.unknown]}"


def _apart(line: QuoteLine) -> str:
    """Who else pays a line that isn't in the price."""
    if line.refundable:
        return "comes back"
    return "" if line.payer is Payer.INCLUDED else PAYERS[line.payer]
