"""Height profiles: of the whole trip, of one day, of one leg.

Distance runs to the right as it is travelled; heights are those the assessment counts by. A way is told by
its line (dotted on foot, unbroken by bike) and its fill; where heights are unknown there is no line.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from lacet.documents.drawing.alt import WAYS, profile_alt
from lacet.documents.drawing.axes import Axis, distance_axis, height_axis
from lacet.documents.drawing.labels import BASELINE_SHARE, Box, Name, name_drawn, place
from lacet.documents.drawing.look import Look
from lacet.documents.drawing.marks import DIRECTION_MM, badge, badge_box, figure
from lacet.documents.drawing.points import REACH_MM, point_box, point_mark
from lacet.documents.drawing.scene import Manner
from lacet.documents.drawing.svg import drawn, element, path_of
from lacet.documents.drawing.ways import stroke_of
from lacet.documents.drawing.widths import width_mm
from lacet.documents.material.values import Drawn
from lacet.documents.pack.leg_line import LegPoint
from lacet.figures.values import FloatArray, LegFigures, VariantFigures
from lacet.trip.words import Way

WHOLE_MM = (174.0, 44.0)
DAY_MM = (174.0, 36.0)
LEG_MM = (174.0, 46.0)
TEXT_MM, NAME_MM = 2.5, 2.6
LEFT_MM, RIGHT_MM, BOTTOM_MM, TOP_MM = 12.0, 3.0, 5.2, 2.0
DAYS_MM = 4.6
MARKS_MM = 9.0
THIN_MM = 0.04
LINE_SHARE = 0.75
KEY_MM = 4.0
# Narrower days have no room for their number.
LEAST_DAY_MM = 2.4


@dataclass(frozen=True, slots=True, eq=False)
class Piece:
    """One leg's line: distance from the left end of the drawing and height [m]."""

    along_m: FloatArray
    height_m: FloatArray
    way: Way


