"""The field of a profile: axes, grid and the lines of its legs, told apart by way."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from lacet.documents.drawing.alt import WAYS
from lacet.documents.drawing.axes import Axis, distance_axis, height_axis
from lacet.documents.drawing.labels import BASELINE_SHARE, Box
from lacet.documents.drawing.look import Look
from lacet.documents.drawing.marks import figure
from lacet.documents.drawing.scene import Manner
from lacet.documents.drawing.svg import element, path_of
from lacet.documents.drawing.ways import stroke_of
from lacet.documents.drawing.widths import width_mm
from lacet.figures.values import FloatArray, LegFigures
from lacet.trip.words import Way

TEXT_MM = 2.5
LEFT_MM, RIGHT_MM, BOTTOM_MM, TOP_MM = 12.0, 3.0, 5.2, 2.0
KEY_MM = 4.0
THIN_MM = 0.04
LINE_SHARE = 0.75


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


def field_of(
    legs: Sequence[LegFigures], manner: Manner, size_mm: tuple[float, float], above_mm: float
) -> Field:
    """The field for a profile of these legs, with room above it, and for a key where ways differ."""
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


def plotted(legs: Sequence[LegFigures], field: Field, manner: Manner) -> Iterator[str]:
    """Fills, grid, lines and key, in the order in which they lie over each other."""
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
