"""Two to four variants beside each other: the one value that screen, documents and command line read."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from lacet.assess import Assessment
from lacet.compare.align import DayKey, line_up
from lacet.compare.differences import Difference, Narrator
from lacet.compare.figures import FigureRow, figure_rows
from lacet.figures.values import DayFigures
from lacet.price.shares import a_head_by_day
from lacet.trip.catalogue import Catalogue
from lacet.trip.errors import LacetError
from lacet.trip.trip import Day, Leg, Variant
from lacet.wording import ENGLISH, Wording

MOST = 4


class CannotCompare(LacetError):
    """Too few or too many variants were chosen."""


@dataclass(frozen=True, slots=True)
class Side:
    """One variant with its assessment; `letter` '' = its letter is its place in the trip."""

    variant: Variant
    assessment: Assessment
    letter: str = ""


@dataclass(frozen=True, slots=True)
class Comparison:
    """Variants side by side.

    Attributes
    ----------
    base
        Index of the variant the others are held against.
    rows
        Figures with differences.
    lined_up
        For each line the day of every variant (0-based), or None; in the order of `sides`.
    differences
        Sentences, by variant and then by day.
    """

    sides: tuple[Side, ...]
    base: int
    rows: tuple[FigureRow, ...]
    lined_up: tuple[tuple[int | None, ...], ...]
    differences: tuple[Difference, ...]


def compare(
    sides: Sequence[Side],
    catalogue: Catalogue,
    base: int = 0,
    *,
    show_money: bool = True,
    wording: Wording = ENGLISH,
) -> Comparison:
    """Set variants side by side.

    Raises
    ------
    CannotCompare
        With fewer than two or more than four.
    """
    if not 2 <= len(sides) <= MOST:
        raise CannotCompare(
            "From 2 to {most} variants can be set side by side, not {count}.", most=MOST, count=len(sides)
        )
    keys = [tuple(_keys(side)) for side in sides]
    others = [index for index in range(len(sides)) if index != base]
    lined = line_up(keys[base], [keys[index] for index in others])
    order = [base, *others]
    lined_up = tuple(tuple(row[order.index(index)] for index in range(len(sides))) for row in lined)
    differences: list[Difference] = []
    for index in others:
        pairs = tuple((row[base], row[index]) for row in lined_up if (row[base], row[index]) != (None, None))
        prices = a_head_by_day(sides[base].assessment.quote), a_head_by_day(sides[index].assessment.quote)
        narrator = Narrator(_pair(sides[base]), _pair(sides[index]), catalogue, wording, prices)
        differences += (replace(each, side=index) for each in narrator.tell(pairs))
    rows = figure_rows(tuple(map(_pair, sides)), show_money=show_money)
    return Comparison(tuple(sides), base, rows, lined_up, tuple(differences))


def _pair(side: Side) -> tuple[Variant, Assessment]:
    return side.variant, side.assessment


def _keys(side: Side) -> list[DayKey]:
    days = zip(side.variant.days, side.assessment.figures.days, strict=True)
    return [_key(day, figures) for day, figures in days]


def _key(day: Day, figures: DayFigures) -> DayKey:
    group = figures.group
    stages = frozenset(item.stage.id for item in day.items if isinstance(item, Leg))
    return DayKey(stages, group.start_place if group else None, group.end_place if group else None)
