"""Height profiles of variants over one another, on one scale.

Variants are told by their letter and the width of their line, never by dots, which mean on foot elsewhere;
so nothing is lost in black and white.
"""

from collections.abc import Iterator, Sequence

import numpy as np
import shapely

from lacet.compare.lines import VariantLine, variant_line
from lacet.documents.drawing.axes import Axis, distance_axis, height_axis
from lacet.documents.drawing.look import COLOUR, Look
from lacet.documents.drawing.svg import drawn, element, path_of
from lacet.documents.material.values import Drawn
from lacet.figures.values import FloatArray, VariantFigures

SIZE_MM = (174.0, 52.0)
LEFT_MM, RIGHT_MM, TOP_MM, BOTTOM_MM = 13.0, 6.0, 5.0, 6.0
WIDTHS_MM = (1.0, 0.6, 0.35, 0.2)
TEXT_MM = 2.6
THIN_MM = 0.05
KEY_MM = 18.0


def overlaid(variants: Sequence[VariantFigures], letters: Sequence[str], look: Look = COLOUR) -> Drawn:
    """Draw the profiles; rides leave a gap, and days on which nobody moves take no room."""
    lines = [variant_line(each) for each in variants]
    known = [each.height_m[np.isfinite(each.height_m)] for each in lines]
    known = [each for each in known if len(each)]
    length_m = max((each.day_ends_m[-1] for each in lines if each.day_ends_m), default=0.0)
    low = min((float(each.min()) for each in known), default=0.0)
    high = max((float(each.max()) for each in known), default=0.0)
    width, height = SIZE_MM
    field = _Field(
        distance_axis(length_m, width - LEFT_MM - RIGHT_MM, imperial=False),
        height_axis(low, high, imperial=False),
    )
    parts = [*field.grid(look)]
    for index, (line, letter) in enumerate(zip(lines, letters, strict=True)):
        parts += _drawn(line, WIDTHS_MM[index], field, look)
        parts += _key(letter, index, look)
    lengths = [
        f"{letter} {line.day_ends_m[-1] / 1000:.0f} km"
        for line, letter in zip(lines, letters, strict=True)
        if len(line.distance_m)
    ]
    alt = f"Height profiles over one another: {'; '.join(lengths)}"
    return drawn(parts, (width, height), look.family, alt)


class _Field:
    """Where the profiles stand in the drawing."""

    def __init__(self, distance: Axis, height: Axis) -> None:
        self.distance, self.height = distance, height

    def x_mm(self, along_m: FloatArray | float) -> FloatArray:
        share = np.asarray(along_m) / self.distance.high_m
        return np.asarray(LEFT_MM + share * (SIZE_MM[0] - LEFT_MM - RIGHT_MM))

    def y_mm(self, height_m: FloatArray | float) -> FloatArray:
        share = (np.asarray(height_m) - self.height.low_m) / (self.height.high_m - self.height.low_m)
        bottom = SIZE_MM[1] - BOTTOM_MM
        return np.asarray(bottom - share * (bottom - TOP_MM))

    def grid(self, look: Look) -> Iterator[str]:
        right, bottom = SIZE_MM[0] - RIGHT_MM, SIZE_MM[1] - BOTTOM_MM
        for tick in self.height.ticks:
            y = float(self.y_mm(tick * self.height.unit_m))
            yield element("path", d=f"M{LEFT_MM} {y:.2f}H{right}", stroke=look.hairline, stroke_width=0.14)
            yield _said(f"{tick:g} {self.height.unit}", LEFT_MM - 1.5, y + 0.9, "end", look.quiet)
        for tick in self.distance.ticks:
            x = float(self.x_mm(tick * self.distance.unit_m))
            said = f"{tick:g}" if tick else f"0 {self.distance.unit}"
            yield _said(said, x, bottom + 3.8, "middle", look.quiet)


def _drawn(line: VariantLine, width_mm: float, field: _Field, look: Look) -> Iterator[str]:
    along, heights = line.distance_m, line.height_m
    known = np.isfinite(heights)
    edges = np.flatnonzero(np.diff(known)) + 1
    for part in np.split(np.arange(len(along)), edges):
        if len(part) < 2 or not known[part[0]]:
            continue
        points = np.column_stack((field.x_mm(along[part]), field.y_mm(heights[part])))
        thin = shapely.simplify(shapely.linestrings(points), THIN_MM, preserve_topology=False)
        at = shapely.get_coordinates(thin)
        yield _stroke(path_of(at[:, 0], at[:, 1]), width_mm, look)


def _key(letter: str, index: int, look: Look) -> Iterator[str]:
    """The letter and its line, over the left end of the profiles."""
    x = LEFT_MM + index * KEY_MM
    yield element("text", letter, x=x, y=TOP_MM - 1.6, font_size=3.2, font_weight="bold", fill=look.ink)
    yield _stroke(f"M{x + 4.5:.2f} {TOP_MM - 2.7:.2f}h8", WIDTHS_MM[index], look)


def _stroke(data: str, width_mm: float, look: Look) -> str:
    return element(
        "path", d=data, fill="none", stroke=look.ink, stroke_width=width_mm, stroke_linejoin="round",
        stroke_opacity=0.8,
    )  # fmt: skip


def _said(says: str, x: float, y: float, anchor: str, colour: str) -> str:
    return element("text", says, x=x, y=y, font_size=TEXT_MM, text_anchor=anchor, fill=colour)
