"""Ids of nights, meals, moves and hires: unique in their variant, given where an edit puts one in without.

A part that is changed or takes another's place keeps the id, so that two people's changes of different parts
are told apart, and findings and decisions find theirs again.
"""

import re
from collections.abc import Iterable
from dataclasses import replace
from typing import Any, TypeVar

from lacet.trip.trip import Crossing, Day, Hire, Meal, Move, Night, Variant

Part = TypeVar("Part", bound=Night | Meal | Move | Hire | Crossing)
# Prefixes of ids, by the field of a day that holds the parts.
OF_A_DAY = {"nights": "n", "meals": "m", "moves": "mv"}
OF_HIRES, OF_CROSSINGS = "h", "c"


def named(variant: Variant) -> Variant:
    """The variant with an id for each night, meal, move and hire that has none."""
    days = variant.days
    for field, prefix in OF_A_DAY.items():
        parts = [part for day in days for part in getattr(day, field)]
        if all(part.id for part in parts):
            continue
        made = iter(with_ids(prefix, parts))
        days = tuple(_with(day, {field: tuple(next(made) for _ in getattr(day, field))}) for day in days)
    hires = with_ids(OF_HIRES, variant.hires)
    return (
        variant
        if days is variant.days and hires == variant.hires
        else replace(variant, days=days, hires=hires)
    )


def fresh_id(prefix: str, used: Iterable[str]) -> str:
    """One above the highest number in use: the same trip always gets the same new id."""
    numbers = (re.fullmatch(rf"{prefix}(\d+)", each) for each in used)
    return f"{prefix}{1 + max((int(number[1]) for number in numbers if number), default=0)}"


def with_ids(prefix: str, parts: Iterable[Part], used: Iterable[str] = ()) -> tuple[Part, ...]:
    """The parts, those without an id under fresh ones; `used` are ids taken elsewhere."""
    there = tuple(parts)
    taken = [*used, *(part.id for part in there if part.id)]
    made: list[Part] = []
    for part in there:
        if not part.id:
            taken.append(fresh_id(prefix, taken))
        made.append(part if part.id else replace(part, id=taken[-1]))
    return tuple(made)


def without_ids(day: Day) -> Day:
    """The day with its nights, meals and moves as if new: for one that is copied beside its original."""
    bare = {field: tuple(replace(part, id="") for part in getattr(day, field)) for field in OF_A_DAY}
    return _with(day, bare)


def _with(day: Day, parts: dict[str, Any]) -> Day:
    return replace(day, **parts)
