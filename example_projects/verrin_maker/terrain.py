"""The relief of Verrin: an old volcano with a lake, a lower range to the east, a drowned coast.

The order is geology's: land rises, rivers cut, the sea rises into the valley mouths, waves cut cliffs,
flats silt up.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import distance_transform_edt, gaussian_filter, label, zoom

from erosion import Climate, eroded
from grid import FULL, Array, Grid
from noise import fractal_noise, warped

Mask = NDArray[np.bool_]

NODATA = -32768
CRATER_KM = (-8.0, 2.6)
CRATER_RADIUS_KM = 2.5
LAKE_RADIUS_KM = 0.95
LAKE_LEVEL_M = 523.0
DROWNED_M = 34.0


@dataclass(frozen=True, slots=True)
class Flat:
    """Ground that water or people have levelled: centre and radii [km], level [m]."""

    east_km: float
    north_km: float
    radius_east_km: float
    radius_north_km: float
    level_m: float


SALT_PANS = Flat(15.6, -9.2, 2.3, 1.2, 2.0)
AIRFIELD = Flat(-14.0, -8.6, 1.5, 0.75, 38.0)


@dataclass(frozen=True, slots=True)
class Terrain:
    """Heights [m] in whole metres; `sea` cells have none, `lake` is the water inside the crater."""

    grid: Grid
    height: Array
    sea: Mask
    lake: Mask


def make_terrain() -> Terrain:
    """The whole island, coarse cells first (the shape of the valleys), then fine ones (their detail)."""
    coarse_grid = FULL.halved()
    coarse = _worked(coarse_grid, _young_land(coarse_grid), steps=70, seed=11)
    fine = zoom(coarse, 2, order=3, grid_mode=True, mode="nearest")
    fine = warped(FULL, fine, seed=21, reach_km=0.09, wavelength_km=1.6)
    fine = fine + _rubble(FULL, fine)
    fine = _worked(FULL, fine, steps=10, seed=12)
    height = _levelled(FULL, fine - DROWNED_M)
    sea = _sea(FULL, height)
    lake = ~sea & (_crater_distance(FULL) < LAKE_RADIUS_KM * 1.6) & (height <= LAKE_LEVEL_M)
    rounded = np.round(np.where(lake, LAKE_LEVEL_M, np.maximum(height, 1.0)))
    return Terrain(FULL, np.where(sea, 0.0, rounded), sea, lake)


def _ellipse(grid: Grid, east: float, north: float, wide: float, high: float, turn_degrees: float) -> Array:
    """1 at the centre, 0 on the ellipse, negative outside."""
    x, y = grid.kilometres()
    turn = np.radians(turn_degrees)
    along = (x - east) * np.cos(turn) + (y - north) * np.sin(turn)
    aside = (y - north) * np.cos(turn) - (x - east) * np.sin(turn)
    return np.asarray(1 - np.hypot(along / wide, aside / high))


def _outline(grid: Grid) -> Array:
    """Positive on land before the sea rose; a fractal line where it is zero."""
    bodies = (
        _ellipse(grid, -10, 1.5, 18.5, 14.5, 8),
        _ellipse(grid, 12, -0.5, 18.0, 10.5, -14) * 0.9,
        _ellipse(grid, -24, 8.5, 7.5, 3.6, 28) * 0.7,
        _ellipse(grid, 26, -4.5, 5.5, 3.4, -40) * 0.7,
        _ellipse(grid, 18.5, 8.5, 3.0, 7.0, -18) * 0.6,
        _ellipse(grid, -2, -11.5, 3.0, 5.5, 10) * 0.5,
    )
    union = np.log(np.sum([np.exp(6 * body) for body in bodies], axis=0)) / 6
    lines = fractal_noise(grid, 31, 9, 0.8, 1.7)
    return warped(grid, union + 0.085 * lines, seed=33, reach_km=0.8, wavelength_km=7)


def _uplift(grid: Grid) -> Array:
    """How fast each cell rises, relative to the volcano's flanks."""
    x, y = grid.kilometres()
    crater = _crater_distance(grid)
    volcano = np.exp(-((crater / 7.5) ** 2)) * 0.85
    range_line = _bent_ridge(x, y, ((2.5, -4.5), (9.0, -1.0), (15.0, 2.2), (19.0, 8.5)))
    east_range = np.exp(-((range_line / 3.4) ** 2)) * 0.95
    spur = np.exp(-((_bent_ridge(x, y, ((-12.0, 5.0), (-19.0, 7.0), (-27.0, 10.5))) / 2.4) ** 2)) * 0.34
    south = np.exp(-((_bent_ridge(x, y, ((-8.0, -1.0), (-4.0, -7.0), (-2.0, -13.0))) / 2.2) ** 2)) * 0.26
    patchy = 1 + 0.30 * fractal_noise(grid, 41, 8, 1.5, 1.8)
    return np.asarray((0.13 + volcano + east_range + spur + south) * np.clip(patchy, 0.3, 1.8))


