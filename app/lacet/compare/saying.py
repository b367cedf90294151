"""How figures and differences of a comparison are written: a sign and a mark, never colour alone."""

from decimal import Decimal

from lacet.compare.figures import Figure, FigureRow
from lacet.trip.money import Money
from lacet.wording import ENGLISH, UNKNOWN, Wording

BETTER, WORSE = "▽", "▲"


def value_text(row: FigureRow, index: int, currency: str, wording: Wording = ENGLISH) -> str:
    """The value of one variant; `currency` is for rows that don't name their own."""
    value = row.values[index]
    if value is None:
        return UNKNOWN
    return _said(row.kind, value, row.currencies[index] if row.currencies else currency, wording)


def difference_text(row: FigureRow, index: int, base: int, currency: str, wording: Wording = ENGLISH) -> str:
    """'+47.4 km', '−2', with a mark where it is better (▽) or worse (▲); empty without a difference."""
    change = row.difference(index, base)
    if change is None:
        return ""
    own = row.currencies[index] if row.currencies else currency
    said = _said(row.kind, -change if change < 0 else change, own, wording)
    better = row.better(index, base)
    mark = "" if better is None else f" {BETTER if better else WORSE}"
    return f"{'+' if change > 0 else '−'}{said}{mark}"


def _said(kind: str, value: Figure, currency: str, wording: Wording) -> str:
    if kind == "money":
        return wording.money(Money(Decimal(value), currency))
    says = {
        "length": wording.length,
        "height": wording.height,
        "duration": wording.duration,
        "share": wording.share,
    }.get(kind)
    return f"{float(value):.0f}" if says is None else says(float(value))
