"""Lines of ways: dotted on foot, unbroken by bike, on a pale bed that parts them from the ground."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from lacet.documents.drawing.frame import Frame
from lacet.documents.drawing.look import Look
from lacet.documents.drawing.svg import element, path_of
from lacet.tracks.edit import simplify
from lacet.tracks.track import Floats, Track
from lacet.trip.words import Way

THIN_MM = 0.06
BED_MM = 1.5
LINE_MM = 0.75
# Round dots: strokes of no length with round ends.
DOTS = "0.01 1.2"
DOT_MM = 0.8
DASHES = "1.6 1.1"
FAINT_SHARE = 0.7


@dataclass(frozen=True, slots=True, eq=False)
class MapLine:
    """A line on the map: pieces of x and y [mm] within the frame."""

    pieces: tuple[tuple[Floats, Floats], ...]

    @property
    def data(self) -> str:
        return "".join(path_of(x, y) for x, y in self.pieces)

    def dots_mm(self, every_mm: float = 0.8) -> Iterator[Floats]:
        """Points along the line, for whatever should keep off it."""
        for x, y in self.pieces:
            along = np.concatenate(((0.0,), np.cumsum(np.hypot(np.diff(x), np.diff(y)))))
            at = np.arange(0.0, along[-1] + every_mm, every_mm)
            yield np.column_stack((np.interp(at, along, x), np.interp(at, along, y)))


def line_in(frame: Frame, track: Track) -> MapLine:
    """A track as the frame shows it, thinned to what can be seen and cut at the frame's edges."""
    thin = simplify(track, THIN_MM * frame.metres_per_mm)
    x, y = frame.to_mm(thin.latitude_deg, thin.longitude_deg)
    pieces = [piece for part in thin.segments for piece in _seen(frame, x[part], y[part])]
    return MapLine(tuple(pieces))


def straight_in(frame: Frame, ends: Sequence[tuple[float, float]]) -> MapLine:
    """A straight line between positions (latitude, longitude), cut at the frame's edges."""
    x, y = frame.to_mm(np.array([at[0] for at in ends]), np.array([at[1] for at in ends]))
    return MapLine(tuple(_seen(frame, x, y)))


def _seen(frame: Frame, x: Floats, y: Floats) -> Iterator[tuple[Floats, Floats]]:
    import shapely

    if len(x) < 2:
        return
    whole = x.min() >= 0 and y.min() >= 0 and x.max() <= frame.width_mm and y.max() <= frame.height_mm
    if whole:
        yield x, y
        return
    line = shapely.linestrings(np.column_stack((x, y)))
    for piece in shapely.get_parts(shapely.clip_by_rect(line, 0.0, 0.0, frame.width_mm, frame.height_mm)):
        at = shapely.get_coordinates(piece)
        if len(at) > 1:
            yield at[:, 0], at[:, 1]


def bed(line: MapLine, look: Look, wide_mm: float = BED_MM) -> str:
    """The pale bed under a line."""
    return _stroked(line.data, look.paper, wide_mm, stroke_opacity=0.9) if line.pieces else ""


def way_line(line: MapLine, way: Way, look: Look, *, faint: bool = False) -> str:
    """The line itself; a faint one belongs to another day."""
    return (
        ""
        if not line.pieces
        else stroke_of(line.data, way, look, faint=faint, share=FAINT_SHARE if faint else 1.0)
    )


def stroke_of(data: str, way: Way, look: Look, *, faint: bool = False, share: float = 1.0) -> str:
    """A path in the manner of a way; `share` of its usual width."""
    if way is Way.CYCLING:
        return _stroked(data, look.other if faint else look.bike, LINE_MM * share)
    colour = look.other if faint else look.foot
    return _stroked(data, colour, DOT_MM * share, stroke_dasharray=DOTS)


def ride_line(line: MapLine, look: Look) -> str:
    """A ride from place to place: dashed, since nobody knows its road."""
    if not line.pieces:
        return ""
    return element(
        "path", d=line.data, fill="none", stroke=look.ride, stroke_width=0.35, stroke_dasharray=DASHES
    )


def _stroked(data: str, colour: str, wide_mm: float, **more: str | float) -> str:
    return element(
        "path", d=data, fill="none", stroke=colour, stroke_width=wide_mm, stroke_linecap="round",
        stroke_linejoin="round", **more,
    )  # fmt: skip
