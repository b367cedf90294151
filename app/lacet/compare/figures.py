"""The table of figures: one row a figure, with its difference to the base and whether that is better."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import Decimal
from itertools import pairwise
from typing import TypeAlias

from lacet.assess import Assessment
from lacet.figures.values import GroupFigures
from lacet.price.shares import price_a_head
from lacet.trip.finding import Level
from lacet.trip.money import Money
from lacet.trip.trip import Ride, Variant

Figure: TypeAlias = float | Decimal
Value = Callable[..., Figure | None]


@dataclass(frozen=True, slots=True)
class FigureRow:
    """One figure of every variant. `less_is_better` None = neither is better.

    `kind` says how a value is said: 'count', 'length', 'height', 'duration', 'share', 'money'. Money has the
    currency of every variant beside it; what isn't in one currency has no difference. `for_office` marks what
    no client may see. `starting` tells of every variant whether the value is a lowest one; empty = none is.
    """

    name: str
    kind: str
    values: tuple[Figure | None, ...]
    less_is_better: bool | None = None
    currencies: tuple[str, ...] = ()
    for_office: bool = False
    starting: tuple[bool, ...] = ()

    def difference(self, index: int, base: int) -> Figure | None:
        """Value less the base's; None where either is unknown or nothing differs."""
        value, first = self.values[index], self.values[base]
        if value is None or first is None or index == base or value == first:
            return None
        if self.currencies and self.currencies[index] != self.currencies[base]:
            return None
        if isinstance(value, Decimal) and isinstance(first, Decimal):
            return value - first
        return float(value) - float(first)

    def better(self, index: int, base: int) -> bool | None:
        """Whether the difference is for the better; None where it can't be said."""
        change = self.difference(index, base)
        if change is None or self.less_is_better is None:
            return None
        return (change < 0) is self.less_is_better


def figure_rows(
    variants: tuple[tuple[Variant, Assessment], ...], *, show_money: bool = True
) -> tuple[FigureRow, ...]:
    """All rows; net prices and margin only with `show_money`."""

    def row(name: str, kind: str, value: Value, less_is_better: bool | None = None) -> FigureRow:
        return FigureRow(name, kind, tuple(value(*each) for each in variants), less_is_better)

    def money(name: str, value: Value, less_is_better: bool) -> FigureRow:
        currencies = tuple(found.quote.currency for _, found in variants)
        return replace(row(name, "money", value, less_is_better), currencies=currencies)

    rows = [
        row("Days", "count", lambda _, found: found.figures.totals.days),
        row("Nights", "count", lambda _, found: found.figures.totals.nights),
        row("On foot", "length", lambda _, found: found.figures.totals.walking_m),
        row("By bike", "length", lambda _, found: found.figures.totals.cycling_m),
        row("Climb", "height", lambda _, found: found.figures.totals.ascent_m, True),
        row("Moving time", "duration", lambda _, found: found.figures.totals.moving_s, True),
        row("Hardest day", "duration", lambda _, found: hardest_s(found), True),
        row("Rest days", "count", lambda _, found: found.figures.totals.rest_days),
        row("Changes of lodging", "count", lambda variant, _: changes_of_lodging(variant), True),
        row("Transfers", "count", lambda variant, _: transfers(variant), True),
        row("Lowest battery", "share", lambda _, found: lowest_battery(found), False),
        *(
            row(name, "count", lambda _, found, level=level: open_findings(found, level), True)
            for name, level in (("Stops", Level.STOP), ("Warnings", Level.WARN), ("Notes", Level.NOTE))
        ),
        replace(
            money("Price per person", lambda _, found: _amount(price_a_head(found.quote)), True),
            starting=tuple(found.quote.is_from for _, found in variants),
        ),
    ]
    if show_money:
        margin = money("Margin", lambda _, found: found.quote.margin.amount, False)
        rows.append(replace(margin, for_office=True))
    return tuple(rows)


def hardest_s(found: Assessment) -> float:
    """Moving time of the longest day [s]."""
    return max((group.moving_s for group in _leads(found)), default=0.0)


def changes_of_lodging(variant: Variant) -> int:
    """How often the party wakes in one house and sleeps in another."""
    nights = [frozenset(night.lodging.id for night in day.nights) for day in variant.days if day.nights]
    return sum(before != after for before, after in pairwise(nights))


def transfers(variant: Variant) -> int:
    return sum(isinstance(item, Ride) for item in variant.items())


def lowest_battery(found: Assessment) -> float | None:
    """The least any rider has left on any day, or None without e-bikes."""
    shares = [group.battery_left_share for day in found.figures.days for group in day.groups]
    return min((share for share in shares if share is not None), default=None)


def open_findings(found: Assessment, level: Level) -> int:
    return sum(finding.level is level and finding.overruled_by is None for finding in found.findings)


def _leads(found: Assessment) -> list[GroupFigures]:
    return [day.group for day in found.figures.days if day.group is not None]


def _amount(money: Money | None) -> Decimal | None:
    return None if money is None else money.amount
