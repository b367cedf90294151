"""Lengths and places on the WGS 84 ellipsoid, for whole columns of points at once.

Most goes through earth-centred coordinates: they know neither date line nor pole, so no case is special.
Heights take no part; a length is the one a map shows.

References
----------
NGA.STND.0036 (2014), World Geodetic System 1984: defining parameters.
C. F. F. Karney (2013), Algorithms for geodesics, J. Geodesy 87:43-55 (by way of pyproj).
"""

from __future__ import annotations

import math
from functools import cache
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lacet.tracks.track import Floats, Track

if TYPE_CHECKING:
    from pyproj import Geod

SEMI_MAJOR_M = 6_378_137.0
FLATTENING = 1 / 298.257223563
ECCENTRICITY_SQUARED = FLATTENING * (2 - FLATTENING)
SEMI_MINOR_M = SEMI_MAJOR_M * (1 - FLATTENING)
# Any radius does to turn a short chord into its arc: the whole correction is 0.03 ppm at 5 km.
MEAN_RADIUS_M = (2 * SEMI_MAJOR_M + SEMI_MINOR_M) / 3
LONGEST_CHORD_STEP_M = 5_000.0
# Between two places 2 cm in 100 km don't matter.
LONGEST_CHORD_M = 100_000.0
# The plane is three times as fast; at these limits it is off by 0.01 ppm.
LONGEST_PLANE_STEP_M = 1_000.0
PLANE_LATITUDE_DEG = 70.0


@cache
def ellipsoid() -> Geod:
    """Return pyproj's geodesic solver for WGS 84; importing pyproj is slow, hence late."""
    from pyproj import Geod

    return Geod(ellps="WGS84")


def earth_centred_m(latitude_deg: ArrayLike, longitude_deg: ArrayLike) -> Floats:
    """Return earth-centred, earth-fixed coordinates [m] of points on the ellipsoid, shape (3, n)."""
    latitude = np.radians(np.asarray(latitude_deg, dtype=np.float64))
    longitude = np.radians(np.asarray(longitude_deg, dtype=np.float64))
    sine, cosine = np.sin(latitude), np.cos(latitude)
    normal = SEMI_MAJOR_M / np.sqrt(1 - ECCENTRICITY_SQUARED * sine * sine)
    across = normal * cosine
    return np.array(
        (across * np.cos(longitude), across * np.sin(longitude), normal * (1 - ECCENTRICITY_SQUARED) * sine)
    )


def positions_deg(centred_m: Floats) -> tuple[Floats, Floats]:
    """Return latitude and longitude [degrees] of earth-centred points on or just under the ellipsoid.

    On the surface tan(latitude) = z / ((1 - e2) p); the ratio doesn't change along the line to the earth's
    centre, so a point of a chord comes out at the place above it.
    """
    x, y, z = centred_m
    latitude = np.degrees(np.arctan2(z, (1 - ECCENTRICITY_SQUARED) * np.hypot(x, y)))
    return latitude, np.degrees(np.arctan2(y, x))


def step_lengths_m(track: Track) -> Floats:
    """Return the length of each step [m], one fewer than points; the step over a gap counts 0.

    Within 1 ppm of the geodesic, in practice 0.05 ppm: up to 1 km (and below 70 degrees of latitude) in the
    plane that touches the ellipsoid, up to 5 km by the chord turned into its arc, beyond by the geodesic.
    """
    length = _all_steps_m(track)
    length[track.is_gap] = 0.0
    return length


def gap_lengths_m(track: Track) -> Floats:
    """Return how far each segment begins from the end of the one before it [m]."""
    return _all_steps_m(track)[track.segment_start[1:] - 1]


def cumulative_m(track: Track) -> Floats:
    """Return the distance from the start to each point [m]; a gap adds nothing to it."""
    return np.concatenate(((0.0,), np.cumsum(step_lengths_m(track))))


def length_m(track: Track) -> float:
    """Return the length of the track [m], gaps not counted."""
    return float(cumulative_m(track)[-1])


def distance_m(from_deg: tuple[float, float], to_deg: tuple[float, float]) -> float:
    """Return the geodesic [m] between two places given as (latitude, longitude).

    Up to 100 km it is the arc over their chord, within 0.2 ppm and without the solver.
    """
    chord_m = math.dist(_centred_m(*from_deg), _centred_m(*to_deg))
    if chord_m <= LONGEST_CHORD_M:
        return chord_m * (1 + (chord_m / MEAN_RADIUS_M) ** 2 / 24)
    length: float = ellipsoid().inv(from_deg[1], from_deg[0], to_deg[1], to_deg[0])[2]
    return length


