"""Puts names beside their marks so that no two touch and none leaves the map.

Greedy, the most important first: of eight places around its mark a name takes the one that covers least of
the lines; where all eight are taken the name is left out. The same names always lie the same way.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from lacet.documents.drawing.look import Look
from lacet.documents.drawing.svg import element, plain
from lacet.documents.drawing.widths import shortened, width_mm
from lacet.tracks.track import Floats

LONGEST_NAME_MM = 46.0
# How long a name may be and how much farther from its mark than usual: one that matters is rather moved away
# or shortened than left out.
WAYS = (
    (LONGEST_NAME_MM, 0.0),
    (LONGEST_NAME_MM, 1.8),
    (32.0, 0.0),
    (LONGEST_NAME_MM, 3.6),
    (20.0, 0.0),
    (20.0, 1.8),
)
QUIET_WAYS = WAYS[:1]
EDGE_MM = 1.2
BETWEEN_MM = 0.5
CORNER_MM = 0.3
# Above and below the middle of the line of text, as shares of the type size.
LINE_SHARE = 1.12
BASELINE_SHARE = 0.33
# Right, left, above, below, then the corners: dx, dy in half sizes; a place's cost breaks ties.
_AROUND = ((1, 0), (-1, 0), (0, -1), (0, 1), (1, -1), (1, 1), (-1, -1), (-1, 1))
_HABIT = 0.4


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle on the map [mm]."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: "Box") -> bool:
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )

    def within(self, other: "Box") -> bool:
        return (
            self.left >= other.left
            and self.top >= other.top
            and self.right <= other.right
            and self.bottom <= other.bottom
        )

    def grown(self, by_mm: float) -> "Box":
        return Box(self.left - by_mm, self.top - by_mm, self.right + by_mm, self.bottom + by_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Name:
    """A name to be placed, those of the highest `weight` first; `clear_mm` is the radius of its mark."""

    text: str
    x_mm: float
    y_mm: float
    clear_mm: float
    size_mm: float
    weight: float
    quiet: bool = False


@dataclass(frozen=True, slots=True)
class PlacedName:
    """A name in its place, maybe shortened; `side` is 1 right of its mark, -1 left, 0 over or under."""

    name: Name
    text: str
    box: Box
    side: int


def place(
    names: Iterable[Name], area: Box, taken: Sequence[Box] = (), lines_mm: Floats | None = None
) -> tuple[PlacedName, ...]:
    """Return the names that find room, in the order in which they were placed.

    Parameters
    ----------
    taken
        Where no name may lie: marks, scale bar, north mark.
    lines_mm : (n, 2)
        Points along all lines, evenly spaced; names keep off them where they can.
    """
    inside = Box(area.left + EDGE_MM, area.top + EDGE_MM, area.right - EDGE_MM, area.bottom - EDGE_MM)
    dots = np.empty((0, 2)) if lines_mm is None else lines_mm
    boxes = list(taken)
    placed: list[PlacedName] = []
    for name in sorted(names, key=lambda each: (-each.weight, each.text, each.x_mm, each.y_mm)):
        ways = QUIET_WAYS if name.quiet else WAYS
        tried = (_best(name, most_mm, out_mm, inside, boxes, dots) for most_mm, out_mm in ways)
        found = next((each for each in tried if each is not None), None)
        if found is not None:
            placed.append(found)
            boxes.append(found.box.grown(BETWEEN_MM / 2))
    return tuple(placed)


def _best(
    name: Name, most_mm: float, out_mm: float, inside: Box, boxes: Sequence[Box], dots: Floats
) -> PlacedName | None:
    text = shortened(plain(name.text), name.size_mm, most_mm)
    if not text:
        return None
    best, least = None, np.inf
    for habit, (dx, dy) in enumerate(_AROUND):
        box = _box(name, text, dx, dy, out_mm)
        if not box.within(inside) or any(box.grown(BETWEEN_MM / 2).meets(other) for other in boxes):
            continue
        cost = _covered(box, dots) + _HABIT * habit
        if cost < least:
            best, least = PlacedName(name, text, box, dx), cost
    return best


def _box(name: Name, text: str, dx: int, dy: int, out_mm: float) -> Box:
    wide, high = width_mm(text, name.size_mm), name.size_mm * LINE_SHARE
    # At a corner it is enough to stand above or below the mark.
    clear = name.clear_mm + out_mm
    aside = CORNER_MM if dy else clear + BETWEEN_MM
    x = name.x_mm + dx * (aside + wide / 2)
    y = name.y_mm + dy * (clear + BETWEEN_MM * 0.6 + high / 2)
    return Box(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)


def _covered(box: Box, dots: Floats) -> float:
    if not len(dots):
        return 0.0
    x, y = dots[:, 0], dots[:, 1]
    inside = (x > box.left) & (x < box.right) & (y > box.top) & (y < box.bottom)
    return float(np.count_nonzero(inside))


def name_drawn(placed: PlacedName, look: Look) -> str:
    """A placed name with a pale rim that keeps it readable on lines."""
    box, size = placed.box, placed.name.size_mm
    anchor = {1: "start", -1: "end", 0: "middle"}[placed.side]
    x = {1: box.left, -1: box.right, 0: (box.left + box.right) / 2}[placed.side]
    return element(
        "text", placed.text, x=x, y=(box.top + box.bottom) / 2 + size * BASELINE_SHARE, text_anchor=anchor,
        font_size=size, fill=look.quiet if placed.name.quiet else look.ink, stroke=look.paper,
        stroke_width=size * 0.26, stroke_linejoin="round", paint_order="stroke",
        font_style="italic",
    )  # fmt: skip