def _bent_ridge(x: Array, y: Array, corners: tuple[tuple[float, float], ...]) -> Array:
    """Distance to a line with corners [km]."""
    nearest = np.full(x.shape, np.inf)
    for (x1, y1), (x2, y2) in itertools.pairwise(corners):
        share = ((x - x1) * (x2 - x1) + (y - y1) * (y2 - y1)) / ((x2 - x1) ** 2 + (y2 - y1) ** 2)
        share = np.clip(share, 0, 1)
        nearest = np.minimum(nearest, np.hypot(x - x1 - share * (x2 - x1), y - y1 - share * (y2 - y1)))
    return nearest


def _crater_distance(grid: Grid) -> Array:
    """Distance to the crater's middle, seen through a warp so that no rim is a circle [km]."""
    x, y = grid.kilometres()
    distance = np.hypot((x - CRATER_KM[0]) / 1.08, (y - CRATER_KM[1]) / 0.94)
    return distance + 0.16 * fractal_noise(grid, 51, 3.5, 0.5, 1.8) * np.clip(distance / 2, 0, 1)


def _young_land(grid: Grid) -> Array:
    """The land before rivers: a cone with a sunken middle, on a low plain that tilts to the sea."""
    crater = _crater_distance(grid)
    cone = 770 * np.exp(-np.maximum(crater - CRATER_RADIUS_KM, 0) / 5.0)
    x, y = grid.kilometres()
    lean = np.clip(0.93 + 0.06 * ((y - CRATER_KM[1]) - (x - CRATER_KM[0])) / 3, 0.7, 1.15)
    wall = np.clip((CRATER_RADIUS_KM - crater) / 0.75, 0, 1)
    sunken = wall**0.8 * (cone * lean - LAKE_LEVEL_M - DROWNED_M)
    inland = np.clip(_outline(grid) * 4, 0, 1)
    rough = fractal_noise(grid, 61, 5, 0.3, 1.7)
    return np.asarray(
        np.where(inland > 0, inland**0.5 * (cone * lean - sunken) + 30 * inland + 25 * rough, -5.0)
    )


def _worked(grid: Grid, height: Array, steps: int, seed: int) -> Array:
    sea = _outline(grid) <= 0
    lake = _crater_distance(grid) < LAKE_RADIUS_KM
    height = np.where(sea, 0.0, np.maximum(height, 0.5))
    height = np.where(lake, LAKE_LEVEL_M + DROWNED_M, height)
    hardness = np.exp(0.35 * fractal_noise(grid, 71, 4, 0.4, 1.5))
    climate = Climate(steps, 0.025, 1900.0 / hardness, 200.0 * _uplift(grid), 0.36)
    return eroded(grid, height, sea | lake, climate, seed)


def _rubble(grid: Grid, height: Array) -> Array:
    """Fine unevenness that grows with the slope, as scree and crags do [m]."""
    down, right = np.gradient(height, grid.cell_height_m, grid.cell_width_m)
    steep = np.clip(gaussian_filter(np.hypot(down, right), 2) / 0.35, 0.08, 1.5)
    return np.asarray(5.0 * steep * fractal_noise(grid, 81, 1.2, 0.12, 1.3))


def _levelled(grid: Grid, height: Array) -> Array:
    for flat in (SALT_PANS, AIRFIELD):
        inside = _ellipse(grid, flat.east_km, flat.north_km, flat.radius_east_km, flat.radius_north_km, 12)
        inside = inside + 0.10 * fractal_noise(grid, 91, 3, 0.5, 1.8)
        share = np.clip(inside / 0.35 + 0.5, 0, 1)
        share = share * share * (3 - 2 * share)
        height = np.where(height > -15, height + share * (flat.level_m - height), height)
    return height


def _sea(grid: Grid, height: Array) -> Mask:
    """Water joined to the frame; waves cut exposed shores back to cliffs; crumbs are washed away."""
    water = _joined_to_frame(height <= 0)
    inland_m = distance_transform_edt(~water, sampling=(grid.cell_height_m, grid.cell_width_m))
    bite_m = np.clip(170 + 190 * fractal_noise(grid, 95, 6, 0.5, 1.6) * _exposure(grid), 0, 520)
    sheltered = (
        np.minimum.reduce(
            [
                _ellipse(grid, flat.east_km, flat.north_km, flat.radius_east_km, flat.radius_north_km, 12)
                * -1
                for flat in (SALT_PANS, AIRFIELD)
            ]
        )
        < 0.5
    )
    water = _joined_to_frame(water | ((inland_m <= bite_m * _exposure(grid)) & ~sheltered))
    pieces, _ = label(~water, np.ones((3, 3)))
    sizes = np.bincount(pieces.ravel())
    return np.asarray(water | (sizes[pieces] < 6))


def _exposure(grid: Grid) -> Array:
    """Swell comes from the north-west: 1 on that side of the island, little in the south-east."""
    x, y = grid.kilometres()
    return np.asarray(np.clip(0.55 + (y / 16 - x / 34) * 0.6, 0.1, 1.2))


def _joined_to_frame(water: Mask) -> Mask:
    pieces, _ = label(water)
    edge = np.unique(np.concatenate([pieces[0], pieces[-1], pieces[:, 0], pieces[:, -1]]))
    return np.asarray(np.isin(pieces, edge[edge > 0]))