def _centred_m(latitude_deg: float, longitude_deg: float) -> tuple[float, float, float]:
    """`earth_centred_m` of a single place, which needs no arrays."""
    latitude, longitude = math.radians(latitude_deg), math.radians(longitude_deg)
    normal = SEMI_MAJOR_M / math.sqrt(1 - ECCENTRICITY_SQUARED * math.sin(latitude) ** 2)
    across = normal * math.cos(latitude)
    height = normal * (1 - ECCENTRICITY_SQUARED) * math.sin(latitude)
    return across * math.cos(longitude), across * math.sin(longitude), height


def plane_m(latitude_deg: ArrayLike, longitude_deg: ArrayLike, centre_deg: tuple[float, float]) -> Floats:
    """Return east and north [m] of points in the plane that touches the ellipsoid at a centre, shape (2, n).

    Good for lines of a day: 50 km from the centre a length is 30 ppm short.
    """
    origin = earth_centred_m(*centre_deg)
    latitude, longitude = np.radians(centre_deg)
    east = np.array((-np.sin(longitude), np.cos(longitude), 0.0))
    north = np.array(
        (-np.sin(latitude) * np.cos(longitude), -np.sin(latitude) * np.sin(longitude), np.cos(latitude))
    )
    offset = earth_centred_m(latitude_deg, longitude_deg) - origin.reshape(3, 1)
    return np.array((east @ offset, north @ offset))


def _all_steps_m(track: Track) -> Floats:
    """Return the length of each step, those over gaps too; the same to the last bit in both directions."""
    latitude, longitude = track.latitude_deg, track.longitude_deg
    length = _plane_steps_m(latitude, longitude)
    # Written so that what is NaN or wrapped round the earth goes the careful way too.
    careful = ~(length <= LONGEST_PLANE_STEP_M)
    if abs(latitude.max()) > PLANE_LATITUDE_DEG or abs(latitude.min()) > PLANE_LATITUDE_DEG:
        careful |= np.abs(latitude[1:]) > PLANE_LATITUDE_DEG
        careful |= np.abs(latitude[:-1]) > PLANE_LATITUDE_DEG
    step = np.flatnonzero(careful)
    if len(step):
        length[step] = _careful_steps_m(latitude, longitude, step)
    return length


def _plane_steps_m(latitude_deg: Floats, longitude_deg: Floats) -> Floats:
    """Return steps in the plane that touches the ellipsoid in their middle, by its two radii of curvature.

    M = a (1 - e2) / w^3, N = a / w, w2 = 1 - e2 sin2(latitude).
    """
    latitude = np.radians(latitude_deg)
    cosine = np.cos((latitude[1:] + latitude[:-1]) / 2)
    flat = 1 - ECCENTRICITY_SQUARED * (1 - cosine * cosine)
    north = np.diff(latitude) * ((1 - ECCENTRICITY_SQUARED) / flat)
    east = np.radians(np.diff(longitude_deg)) * cosine
    return np.asarray(SEMI_MAJOR_M * np.sqrt((north * north + east * east) / flat))


def _careful_steps_m(latitude: Floats, longitude: Floats, step: NDArray[np.intp]) -> Floats:
    here = earth_centred_m(latitude[step], longitude[step])
    offset = earth_centred_m(latitude[step + 1], longitude[step + 1]) - here
    chord = np.sqrt(np.einsum("ij,ij->j", offset, offset))
    length: Floats = chord * (1 + chord * chord / (24 * MEAN_RADIUS_M**2))
    long_step = length > LONGEST_CHORD_STEP_M
    if np.any(long_step):
        length[long_step] = _geodesics_m(latitude, longitude, step[long_step])
    return length


def _geodesics_m(latitude: Floats, longitude: Floats, step: NDArray[np.intp]) -> Floats:
    # Always from the southern, then the western end: the solver isn't the same to the last bit both ways.
    south, north = latitude[step], latitude[step + 1]
    turned = (south > north) | ((south == north) & (longitude[step] > longitude[step + 1]))
    first, second = np.where(turned, step + 1, step), np.where(turned, step, step + 1)
    _, _, length = ellipsoid().inv(longitude[first], latitude[first], longitude[second], latitude[second])
    return np.asarray(length, dtype=np.float64)
