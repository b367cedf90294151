"""How figures and differences of a comparison are written: a sign and a mark, never colour alone."""

from decimal import Decimal

from lacet.compare.figures import Figure, FigureRow
from lacet.trip.money import Money
from lacet.wording import ENGLISH, UNKNOWN, Wording

BETTER, WORSE = "▽", "▲"


def value_text(row: FigureRow, index: int, wording: Wording = ENGLISH) -> str:
    """The value of one variant."""
    value = row.values[index]
    if value is None:
        return UNKNOWN
    says = _said(row, index, value, wording)
    return f"from {says}" if row.starting and row.starting[index] else says


def difference_text(row: FigureRow, index: int, base: int, wording: Wording = ENGLISH) -> str:
    """'+47.4 km', '−2', with a mark where it is better (▽) or worse (▲); empty without a difference."""
    change = row.difference(index, base)
    if change is None:
        return ""
    said = _said(row, index, -change if change < 0 else change, wording)
    better = row.better(index, base)
    mark = "" if better is None else f" {BETTER if better else WORSE}"
    return f"{'+' if change > 0 else '−'}{said}{mark}"


def _said(row: FigureRow, index: int, value: Figure, wording: Wording) -> str:
    if row.kind == "money":
        return wording.money(Money(Decimal(value), row.currencies[index]))
    says = {
        "length": wording.length,
        "height": wording.height,
        "duration": wording.duration,
        "share": wording.share,
    }.get(row.kind)
    return f"{float(value):.0f}" if says is None else says(float(value))