@dataclass(frozen=True, slots=True)
class Field:
    """Where the profile stands in the drawing, and its two axes."""

    box: Box
    distance: Axis
    height: Axis

    def x_mm(self, along_m: FloatArray | float) -> FloatArray:
        share = np.asarray(along_m, dtype=np.float64) / self.distance.high_m
        return np.asarray(self.box.left + share * (self.box.right - self.box.left))

    def y_mm(self, height_m: FloatArray | float) -> FloatArray:
        share = (np.asarray(height_m, dtype=np.float64) - self.height.low_m) / (
            self.height.high_m - self.height.low_m
        )
        return np.asarray(self.box.bottom - share * (self.box.bottom - self.box.top))


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
    field = _field(legs, manner, size_mm, DAYS_MM)
    parts = [*_plot(legs, field, manner), *_days(days, field, manner.look)]
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
    field = _field(legs, manner, size_mm, 0.0)
    head = manner.speech.say("Height profile of day {number}", number=figures.days[day].number)
    return drawn(
        _plot(legs, field, manner), size_mm, manner.look.family, profile_alt(head, legs, manner.speech)
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
    field = _field((leg,), manner, size_mm, MARKS_MM if numbered or points else 0.0)
    parts = [*_plot((leg,), field, manner), *_along(leg, field, manner, numbered, points, size_mm)]
    head = manner.speech.say("Height profile of the way")
    return drawn(parts, size_mm, manner.look.family, profile_alt(head, (leg,), manner.speech))


def _field(
    legs: Sequence[LegFigures], manner: Manner, size_mm: tuple[float, float], above_mm: float
) -> Field:
    width, height = size_mm
    keyed = len({leg.leg.way for leg in legs}) > 1
    box = Box(LEFT_MM, TOP_MM + above_mm + (KEY_MM if keyed else 0.0), width - RIGHT_MM, height - BOTTOM_MM)
    known = [leg.trace.height_m[np.isfinite(leg.trace.height_m)] for leg in legs]
    known = [part for part in known if len(part)]
    low = min((float(part.min()) for part in known), default=0.0)
    high = max((float(part.max()) for part in known), default=0.0)
    imperial = manner.speech.wording.imperial
    length_m = sum(leg.distance_m for leg in legs)
    return Field(
        box,
        distance_axis(length_m, box.right - box.left, imperial=imperial),
        height_axis(low, high, imperial=imperial),
    )


def _pieces(legs: Sequence[LegFigures]) -> Iterator[Piece]:
    at_m = 0.0
    for leg in legs:
        yield Piece(at_m + leg.trace.distance_m, leg.trace.height_m, leg.leg.way)
        at_m += leg.distance_m


def _plot(legs: Sequence[LegFigures], field: Field, manner: Manner) -> Iterator[str]:
    look = manner.look
    lines = [(piece.way, x, y) for piece in _pieces(legs) for x, y in _thin(piece, field)]
    for way, x, y in lines:
        fill = look.bike_fill if way is Way.CYCLING else look.foot_fill
        around_x, around_y = np.concatenate((x, x[[-1, 0]])), np.append(y, [field.box.bottom] * 2)
        yield element("path", d=path_of(around_x, around_y, closed=True), fill=fill)
    yield from _grid(field, manner)
    for way, x, y in lines:
        yield stroke_of(path_of(x, y), way, look, share=LINE_SHARE)
    ways = list(dict.fromkeys(way for way, _, _ in lines))
    if len(ways) > 1:
        yield from _key(ways, field, manner)


def _thin(piece: Piece, field: Field) -> Iterator[tuple[FloatArray, FloatArray]]:
    """A leg's line by stretches of known height, with no more points than can be seen."""
    import shapely

    x, y = field.x_mm(piece.along_m), field.y_mm(piece.height_m)
    known = np.isfinite(y)
    edges = np.flatnonzero(np.diff(known)) + 1
    for part in np.split(np.arange(len(x)), edges):
        if len(part) > 1 and known[part[0]]:
            line = shapely.linestrings(np.column_stack((x[part], y[part])))
            at = shapely.get_coordinates(shapely.simplify(line, THIN_MM, preserve_topology=False))
            yield at[:, 0], at[:, 1]


def _grid(field: Field, manner: Manner) -> Iterator[str]:
    look, speech, box = manner.look, manner.speech, field.box
    for tick in field.height.ticks:
        y = float(field.y_mm(tick * field.height.unit_m))
        yield element(
            "path", d=f"M{box.left:.2f} {y:.2f}H{box.right:.2f}", stroke=look.hairline, stroke_width=0.14
        )
        said = f"{figure(tick, speech)} {field.height.unit}"
        yield _said(said, box.left - 2.0, y + TEXT_MM * BASELINE_SHARE, "end", look)
    for tick in field.distance.ticks:
        x = float(field.x_mm(tick * field.distance.unit_m))
        yield element("path", d=f"M{x:.2f} {box.bottom:.2f}v1", stroke=look.quiet, stroke_width=0.2)
        # The unit once, where the reading begins.
        said = figure(tick, speech) if tick else f"0 {field.distance.unit}"
        half = width_mm(said, TEXT_MM) / 2
        x = min(x, box.right + RIGHT_MM - half)
        yield _said(said, x, box.bottom + 1.4 + TEXT_MM, "middle", look)


def _said(says: str, x: float, y: float, anchor: str, look: Look) -> str:
    return element("text", says, x=x, y=y, font_size=TEXT_MM, text_anchor=anchor, fill=look.quiet)


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


def _key(ways: Sequence[Way], field: Field, manner: Manner) -> Iterator[str]:
    """What the lines mean, over the right end of the profile."""
    look, speech = manner.look, manner.speech
    x = field.box.right
    y = TOP_MM + TEXT_MM / 2
    for way in reversed(ways):
        says = speech.word(WAYS[way])
        x -= width_mm(says, TEXT_MM)
        yield _said(says, x, y + TEXT_MM * BASELINE_SHARE, "start", look)
        yield stroke_of(f"M{x - 7.5:.2f} {y:.2f}h6.3", way, look)
        x -= 11.0


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
