"""Routes of variants on one map. Each is told by its letter and its width, never by dots.

Where variants share a way their lines lie within one another, the widest outside, so that each is seen.
"""

from collections.abc import Iterator, Sequence

import numpy as np

from lacet.documents.drawing.frame import frame_around
from lacet.documents.drawing.labels import Box
from lacet.documents.drawing.laying import Layers, Stop, laid
from lacet.documents.drawing.look import Look
from lacet.documents.drawing.marks import badge, badge_box
from lacet.documents.drawing.scene import Manner, Scene, scene_of
from lacet.documents.drawing.svg import drawn, element
from lacet.documents.drawing.ways import MapLine, line_in
from lacet.documents.material.values import Drawn
from lacet.figures.values import FloatArray, VariantFigures
from lacet.trip.catalogue import Catalogue

SIZE_MM = (174.0, 104.0)
MARGIN_MM = 10.0
# A wide line with a paper core, a narrower one with a pale core, a thin dark one, and a hair within it.
LINES_MM = (
    ((2.6, "ink"), (1.9, "paper")),
    ((1.3, "ink"), (0.75, "hairline")),
    ((0.5, "ink"),),
    ((0.2, "paper"),),
)
STOP_WEIGHT = 100.0
_EVERY_MM = 1.5


def routes_on_one_map(
    variants: Sequence[VariantFigures], letters: Sequence[str], catalogue: Catalogue, manner: Manner
) -> Drawn | None:
    """Draw the routes, or nothing where no variant has a leg whose line is known."""
    scenes = [scene_of(figures, catalogue) for figures in variants]
    tracks = [leg.track for scene in scenes for leg in scene.legs]
    if not tracks:
        return None
    positions = np.vstack([np.column_stack((each.latitude_deg, each.longitude_deg)) for each in tracks])
    frame = frame_around(positions, SIZE_MM, MARGIN_MM)
    lines = [[line_in(frame, leg.track) for leg in scene.legs] for scene in scenes]
    routes = [path for index, own in enumerate(lines) for path in _route(own, index, manner.look)]
    marks, boxes = _letters(lines, letters, manner.look)
    layers = Layers(
        frame=frame, lines=(), stops=_stops(scenes, catalogue), rides=routes, marks=marks, boxes=boxes
    )
    alt = f"Routes of {', '.join(letters)} on one map"
    return drawn(laid(layers, catalogue, manner), SIZE_MM, manner.look.family, alt)


def _route(lines: Sequence[MapLine], index: int, look: Look) -> Iterator[str]:
    data = "".join(line.data for line in lines)
    for width_mm, colour in LINES_MM[index] if data else ():
        yield element(
            "path", d=data, fill="none", stroke=getattr(look, colour), stroke_width=width_mm,
            stroke_linecap="round", stroke_linejoin="round",
        )  # fmt: skip


def _stops(scenes: Sequence[Scene], catalogue: Catalogue) -> list[Stop]:
    """Places where any of the variants ends a day."""
    ends = dict.fromkeys(end for scene in scenes for end in scene.ends)
    return [Stop(place, STOP_WEIGHT) for end in ends if (place := catalogue.place(end)) is not None]


def _letters(
    lines: Sequence[Sequence[MapLine]], letters: Sequence[str], look: Look
) -> tuple[list[str], list[Box]]:
    """Each letter where its route lies farthest from all others, as far as there is such a place."""
    dots = [_dots(own) for own in lines]
    marks: list[str] = []
    boxes: list[Box] = []
    for index, (own, letter) in enumerate(zip(dots, letters, strict=True)):
        if not len(own):
            continue
        others = [each for other, each in enumerate(dots) if other != index and len(each)]
        x, y = _loneliest(own, others)
        marks.append(badge(letter, x, y, look, look.ink))
        boxes.append(badge_box(x, y))
    return marks, boxes


def _dots(lines: Sequence[MapLine]) -> FloatArray:
    parts = [each for line in lines for each in line.dots_mm(_EVERY_MM)]
    return np.concatenate(parts) if parts else np.empty((0, 2))


def _loneliest(own: FloatArray, others: Sequence[FloatArray]) -> tuple[float, float]:
    if not others:
        middle = own[len(own) // 2]
        return float(middle[0]), float(middle[1])
    around = np.concatenate(others)
    apart = np.hypot(own[:, None, 0] - around[None, :, 0], own[:, None, 1] - around[None, :, 1]).min(axis=1)
    best = own[int(apart.argmax())]
    return float(best[0]), float(best[1])
