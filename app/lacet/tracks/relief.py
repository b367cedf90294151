"""The ground of maps: relief shaded from an elevation raster, as a picture in Mercator's projection.

A picture is made once for a raster and a theme and kept in the user's cache. What has no height or lies at
or below 0 m is left clear, so the sea takes the page's colour (so does land below sea level).
"""

import hashlib
import os
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from pathlib import Path

import numpy as np
import orjson
from numpy.typing import NDArray

from lacet.files import may_be_read
from lacet.tracks.raster import ElevationRaster, RasterRefused
from lacet.tracks.track import Floats

# Changes with anything that changes the picture.
EDITION = 1
LONGEST_SIDE_PX = 2048
# Twice the raster's own cells: smooth slopes and coasts without showing more than there is.
PIXELS_PER_CELL = 2
ROWS_AT_ONCE = 128
LIGHT_AZIMUTH_DEG = 315.0
LIGHT_ALTITUDE_DEG = 45.0
EXAGGERATION = 2.0
EARTH_RADIUS_M = 6_378_137.0

Pixels = NDArray[np.uint8]


@dataclass(frozen=True, slots=True)
class Tint:
    """Colours from the shore to the summits, how strong the shading is, and the line of the coast."""

    name: str
    steps: tuple[tuple[int, int, int], ...]
    shade_share: float
    coast: tuple[int, int, int]


TINTS = {
    "light": Tint(
        name="light",
        steps=((226, 232, 211), (236, 234, 211), (238, 229, 205), (229, 217, 198), (246, 241, 232)),
        shade_share=0.55,
        coast=(137, 160, 165),
    ),
    "dark": Tint(
        name="dark",
        steps=((49, 64, 58), (58, 69, 59), (70, 73, 63), (83, 81, 71), (104, 99, 90)),
        shade_share=0.6,
        coast=(96, 124, 131),
    ),
}


@dataclass(frozen=True, slots=True)
class Relief:
    """A picture of the ground and its edges [degrees]."""

    picture: str
    south: float
    west: float
    north: float
    east: float


def relief(path: Path, tint: Tint, cache: Path) -> Relief:
    """The picture of a raster, from the cache where it is there already.

    Raises
    ------
    RasterRefused
        When the file is no raster, is damaged or missing.
    """
    if not may_be_read(path):
        raise RasterRefused(path, "there is no such file beside the project; put it there again.")
    kept = cache / f"relief-{_stamp(path, tint)}.json"
    try:
        return Relief(**orjson.loads(kept.read_bytes()))
    except (OSError, ValueError, TypeError):
        return _make(path, tint, kept)


def _stamp(path: Path, tint: Tint) -> str:
    facts = path.stat()
    text = f"{EDITION} {path.name} {facts.st_size} {facts.st_mtime_ns} {tint}"
    return hashlib.sha256(text.encode()).hexdigest()[:16]


def _make(path: Path, tint: Tint, kept: Path) -> Relief:
    raster = ElevationRaster.open(path)
    latitude, longitude = grid(raster)
    height_m = _heights_m(raster, latitude, longitude)
    metres = EARTH_RADIUS_M * np.cos(np.radians(latitude)) * np.radians(longitude[1] - longitude[0])
    kept.parent.mkdir(parents=True, exist_ok=True)
    picture = kept.with_suffix(".png")
    _save(picture_of(height_m, metres, tint), picture)
    half_x, half_y = (longitude[1] - longitude[0]) / 2, (latitude[0] - latitude[1]) / 2
    made = Relief(
        picture=picture.name,
        south=float(latitude[-1] - half_y),
        west=float(longitude[0] - half_x),
        north=float(latitude[0] + half_y),
        east=float(longitude[-1] + half_x),
    )
    kept.write_bytes(orjson.dumps(asdict(made)))
    return made


def grid(raster: ElevationRaster) -> tuple[Floats, Floats]:
    """Latitudes (north first) and longitudes of the picture's rows and columns.

    Rows are even in Mercator's northing, as the map is; columns in longitude.
    """
    outline = np.array(raster.coverage())
    (south, west), (north, east) = outline.min(axis=0), outline.max(axis=0)
    bottom, top = mercator(south), mercator(north)
    wide, high = float(np.radians(east - west)), float(top - bottom)
    longest = min(LONGEST_SIDE_PX, PIXELS_PER_CELL * max(raster.columns, raster.rows))
    step = max(wide, high) / longest
    rows, columns = max(2, round(high / step)), max(2, round(wide / step))
    northing = top - (np.arange(rows) + 0.5) * (top - bottom) / rows
    longitude = west + (np.arange(columns) + 0.5) * (east - west) / columns
    return np.degrees(2 * np.arctan(np.exp(northing)) - np.pi / 2), longitude


