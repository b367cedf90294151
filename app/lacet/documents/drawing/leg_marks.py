"""What a leg's own map carries: numbered directions beside the line, and what stands along the way."""

from collections.abc import Sequence

import numpy as np

from lacet.documents.drawing.contours import contours
from lacet.documents.drawing.frame import Frame
from lacet.documents.drawing.labels import BETWEEN_MM, Box, Name, place
from lacet.documents.drawing.laying import (
    MINOR_NAME_MM,
    Layers,
    Line,
    Stop,
    corners,
    dots_of,
    house_spots,
    stop_boxes,
    stop_names,
)
from lacet.documents.drawing.look import Look
from lacet.documents.drawing.marks import DIRECTION_MM, badge_box, pin
from lacet.documents.drawing.points import REACH_MM, point_box, point_mark
from lacet.documents.drawing.scene import Manner
from lacet.documents.drawing.ways import line_in
from lacet.figures.leg_line import LegLine, LegPoint
from lacet.tracks.edit import positions_at
from lacet.tracks.track import Floats, Track
from lacet.trip.library import Lodging
from lacet.trip.words import Way

At = tuple[float, float]
Marks = tuple[list[str], list[Box]]

POINT_WEIGHT = 30.0
# How far from its spot a number stands, the nearest first.
REACHES_MM = (2.7, 3.6, 4.8, 6.4)
TURNS = 16


def leg_layers(
    frame: Frame, line: LegLine, way: Way, stops: Sequence[Stop], manner: Manner,
    numbered: Sequence[tuple[int, float]], houses: Sequence[Lodging],
) -> Layers:  # fmt: skip
    """Everything a leg's map carries; what stands at an end is left to the route notes."""
    look, lines = manner.look, [Line(line_in(frame, line.track), way)]
    dots = dots_of(lines)
    ends = stop_boxes(frame, (stop.place for stop in stops))
    points, spots = _apart(frame, line, ends)
    marks, boxes = points_drawn(points, spots, look)
    levels = contours(frame, manner.rasters, look, imperial=manner.speech.wording.imperial)
    taken = [*corners(frame, (), manner, levels).boxes, *boxes, *ends]
    homes = house_spots(frame, houses, taken)
    taken += [home.box for home in homes]
    # The ends' names choose first; among the numbers they will find the same places again.
    named = place(stop_names(frame, stops), Box(0.0, 0.0, frame.width_mm, frame.height_mm), taken, dots)
    taken += [each.box.grown(BETWEEN_MM) for each in named]
    at = along(frame, line.track, [at_m for _, at_m in numbered])
    numbers, number_boxes = directions_drawn(frame, [each for each, _ in numbered], at, taken, dots, look)
    return Layers(
        frame=frame,
        lines=lines,
        stops=stops,
        marks=[*marks, *numbers],
        boxes=[*boxes, *number_boxes],
        names=point_names(points, spots),
        houses=homes,
        contours=levels,
    )


def _apart(frame: Frame, line: LegLine, ends: Sequence[Box]) -> tuple[list[LegPoint], list[At]]:
    """Points along the leg whose marks don't hide those of its ends, and where they lie."""
    spots = along(frame, line.track, [point.at_m for point in line.points()])
    pairs = zip(line.points(), spots, strict=True)
    kept = [(point, spot) for point, spot in pairs if not any(point_box(*spot).meets(box) for box in ends)]
    return [point for point, _ in kept], [spot for _, spot in kept]


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
