"""A run of days taken from one variant into another: what a drop or a menu means, as one edit."""

from collections.abc import Callable
from dataclasses import dataclass

import orjson

from lacet.compare import Comparison
from lacet.trip import edits
from lacet.trip.drop import PayloadRefused
from lacet.trip.trip import Trip

MIME = "application/x-lacet-days+json"
Lines = tuple[tuple[int | None, ...], ...]


@dataclass(frozen=True, slots=True)
class TakenDays:
    """Days of one variant, by the lines of the comparison they stand in."""

    variant: str
    days: tuple[str, ...]
    lines: tuple[int, ...]

    def to_bytes(self) -> bytes:
        """For the clipboard of a drag."""
        return orjson.dumps({"variant": self.variant, "days": self.days, "lines": self.lines})


@dataclass(frozen=True, slots=True)
class Taking:
    """What a drop comes to: one edit, and how it is said."""

    edit: Callable[[Trip], Trip]
    says: str


def taken_from(data: bytes) -> TakenDays:
    """Read what was dragged.

    Raises
    ------
    PayloadRefused
        When it isn't a run of days.
    """
    try:
        plain = orjson.loads(data)
        made = TakenDays(
            str(plain["variant"]), tuple(map(str, plain["days"])), tuple(map(int, plain["lines"]))
        )
    except (ValueError, TypeError, KeyError) as error:
        raise PayloadRefused("Only days of a variant beside can be let go here.") from error
    if not made.days or not made.lines:
        raise PayloadRefused("Choose at least one day to take.")
    return made


def days_of(found: Comparison, side: int, lines: tuple[int, ...]) -> TakenDays | None:
    """The days a variant has in these lines; None where it has none."""
    held = [line for line in sorted(set(lines)) if found.lined_up[line][side] is not None]
    if not held:
        return None
    variant = found.sides[side].variant
    days = tuple(variant.days[found.lined_up[line][side] or 0].id for line in held)
    return TakenDays(variant.id, days, tuple(held))


def taking(
    found: Comparison, letters: list[str], taken: TakenDays, side: int, line: int, *, instead: bool
) -> Taking | None:
    """Let days go on a variant; None where that would change nothing.

    Parameters
    ----------
    side, line
        Where they are let go: the variant's place in the comparison, and the line.
    instead
        In the place of the days that stand in as many lines from there; else before the day there.
    """
    into = found.sides[side].variant
    if taken.variant == into.id:
        return None
    span = max(taken.lines) - min(taken.lines) + 1
    gives_way = _days_in(found, side, range(line, line + span)) if instead else ()
    at = gives_way[0] if gives_way else _next_day(found, side, line)
    ids = tuple(into.days[index].id for index in gives_way)
    return Taking(
        lambda trip: edits.take_days(trip, taken.variant, taken.days, into.id, at, instead_of=ids),
        _said(len(taken.days), letters[side], gives_way, at),
    )


def _days_in(found: Comparison, side: int, lines: range) -> tuple[int, ...]:
    rows = (found.lined_up[line][side] for line in lines if line < len(found.lined_up))
    return tuple(day for day in rows if day is not None)


def _next_day(found: Comparison, side: int, line: int) -> int:
    """The day a variant has in the line or next below it; one after its last where there is none."""
    below = _days_in(found, side, range(line, len(found.lined_up)))
    return below[0] if below else len(found.sides[side].variant.days)


def _said(count: int, letter: str, gives_way: tuple[int, ...], at: int) -> str:
    days = "a day" if count == 1 else f"{count} days"
    if not gives_way:
        return f"take {days} into {letter}, as day {at + 1}"
    first, last = gives_way[0] + 1, gives_way[-1] + 1
    where = f"day {first}" if first == last else f"days {first} to {last}"
    return f"take {days} into {letter}, in place of {where}"
