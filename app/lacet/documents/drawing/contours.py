"""Contour lines under a leg's map: what a copier leaves of the relief."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from lacet.documents.drawing.frame import Frame
from lacet.documents.drawing.heights import Stamps, heights_over, opened, stamps_of
from lacet.documents.drawing.look import Look
from lacet.documents.drawing.svg import element, path_of
from lacet.tracks.raster import ElevationRaster, RasterRefused
from lacet.tracks.track import Floats
from lacet.wording import METRES_PER_FOOT

SAMPLES_PER_MM = 1.5
# Round intervals, in metres and in feet; the first by which no more than so many lines lie over another.
INTERVALS_M = (10.0, 20.0, 50.0, 100.0, 200.0)
INTERVALS_FT = (50.0, 100.0, 200.0, 500.0)
MOST_LEVELS = 20
INDEX_EVERY = 5
THIN_MM = 0.05
LEAST_LENGTH_MM = 4.0
KEPT = 64


@dataclass(frozen=True, slots=True)
class Contours:
    """Contour lines, and how far one lies over the next [m]."""

    drawn: str
    interval_m: float


def contours(
    frame: Frame, rasters: Sequence[ElevationRaster], look: Look, *, imperial: bool
) -> Contours | None:
    """Return the contour lines of what a map shows; None where heights are unknown or hardly differ."""
    stamps = stamps_of(rasters)
    return _contours(frame, stamps, look, imperial) if stamps else None


@lru_cache(maxsize=KEPT)
def _contours(frame: Frame, stamps: Stamps, look: Look, imperial: bool) -> Contours | None:
    columns, rows = round(frame.width_mm * SAMPLES_PER_MM), round(frame.height_mm * SAMPLES_PER_MM)
    try:
        height_m = heights_over(frame, opened(stamps), columns, rows)
    except RasterRefused:
        return None
    land = np.isfinite(height_m) & (height_m > 0)
    if not land.any():
        return None
    unit_m = METRES_PER_FOOT if imperial else 1.0
    highest = float(height_m[land].max()) / unit_m
    lowest = float(height_m[land].min()) / unit_m
    intervals = INTERVALS_FT if imperial else INTERVALS_M
    fits = (each for each in intervals if (highest - lowest) / each <= MOST_LEVELS)
    interval = next(fits, intervals[-1])
    first, last = int(lowest // interval) + 1, int(highest // interval)
    if last < first:
        return None
    lines = _Lines(np.where(land, height_m, np.nan) / unit_m, frame)
    thin = "".join(lines.at(step * interval) for step in range(first, last + 1) if step % INDEX_EVERY)
    bold = "".join(lines.at(step * interval) for step in range(first, last + 1) if not step % INDEX_EVERY)
    return Contours(_stroked(thin, look, 0.1) + _stroked(bold, look, 0.2), interval * unit_m)


class _Lines:
    """Follows levels over a grid of heights; unknown cells and the sea have none."""

    def __init__(self, height: Floats, frame: Frame) -> None:
        from contourpy import LineType, contour_generator

        rows, columns = height.shape
        x = (np.arange(columns) + 0.5) * frame.width_mm / columns
        y = (np.arange(rows) + 0.5) * frame.height_mm / rows
        hidden = np.ma.masked_invalid(height)
        self._generator = contour_generator(x, y, hidden, name="serial", line_type=LineType.Separate)

    def at(self, level: float) -> str:
        return "".join(path_of(at[:, 0], at[:, 1]) for at in self._at(level))

    def _at(self, level: float) -> Iterator[Floats]:
        import shapely

        for found in self._generator.lines(level):
            line = shapely.linestrings(np.asarray(found))
            if shapely.length(line) >= LEAST_LENGTH_MM:
                yield shapely.get_coordinates(shapely.simplify(line, THIN_MM, preserve_topology=False))


def _stroked(data: str, look: Look, wide_mm: float) -> str:
    if not data:
        return ""
    return element(
        "path", d=data, fill="none", stroke=look.contour, stroke_width=wide_mm, stroke_linejoin="round"
    )
