"""Height profiles: of the whole trip, of one day, of one leg.

Distance runs to the right as it is travelled; heights are those the assessment counts by. A way is told by
its line (dotted on foot, unbroken by bike) and its fill; where heights are unknown there is no line.
"""

from collections.abc import Iterator, Sequence

import numpy as np

from lacet.documents.drawing.alt import profile_alt
from lacet.documents.drawing.labels import Box, Name, name_drawn, place
from lacet.documents.drawing.look import Look
from lacet.documents.drawing.marks import DIRECTION_MM, badge, badge_box
from lacet.documents.drawing.plot import TOP_MM, Field, field_of, plotted
from lacet.documents.drawing.points import REACH_MM, point_box, point_mark
from lacet.documents.drawing.scene import Manner
from lacet.documents.drawing.svg import drawn, element
from lacet.documents.material.values import Drawn
from lacet.figures.leg_line import LegPoint
from lacet.figures.values import LegFigures, VariantFigures

WHOLE_MM = (174.0, 44.0)
DAY_MM = (174.0, 36.0)
LEG_MM = (174.0, 46.0)
NAME_MM = 2.6
DAYS_MM = 4.6
MARKS_MM = 9.0
# Narrower days have no room for their number.
LEAST_DAY_MM = 2.4


def trip_profile(figures: VariantFigures, manner: Manner, size_mm: tuple[float, float] = WHOLE_MM) -> Drawn:
    """Return one profile of all days, each with its number; on parted days that of the longer way."""
    legs: list[LegFigures] = []
    days: list[tuple[str, float, float]] = []
    at_m = 0.0
    for day in figures.days:
        own = day.group.legs if day.group is not None else ()
        if not own:
            continue
        legs += own
        ends_m = at_m + sum(leg.distance_m for leg in own)
        days.append((str(day.number), at_m, ends_m))
        at_m = ends_m
    field = field_of(legs, manner, size_mm, DAYS_MM)
    parts = [*plotted(legs, field, manner), *_days(days, field, manner.look)]
    alt = profile_alt(manner.speech.say("Height profile of all days"), legs, manner.speech)
    return drawn(parts, size_mm, manner.look.family, alt)


def day_profile(
    figures: VariantFigures,
    manner: Manner,
    day: int,
    group: int = 0,
    size_mm: tuple[float, float] = DAY_MM,
) -> Drawn:
    """Return a group's profile of a day (both counted from 0).

    Raises
    ------
    ValueError
        When the group travels no leg that day.
    """
    legs = figures.days[day].groups[group].legs
    if not legs:
        raise ValueError(f"On day {day + 1} this group travels no stage, so there is no profile of it.")
    field = field_of(legs, manner, size_mm, 0.0)
    head = manner.speech.say("Height profile of day {number}", number=figures.days[day].number)
    return drawn(
        plotted(legs, field, manner), size_mm, manner.look.family, profile_alt(head, legs, manner.speech)
    )


def leg_profile(
    leg: LegFigures,
    manner: Manner,
    numbered: Sequence[tuple[int, float]] = (),
    points: Sequence[LegPoint] = (),
    size_mm: tuple[float, float] = LEG_MM,
) -> Drawn:
    """Return the profile of one leg with its numbered directions and what stands along it.

    Parameters
    ----------
    numbered
        Number and distance from the leg's start [m] of each direction; where they crowd, some are left out.
    points
        What stands along the leg, as `LegLine.points()` gives it.
    """
    field = field_of((leg,), manner, size_mm, MARKS_MM if numbered or points else 0.0)
    parts = [*plotted((leg,), field, manner), *_along(leg, field, manner, numbered, points, size_mm)]
    head = manner.speech.say("Height profile of the route")
    return drawn(parts, size_mm, manner.look.family, profile_alt(head, (leg,), manner.speech))


def _days(days: Sequence[tuple[str, float, float]], field: Field, look: Look) -> Iterator[str]:
    """A hairline between days, and each day's number over its part."""
    top, bottom = field.box.top - DAYS_MM, field.box.bottom
    for number, begins_m, ends_m in days:
        left, right = float(field.x_mm(begins_m)), float(field.x_mm(ends_m))
        if begins_m:
            data = f"M{left:.2f} {top:.2f}V{bottom:.2f}"
            yield element("path", d=data, stroke=look.quiet, stroke_width=0.18, stroke_dasharray="0.7 0.7")
        if right - left >= LEAST_DAY_MM:
            yield element(
                "text", number, x=(left + right) / 2, y=top + 2.6, font_size=2.9, text_anchor="middle",
                font_weight="bold", fill=look.ink,
            )  # fmt: skip


def _along(
    leg: LegFigures, field: Field, manner: Manner, numbered: Sequence[tuple[int, float]],
    points: Sequence[LegPoint], size_mm: tuple[float, float],
) -> Iterator[str]:  # fmt: skip
    """Numbers in a row over the line, marks of points upon it with their names."""
    look, row = manner.look, TOP_MM + DIRECTION_MM
    taken: list[Box] = []
    for number, at_m in numbered:
        x, y = _spot(leg, field, at_m)
        box = badge_box(x, row, DIRECTION_MM)
        if any(box.meets(other) for other in taken):
            continue
        taken.append(box)
        yield element("path", d=f"M{x:.2f} {row:.2f}V{y:.2f}", stroke=look.quiet, stroke_width=0.16)
        yield badge(str(number), x, row, look, look.ink, DIRECTION_MM)
    names: dict[str, Name] = {}
    for point in points:
        x, y = _spot(leg, field, point.at_m)
        taken.append(point_box(x, y))
        yield point_mark(point.kind, x, y, look)
        name = Name(
            text=manner.written(point.name), x_mm=x, y_mm=y, clear_mm=REACH_MM, size_mm=NAME_MM, weight=1.0
        )
        # A place with water and an inn is named once.
        names.setdefault(point.name, name)
    area = Box(field.box.left, row + DIRECTION_MM, size_mm[0], field.box.bottom)
    line = np.column_stack((field.x_mm(leg.trace.distance_m), field.y_mm(leg.trace.height_m)))
    for placed in place(names.values(), area, taken, line):
        yield name_drawn(placed, look)


def _spot(leg: LegFigures, field: Field, at_m: float) -> tuple[float, float]:
    height_m = float(np.interp(at_m, leg.trace.distance_m, leg.trace.height_m))
    y = field.box.bottom if np.isnan(height_m) else float(field.y_mm(height_m))
    return float(field.x_mm(min(at_m, leg.distance_m))), y
