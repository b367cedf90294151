"""The lines of a quote in groups, by day or by kind, each with its part of the selling price.

The total is split twice by net price, first among groups and then within each, with nothing lost: lines add
up to their group, groups to the total. Lines in nobody's price stand in their group without a part of it.
"""

from collections.abc import Callable
from dataclasses import dataclass

from lacet.price.amounts import from_minor, split, to_minor
from lacet.price.lines import QuoteLine
from lacet.price.shares import by_day, by_service
from lacet.price.values import Quote
from lacet.trip.money import Money
from lacet.trip.words import Payer, Service

Key = int | Service | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PricedLine:
    """A line and what guests pay for it, to whomever they pay it; None = unknown, or nobody pays."""

    line: QuoteLine
    price: Money | None


@dataclass(frozen=True, slots=True, kw_only=True)
class LineGroup:
    """Lines of one day (None = the whole trip) or one kind. `net` and `price` are of those in the price."""

    key: Key
    net: Money
    price: Money
    lines: tuple[PricedLine, ...]

    @property
    def is_from(self) -> bool:
        """Whether something in the group's price is unknown or assumed."""
        return any(each.line.in_price and (each.line.net is None or each.line.assumed) for each in self.lines)


def lines_by_day(quote: Quote) -> tuple[LineGroup, ...]:
    """A group a day, in order; what is for the whole trip last."""
    groups = _grouped(quote, lambda line: line.day, {day: parts for day, *parts in by_day(quote)})
    return tuple(sorted(groups, key=lambda group: (group.key is None, group.key or 0)))


def lines_by_kind(quote: Quote) -> tuple[LineGroup, ...]:
    """A group a kind of service, in the order they first come."""
    return _grouped(quote, lambda line: line.service, {kind: parts for kind, *parts in by_service(quote)})


def _grouped(
    quote: Quote, key_of: Callable[[QuoteLine], Key], sums: dict[Key, list[Money]]
) -> tuple[LineGroup, ...]:
    lines: dict[Key, list[QuoteLine]] = {}
    for line in quote.lines:
        lines.setdefault(key_of(line), []).append(line)
    nothing = from_minor(0, quote.currency)
    extras = {id(extra.line): extra.price for extra in quote.extras}
    groups = []
    for key, held in lines.items():
        net, price = sums.get(key, [nothing, nothing])
        groups.append(LineGroup(key=key, net=net, price=price, lines=_priced(held, price, extras)))
    return tuple(groups)


def _priced(lines: list[QuoteLine], price: Money, extras: dict[int, Money | None]) -> tuple[PricedLine, ...]:
    known = [line for line in lines if line.in_price and line.net is not None]
    nets = [to_minor(line.net) for line in known if line.net is not None]
    parts = split(to_minor(price), nets) if any(nets) else (0,) * len(nets)
    shares = {id(line): from_minor(part, price.currency) for line, part in zip(known, parts, strict=True)}
    return tuple(PricedLine(line=line, price=_paid(line, shares, extras)) for line in lines)


def _paid(line: QuoteLine, shares: dict[int, Money], extras: dict[int, Money | None]) -> Money | None:
    if line.in_price:
        return shares.get(id(line))
    if line.payer is Payer.OPTIONAL and not line.refundable:
        return extras.get(id(line))
    return line.net
