"""Where positions lie on a map: in the plane that touches the ellipsoid in the middle of what is shown.

Neither stretched nor turned: a millimetre is as long in both directions, and north is up in the middle.

References
----------
J. P. Snyder (1987), Map projections: a working manual, USGS Professional Paper 1395, chapter 20 (orthographic
projection; cited from memory). 30 km from the middle a length towards it is 11 ppm short.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from lacet.tracks.geodesy import MEAN_RADIUS_M, earth_centred_m, plane_m, positions_deg
from lacet.tracks.track import Floats

# A map of a village street needs no more than this.
LEAST_WIDTH_M = 1_500.0


@dataclass(frozen=True, slots=True)
class Frame:
    """A window on the ground. x runs to the right, y down [mm]."""

    centre_deg: tuple[float, float]
    metres_per_mm: float
    width_mm: float
    height_mm: float

    def to_mm(self, latitude_deg: Floats, longitude_deg: Floats) -> tuple[Floats, Floats]:
        """Where positions are drawn; many lie outside the frame."""
        east, north = plane_m(latitude_deg, longitude_deg, self.centre_deg)
        return self.width_mm / 2 + east / self.metres_per_mm, self.height_mm / 2 - north / self.metres_per_mm

    def at_mm(self, latitude_deg: float, longitude_deg: float) -> tuple[float, float]:
        """Where one position is drawn."""
        x, y = self.to_mm(np.array([latitude_deg]), np.array([longitude_deg]))
        return float(x[0]), float(y[0])

    def positions_deg(self, x_mm: Floats, y_mm: Floats) -> tuple[Floats, Floats]:
        """Which latitudes and longitudes are drawn there [degrees]."""
        latitude, longitude = np.radians(self.centre_deg)
        up = np.array(
            (np.cos(latitude) * np.cos(longitude), np.cos(latitude) * np.sin(longitude), np.sin(latitude))
        )
        to_east = np.array((-np.sin(longitude), np.cos(longitude), 0.0))
        to_north = np.cross(up, to_east)
        east = (np.asarray(x_mm) - self.width_mm / 2) * self.metres_per_mm
        north = (self.height_mm / 2 - np.asarray(y_mm)) * self.metres_per_mm
        # The ground falls away from the plane.
        under = MEAN_RADIUS_M - np.sqrt(np.maximum(MEAN_RADIUS_M**2 - east**2 - north**2, 0.0))
        origin = earth_centred_m(*self.centre_deg).reshape(3, 1)
        flat = np.stack((east.ravel(), north.ravel(), -under.ravel()))
        centred = origin + np.column_stack((to_east, to_north, up)) @ flat
        north_deg, east_deg = positions_deg(centred)
        return north_deg.reshape(east.shape), east_deg.reshape(east.shape)

    def holds(self, x_mm: float, y_mm: float) -> bool:
        return 0 <= x_mm <= self.width_mm and 0 <= y_mm <= self.height_mm


def frame_around(
    positions: Sequence[tuple[float, float]] | Floats,
    size_mm: tuple[float, float],
    margin_mm: float = 9.0,
    least_m: float = LEAST_WIDTH_M,
) -> Frame:
    """The frame in which all positions (latitude, longitude) lie with a margin around them."""
    width_mm, height_mm = size_mm
    latitude, longitude = np.asarray(positions, dtype=np.float64).reshape(-1, 2).T
    middle = earth_centred_m(latitude, longitude).mean(axis=1, keepdims=True)
    # Twice: the middle of the outline lies elsewhere than the mean of the points.
    for _ in range(2):
        north, east = positions_deg(middle)
        centre = (float(north.ravel()[0]), float(east.ravel()[0]))
        offset_east, offset_north = plane_m(latitude, longitude, centre)
        rough = Frame(centre, 1.0, 0.0, 0.0)
        x = np.array([(offset_east.min() + offset_east.max()) / 2])
        y = np.array([-(offset_north.min() + offset_north.max()) / 2])
        moved = rough.positions_deg(x, y)
        middle = earth_centred_m(*moved)
    scale = max(
        float(np.ptp(offset_east)) / max(width_mm - 2 * margin_mm, 1.0),
        float(np.ptp(offset_north)) / max(height_mm - 2 * margin_mm, 1.0),
        least_m / width_mm,
    )
    return Frame((float(moved[0][0]), float(moved[1][0])), scale, width_mm, height_mm)
