"""The ground of a map: relief shaded from elevation rasters over the frame, as a picture within the drawing.

A picture is kept in memory as long as its raster, frame and look stay the same, so that a second document of
a trip costs nothing. What has no height is drawn as sea; without a raster the ground is plain.
"""

import base64
import io
from collections.abc import Sequence
from functools import lru_cache
from pathlib import Path

import numpy as np

from lacet.documents.drawing.frame import Frame
from lacet.documents.drawing.look import Look
from lacet.documents.drawing.svg import element
from lacet.tracks.raster import ElevationRaster, RasterRefused
from lacet.tracks.relief import picture_of, top_of
from lacet.tracks.track import Floats

PIXELS_PER_MM = 5.0
# Finer than its cells a raster tells nothing; between them heights are drawn smoothly.
SAMPLES_PER_CELL = 1.1
JPEG_QUALITY = 80
KEPT_PICTURES = 64
SAMPLES_FOR_TOP = 120
LEAST_SHOWN_SHARE = 0.02


def rasters_of(folder: Path, names: Sequence[str]) -> tuple[ElevationRaster, ...]:
    """The rasters of a region that can be read; one that can't leaves the ground plain, as on the screen."""
    found = []
    for name in names:
        try:
            found.append(ElevationRaster.open(folder / name))
        except RasterRefused:
            continue
    return tuple(found)


def ground(frame: Frame, rasters: Sequence[ElevationRaster], look: Look) -> str:
    """Sea and land under a map."""
    stamps = tuple((raster.path, _changed_ns(raster.path)) for raster in rasters)
    picture = _picture(frame, stamps, look) if stamps else ""
    under = element("rect", width=frame.width_mm, height=frame.height_mm, fill=look.ground)
    if not picture:
        return under
    return element(
        "image", width=frame.width_mm, height=frame.height_mm, href=picture, preserveAspectRatio="none"
    )


def _changed_ns(path: Path) -> int:
    try:
        return path.stat().st_mtime_ns
    except OSError:
        return 0


@lru_cache(maxsize=KEPT_PICTURES)
def _picture(frame: Frame, stamps: tuple[tuple[Path, int], ...], look: Look) -> str:
    """A data URI, or '' where no raster knows the ground."""
    from PIL import Image

    columns, rows = round(frame.width_mm * PIXELS_PER_MM), round(frame.height_mm * PIXELS_PER_MM)
    try:
        height_m = _heights_m(frame, _opened(stamps), columns, rows)
        top_m = _top_m(stamps)
    except RasterRefused:
        return ""
    if np.isfinite(height_m).mean() < LEAST_SHOWN_SHARE:
        return ""
    cell_m = np.full(rows, frame.metres_per_mm * frame.width_mm / columns)
    pixels = picture_of(height_m, cell_m, look.tint, top_m)
    share = pixels[..., 3:].astype(np.float32) / 255.0
    sea = np.array([int(look.sea[at : at + 2], 16) for at in (1, 3, 5)], dtype=np.float32)
    flat = (pixels[..., :3] * share + sea * (1 - share)).round().astype(np.uint8)
    packed = io.BytesIO()
    Image.fromarray(flat).save(packed, format="JPEG", quality=JPEG_QUALITY)
    return "data:image/jpeg;base64," + base64.b64encode(packed.getvalue()).decode("ascii")


def _opened(stamps: tuple[tuple[Path, int], ...]) -> tuple[ElevationRaster, ...]:
    return rasters_of(Path(), [str(path) for path, _ in stamps])


@lru_cache(maxsize=KEPT_PICTURES)
def _top_m(stamps: tuple[tuple[Path, int], ...]) -> float:
    """The height of the last tint on all maps of these rasters: the same colour is the same height."""
    known = []
    for raster in _opened(stamps):
        outline = np.array(raster.coverage())
        (south, west), (north, east) = outline.min(axis=0), outline.max(axis=0)
        latitude, longitude = np.meshgrid(
            np.linspace(south, north, SAMPLES_FOR_TOP), np.linspace(west, east, SAMPLES_FOR_TOP)
        )
        height = raster.heights_m(latitude.ravel(), longitude.ravel())
        known.append(height[np.isfinite(height) & (height > 0)])
    return top_of(np.concatenate(known) if known else np.empty(0))


def _heights_m(frame: Frame, rasters: Sequence[ElevationRaster], columns: int, rows: int) -> Floats:
    """Heights at every pixel, asked for no oftener than the raster has cells."""
    pixel_m = frame.metres_per_mm / PIXELS_PER_MM
    finer = max(1.0, _cell_m(frame, rasters) / SAMPLES_PER_CELL / pixel_m)
    across, down = max(4, round(columns / finer)), max(4, round(rows / finer))
    x = (np.arange(across) + 0.5) * frame.width_mm / across
    y = (np.arange(down) + 0.5) * frame.height_mm / down
    latitude, longitude = frame.positions_deg(*np.meshgrid(x, y))
    height = np.full(latitude.size, np.nan)
    for raster in rasters:
        unknown = np.isnan(height)
        height[unknown] = raster.heights_m(latitude.ravel()[unknown], longitude.ravel()[unknown])
    coarse = height.reshape(latitude.shape)
    return coarse if finer == 1.0 else _finer(coarse, columns, rows)


def _finer(coarse: Floats, columns: int, rows: int) -> Floats:
    """Heights between samples by cubic pieces: straight ones would show as facets in the shading."""
    from PIL import Image

    def resized(values: Floats) -> Floats:
        picture = Image.fromarray(values.astype(np.float32))
        return np.asarray(picture.resize((columns, rows), Image.Resampling.BICUBIC), dtype=np.float64)

    land = np.isfinite(coarse) & (coarse > 0)
    # Whole metres make steps where cells are seen large.
    height = np.maximum(resized(_softened(np.where(land, coarse, 0.0))), 0.1)
    height[resized(land.astype(np.float64)) < 0.5] = np.nan
    return height


def _softened(values: Floats) -> Floats:
    """Each sample with its neighbours by 1, 2, 1, twice over, both ways."""
    for _ in range(2):
        for axis in (0, 1):
            wide = np.pad(values, [(1, 1) if axis == each else (0, 0) for each in (0, 1)], mode="edge")
            size = values.shape[axis]
            before, here, after = (np.take(wide, range(shift, shift + size), axis) for shift in (0, 1, 2))
            values = (before + 2 * here + after) / 4
    return values


def _cell_m(frame: Frame, rasters: Sequence[ElevationRaster]) -> float:
    """About the finest cell of the rasters [m]."""
    cells = []
    for raster in rasters:
        latitude, longitude = np.array(raster.coverage()).T
        x, y = frame.to_mm(latitude, longitude)
        cells += [float(np.ptp(x)) / raster.columns, float(np.ptp(y)) / raster.rows]
    return min(cells, default=0.0) * frame.metres_per_mm
