"""The raster's geometry: the one place that turns degrees into cells and metres.

Rows run from north to south. A height at (row, column) stands at the *centre* of its cell.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import map_coordinates

Array = NDArray[np.float64]

METRES_PER_DEGREE = 111_195.0  # mean sphere of 6 371 km; ample for drawing an invented island
CENTRE_LATITUDE, CENTRE_LONGITUDE = 44.2, -24.6


@dataclass(frozen=True, slots=True)
class Grid:
    """A north-up grid in WGS 84 degrees; `lat_step`, `lon_step` [degrees per cell] are positive."""

    rows: int
    columns: int
    lat_step: float
    lon_step: float

    @property
    def shape(self) -> tuple[int, int]:
        return self.rows, self.columns

    @property
    def north(self) -> float:
        """Latitude of the northern edge [degree]."""
        return CENTRE_LATITUDE + self.rows / 2 * self.lat_step

    @property
    def west(self) -> float:
        """Longitude of the western edge [degree]."""
        return CENTRE_LONGITUDE - self.columns / 2 * self.lon_step

    @property
    def cell_width_m(self) -> float:
        return self.lon_step * METRES_PER_DEGREE * cos(radians(CENTRE_LATITUDE))

    @property
    def cell_height_m(self) -> float:
        return self.lat_step * METRES_PER_DEGREE

    def halved(self) -> Grid:
        """The same ground in cells twice as wide and high."""
        return Grid(self.rows // 2, self.columns // 2, self.lat_step * 2, self.lon_step * 2)

    def kilometres(self) -> tuple[Array, Array]:
        """East and north of the centre of each cell, seen from the island's centre [km]."""
        east = (np.arange(self.columns) + 0.5 - self.columns / 2) * self.cell_width_m / 1000
        north = (self.rows / 2 - np.arange(self.rows) - 0.5) * self.cell_height_m / 1000
        grid_east, grid_north = np.meshgrid(east, north)
        return grid_east, grid_north

    def cell_of_km(self, east_km: float, north_km: float) -> tuple[int, int]:
        """Row and column of a point given in km from the centre."""
        row = int(self.rows / 2 - north_km * 1000 / self.cell_height_m)
        column = int(east_km * 1000 / self.cell_width_m + self.columns / 2)
        return row, column

    def position(self, row: Array, column: Array) -> tuple[Array, Array]:
        """Latitude and longitude of (fractional) cell centres [degree]."""
        return self.north - (row + 0.5) * self.lat_step, self.west + (column + 0.5) * self.lon_step

    def fraction(self, lat: Array, lon: Array) -> tuple[Array, Array]:
        """Fractional row and column of a position; whole numbers are cell centres."""
        return (self.north - lat) / self.lat_step - 0.5, (lon - self.west) / self.lon_step - 0.5


FULL = Grid(rows=576, columns=1000, lat_step=1 / 1600, lon_step=1 / 1200)


def bilinear(height: Array, row: Array, column: Array) -> Array:
    """Heights between cell centres by bilinear interpolation [m]."""
    sampled: Array = map_coordinates(height, [row, column], order=1, mode="nearest")
    return sampled
