"""What a leg's own map carries: numbered directions beside the line, and what stands along the way."""

from collections.abc import Sequence

import numpy as np

from lacet.documents.drawing.frame import Frame
from lacet.documents.drawing.labels import Box, Name
from lacet.documents.drawing.laying import MINOR_NAME_MM
from lacet.documents.drawing.look import Look
from lacet.documents.drawing.marks import DIRECTION_MM, badge_box, pin
from lacet.documents.drawing.points import REACH_MM, point_box, point_mark
from lacet.documents.pack.leg_line import LegPoint
from lacet.tracks.edit import positions_at
from lacet.tracks.track import Floats, Track

At = tuple[float, float]
Marks = tuple[list[str], list[Box]]

POINT_WEIGHT = 30.0
# How far from its spot a number stands, the nearest first.
REACHES_MM = (2.7, 3.6, 4.8, 6.4)
TURNS = 16


def along(frame: Frame, track: Track, at_m: Sequence[float]) -> list[At]:
    """Where distances from the start of a line [m] lie on the map [mm]."""
    if not at_m:
        return []
    latitude, longitude, _ = positions_at(track, np.asarray(at_m, dtype=np.float64))
    x, y = frame.to_mm(latitude, longitude)
    return list(zip(x.tolist(), y.tolist(), strict=True))


def points_drawn(points: Sequence[LegPoint], spots: Sequence[At], look: Look) -> Marks:
    """Marks of what stands along the way."""
    marks = [point_mark(point.kind, x, y, look) for point, (x, y) in zip(points, spots, strict=True)]
    return marks, [point_box(x, y) for x, y in spots]


def point_names(points: Sequence[LegPoint], spots: Sequence[At]) -> list[Name]:
    """Their names."""
    return [
        Name(text=point.name, x_mm=x, y_mm=y, clear_mm=REACH_MM, size_mm=MINOR_NAME_MM, weight=POINT_WEIGHT)
        for point, (x, y) in zip(points, spots, strict=True)
    ]


def directions_drawn(
    frame: Frame, numbered: Sequence[int], spots: Sequence[At], taken: Sequence[Box], dots: Floats, look: Look
) -> Marks:
    """Numbers beside the line, each joined to its spot; one that finds no room is left out."""
    boxes: list[Box] = []
    marks: list[str] = []
    for number, (x, y) in zip(numbered, spots, strict=True):
        at = _beside(x, y, [*taken, *boxes], dots, frame)
        if at is not None:
            marks.append(pin(x, y, at, str(number), look))
            boxes.append(badge_box(*at, DIRECTION_MM))
    return marks, boxes


def _beside(x: float, y: float, boxes: Sequence[Box], dots: Floats, frame: Frame) -> At | None:
    """The nearest free place beside a spot, where least of the line is covered."""
    inside = Box(0.5, 0.5, frame.width_mm - 0.5, frame.height_mm - 0.5)
    for reach in REACHES_MM:
        best, least = None, np.inf
        for turn in range(TURNS):
            angle = 2 * np.pi * turn / TURNS
            at = (x + reach * float(np.cos(angle)), y + reach * float(np.sin(angle)))
            box = badge_box(*at, DIRECTION_MM)
            if not box.within(inside) or any(box.meets(other) for other in boxes):
                continue
            covered = int(
                np.count_nonzero(np.hypot(dots[:, 0] - at[0], dots[:, 1] - at[1]) < DIRECTION_MM + 0.6)
            )
            if covered < least:
                best, least = at, covered
        if best is not None and (least == 0 or reach == REACHES_MM[-1]):
            return best
    return None
