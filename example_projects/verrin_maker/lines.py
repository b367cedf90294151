"""From cells to a line one could walk: corners rounded, points every 22 m, heights from the same raster.

Heights are read between cells and then evened out along the way, as a way is dug in and banked up. A corner
is rounded less where rounding would take it into the sea, or shorten a hairpin until it needs a cutting.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.ndimage import gaussian_filter1d

from grid import METRES_PER_DEGREE, Array, bilinear
from routing import Cell
from terrain import Terrain

SPACING_M = 22.0
ROUNDING_M = {"road": 46.0, "lane": 38.0, "track": 32.0, "path": 28.0}
EVENING_M = {"road": 70.0, "lane": 60.0, "track": 45.0, "path": 25.0}
LEAST_ROUNDING_M = 8.0
DEEPEST_CUT_M = 12.0
STEEPEST_RATIO = {"road": 0.09, "lane": 0.115, "track": 0.145, "path": 0.35}


@dataclass(frozen=True, slots=True)
class Line:
    lat: Array
    lon: Array
    height_m: Array
    distance_m: Array


def drawn(terrain: Terrain, cells: list[Cell], kind: str) -> Line:
    """The smooth line through cell centres; its ends are exactly the first and last centre."""
    sigma_m = ROUNDING_M[kind]
    while True:
        row, column = _rounded(terrain, cells, sigma_m)
        lat, lon = terrain.grid.position(row, column)
        line = Line(lat, lon, bilinear(terrain.height, row, column), distances_m(lat, lon))
        if sigma_m < LEAST_ROUNDING_M or not (_wet(terrain, row, column) or _buried(line, kind)):
            return line
        sigma_m /= 2


def graded(line: Line, kind: str, start_m: float, end_m: float) -> Array:
    """Heights evened out between two given ends, nowhere steeper than the kind of way allows [m].

    The mean of the least line above and the greatest line below with a bounded gradient is itself so bounded.
    It keeps the ends if they are no further apart in height than the bound allows.
    """
    along, steepest = line.distance_m, STEEPEST_RATIO[kind]
    bend = np.interp(along, along[[0, -1]], [start_m - line.height_m[0], end_m - line.height_m[-1]])
    height = smoothed(line.height_m + bend, EVENING_M[kind] / SPACING_M)
    back = along[-1] - along
    height = np.clip(
        height,
        np.maximum(start_m - steepest * along, end_m - steepest * back),
        np.minimum(start_m + steepest * along, end_m + steepest * back),
    )
    bounded = (_bounded_above(height, along, steepest) - _bounded_above(-height, along, steepest)) / 2
    return smoothed(bounded, 1.0)


def _bounded_above(height: Array, along: Array, steepest: float) -> Array:
    """The greatest line below `height` whose gradient stays within the bound."""
    rise = steepest * along
    forward = np.minimum.accumulate(height - rise) + rise
    backward = np.minimum.accumulate((height + rise)[::-1])[::-1] - rise
    return np.minimum(forward, backward)


def _rounded(terrain: Terrain, cells: list[Cell], sigma_m: float) -> tuple[Array, Array]:
    """Fractional rows and columns of the line with its corners rounded."""
    grid = terrain.grid
    rows, columns = (np.array(part, dtype=np.float64) for part in zip(*cells, strict=True))
    y, x = resampled(rows * grid.cell_height_m, columns * grid.cell_width_m, SPACING_M / 2)
    sigma = sigma_m / (SPACING_M / 2)
    y, x = resampled(smoothed(y, sigma), smoothed(x, sigma), SPACING_M)
    return y / grid.cell_height_m, x / grid.cell_width_m


def _buried(line: Line, kind: str) -> bool:
    """Whether the line, made gentle enough, would need deep cuttings or high banks."""
    height = graded(line, kind, float(line.height_m[0]), float(line.height_m[-1]))
    return bool(np.abs(height - line.height_m).max() > DEEPEST_CUT_M)


def _wet(terrain: Terrain, row: Array, column: Array) -> bool:
    cell = np.round(row).astype(int), np.round(column).astype(int)
    return bool((terrain.sea[cell] | terrain.lake[cell]).any())


def resampled(y: Array, x: Array, spacing_m: float) -> tuple[Array, Array]:
    """Points at even distances along a line, both ends kept."""
    along = np.concatenate([[0.0], np.cumsum(np.hypot(np.diff(y), np.diff(x)))])
    count = max(2, round(along[-1] / spacing_m) + 1)
    at = np.linspace(0, along[-1], count)
    return np.interp(at, along, y), np.interp(at, along, x)


def distances_m(lat: Array, lon: Array) -> Array:
    """Distance of each point from the first along the line, on a local plane [m]."""
    shrink = np.cos(np.radians((lat[1:] + lat[:-1]) / 2))
    steps = np.hypot(np.diff(lat), np.diff(lon) * shrink) * METRES_PER_DEGREE
    return np.concatenate([[0.0], np.cumsum(steps)])


def smoothed(values: Array, sigma: float) -> Array:
    """A Gaussian along the line that leaves both ends where they are, by mirroring through them."""
    sigma = min(sigma, (len(values) - 1) / 3)
    pad = min(len(values) - 1, int(4 * sigma) + 1)
    before = 2 * values[0] - values[pad:0:-1]
    after = 2 * values[-1] - values[-2 : -pad - 2 : -1]
    padded = np.concatenate([before, values, after])
    return np.asarray(gaussian_filter1d(padded, sigma)[pad : pad + len(values)])