def mercator(latitude_deg: float | Floats) -> Floats:
    """Northing on a sphere of radius 1 (EPSG guidance note 7-2, method 1024)."""
    northing: Floats = np.log(np.tan(np.pi / 4 + np.radians(np.asarray(latitude_deg, np.float64)) / 2))
    return northing


def hillshade(height_m: Floats, cell_m: Floats, azimuth_deg: float, altitude_deg: float) -> Floats:
    """Return how much light falls on the ground, 0..1, by Lambert's cosine; row 0 is the north.

    `cell_m` is the width of a cell of each row [m].

    References
    ----------
    B. K. P. Horn (1981), Hill shading and the reflectance map, Proc. IEEE 69(1):14-47, equation for an ideal
    diffuse surface (slopes by central differences).
    """
    down, east = np.gradient(height_m)
    east_slope, north_slope = east / cell_m[:, None], -down / cell_m[:, None]
    azimuth, altitude = np.radians(azimuth_deg), np.radians(altitude_deg)
    towards = east_slope * np.sin(azimuth) + north_slope * np.cos(azimuth)
    upright = np.sqrt(1 + east_slope**2 + north_slope**2)
    lit: Floats = np.clip((np.sin(altitude) - np.cos(altitude) * towards) / upright, 0.0, 1.0)
    return lit


def picture_of(height_m: Floats, cell_m: Floats, tint: Tint, top_m: float | None = None) -> Pixels:
    """Return the picture as rows of red, green, blue and alpha, 0..255.

    `top_m` is the height of the last tint [m], so that pictures of one region share their colours; None = the
    height that all but a two-hundredth of the ground here lies below.
    """
    land = np.isfinite(height_m) & (height_m > 0)
    level = _smooth(np.where(land, height_m, 0.0))
    lit = hillshade(level * EXAGGERATION, cell_m, LIGHT_AZIMUTH_DEG, LIGHT_ALTITUDE_DEG)
    # Level ground keeps its tint; light and dark go up and down from there.
    factor = 1 + tint.shade_share * (lit - np.sin(np.radians(LIGHT_ALTITUDE_DEG)))
    top = top_m or top_of(level[land])
    at = np.linspace(0.0, top, len(tint.steps))
    steps = np.array(tint.steps, dtype=np.float64)
    colour = np.stack([np.interp(level, at, steps[:, band]) for band in range(3)], axis=-1)
    colour = np.clip(colour * factor[..., None], 0, 255)
    cover = _smooth(land.astype(np.float64))
    shore = (1 - np.abs(2 * cover - 1))[..., None]
    colour = colour * (1 - shore) + np.array(tint.coast) * shore
    alpha = np.clip(cover * 1.5, 0, 1) * 255
    return np.concatenate([colour, alpha[..., None]], axis=-1).round().astype(np.uint8)


def top_of(land_m: Floats) -> float:
    """Return the height that all but a two-hundredth of the ground lies below [m]."""
    return float(np.percentile(land_m, 99.5)) if len(land_m) else 1.0


def _heights_m(raster: ElevationRaster, latitude: Floats, longitude: Floats) -> Floats:
    bands = []
    for rows in _bands(len(latitude)):
        north, east = np.meshgrid(latitude[rows], longitude, indexing="ij")
        bands.append(raster.heights_m(north.ravel(), east.ravel()).reshape(north.shape))
    return np.concatenate(bands)


def _bands(rows: int) -> Iterator[slice]:
    for first in range(0, rows, ROWS_AT_ONCE):
        yield slice(first, first + ROWS_AT_ONCE)


def _smooth(values: Floats) -> Floats:
    """Each cell the mean of itself and its neighbours: whole metres make steps, cells make corners."""
    for axis in (0, 1):
        padded = np.pad(values, [(1, 1) if axis == each else (0, 0) for each in (0, 1)], mode="edge")
        size = values.shape[axis]
        parts = [np.take(padded, range(shift, shift + size), axis=axis) for shift in (0, 1, 2)]
        values = (parts[0] + parts[1] + parts[2]) / 3
    return values


def _save(pixels: Pixels, picture: Path) -> None:
    """Write beside, then rename: another window may be reading."""
    from PIL import Image

    draft = picture.with_name(f"{picture.name}.{os.getpid()}")
    Image.fromarray(pixels).save(draft, format="PNG", compress_level=6)
    draft.replace(picture)
