"""Marks of what stands along a way; each kind has a shape of its own, readable without colours."""

from lacet.documents.drawing.labels import Box
from lacet.documents.drawing.look import Look
from lacet.documents.drawing.svg import element, group
from lacet.trip.words import PointKind

RADIUS_MM = 1.35
REACH_MM = RADIUS_MM + 0.5
_DIAMOND = "M0 -1.35L1.35 0L0 1.35L-1.35 0Z"
_SHAPES = {
    PointKind.WATER: "M0 -1.5C.5 -.6 1.1 -.1 1.1 .45A1.1 1.1 0 0 1 -1.1 .45C-1.1 -.1 -.5 -.6 0 -1.5Z",
    PointKind.FOOD: "M-1.1 -.8H1.1V.2A1.1 1.1 0 0 1 -1.1 .2Z",
    PointKind.SHELTER: "M-1.4 .1L0 -1.2L1.4 .1H.95V1.2H-.95V.1Z",
    PointKind.HAZARD: "M0 -1.5L1.55 1.2H-1.55Z",
    PointKind.VIEWPOINT: "M0 -1.5L.4 -.4L1.5 0L.4 .4L0 1.5L-.4 .4L-1.5 0L-.4 -.4Z",
    PointKind.CHARGING: "M.35 -1.5L-.95 .25H-.1L-.35 1.5L.95 -.25H.1Z",
    PointKind.TAXI_PICKUP: "M-1.1 -1.1H1.1V1.1H-1.1Z",
}


def point_mark(kind: PointKind, x: float, y: float, look: Look) -> str:
    """The mark of a point on a pale disc; a hazard carries an exclamation mark."""
    shape = _SHAPES.get(kind, _DIAMOND)
    disc = element("circle", cx=0, cy=0, r=REACH_MM, fill=look.paper)
    parts = [disc]
    if kind is PointKind.HAZARD:
        parts.append(element("path", d=shape, fill=look.paper, stroke=look.ink, stroke_width=0.35))
        parts.append(
            element("path", d="M0 -.6V.35M0 .75V.8", fill="none", stroke=look.ink, stroke_width=0.38)
        )
    else:
        parts.append(element("path", d=shape, fill=look.ink))
    return group(parts, transform=f"translate({x:.2f} {y:.2f})")


def point_box(x: float, y: float) -> Box:
    return Box(x - REACH_MM, y - REACH_MM, x + REACH_MM, y + REACH_MM)
