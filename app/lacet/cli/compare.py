"""`lacet compare`: two to four variants of one trip beside each other."""

import argparse
from datetime import date
from typing import Any

from lacet.cli.telling import print_json, print_table, say
from lacet.compare import Comparison, Side
from lacet.compare import compare as set_side_by_side
from lacet.compare.figures import FigureRow
from lacet.compare.saying import difference_text, value_text
from lacet.price.plain_quote import plain_price
from lacet.report import plain_totals
from lacet.service.documents import COMPARISON, Order, Whom
from lacet.service.gathering import Assessed, sides_of, standard_of
from lacet.service.opening import NotFound, project_at, variant_named
from lacet.service.writing import need_ending
from lacet.store import Project
from lacet.trip.edits import letter
from lacet.trip.trip import Trip, Variant


def compare(arguments: argparse.Namespace) -> None:
    """Set the named variants beside each other: figures, then differences in sentences; as a file, too."""
    if arguments.out is not None:
        need_ending(arguments.out, *COMPARISON.endings)
    with project_at(arguments.project) as project:
        it, sides, base = _sides(project, arguments)
        found = set_side_by_side(sides, it.catalogue, base, show_money=not arguments.client)
        if arguments.out is not None:
            whom = Whom.CLIENT if arguments.client else Whom.OFFICE
            COMPARISON.hand_over(project, Order(it=it, whom=whom, beside=found), arguments.out)
    trip = it.trip
    letters = [side.letter or letter(trip, side.variant.id) for side in found.sides]
    if arguments.json:
        print_json(plain_comparison(found))
    else:
        _tell(trip.name, letters, found)


def _sides(project: Project, arguments: argparse.Namespace) -> tuple[Assessed, list[Side], int]:
    """The variants chosen, assessed, and which of them is the base; a standard trip comes first."""
    as_of = arguments.as_of or date.today()
    it, sides = sides_of(project, arguments.trip, arguments.variants, as_of)
    base = _base(it.trip, [side.variant for side in sides], arguments.base)
    if not arguments.standard:
        return it, sides, base
    return it, [standard_of(project, it.inputs), *sides], base + 1 if arguments.base else 0


def _base(trip: Trip, variants: list[Variant], named: str | None) -> int:
    if named is None:
        return 0
    base = variant_named(trip, named)
    if base not in variants:
        raise NotFound("'{base}' can't be the base: it is not among the variants to compare.", base=base.name)
    return variants.index(base)


def plain_comparison(found: Comparison) -> dict[str, Any]:
    """The comparison as plain data."""
    return {
        "base": found.sides[found.base].variant.name,
        "variants": [_plain_side(side) for side in found.sides],
        "differences": [
            {"variant": each.variant, "day": each.day, "kind": each.kind, "says": each.says}
            for each in found.differences
        ],
    }


def _plain_side(side: Side) -> dict[str, Any]:
    return {
        "name": side.variant.name,
        "totals": plain_totals(side.assessment.figures.totals),
        "price": plain_price(side.assessment.quote),
    }


def _tell(trip: str, letters: list[str], found: Comparison) -> None:
    heads = [f"{mark} {side.variant.name}" for mark, side in zip(letters, found.sides, strict=True)]
    print_table(
        trip,
        ("", *heads),
        ((row.name, *(_cell(row, index, found.base) for index in range(len(heads)))) for row in found.rows),
        right=tuple(range(1, len(heads) + 1)),
    )
    for each in found.differences:
        where = f"day {each.day}" if each.day else "in all"
        say(f"{each.variant}, {where}: {each.says}")


def _cell(row: FigureRow, index: int, base: int) -> str:
    change = difference_text(row, index, base)
    return f"{value_text(row, index)} {change}".strip()
