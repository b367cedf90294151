"""Heights over a map's frame, from the rasters of a region."""

from collections.abc import Sequence
from pathlib import Path
from typing import TypeAlias

import numpy as np

from lacet.documents.drawing.frame import Frame
from lacet.tracks.raster import ElevationRaster
from lacet.tracks.raster_files import readable
from lacet.tracks.track import Floats

# Rasters by their files and when those changed last: what is kept of them holds as long.
Stamps: TypeAlias = tuple[tuple[Path, int], ...]

# Finer than its cells a raster tells nothing; between them heights are drawn smoothly.
SAMPLES_PER_CELL = 1.1


def stamps_of(rasters: Sequence[ElevationRaster]) -> Stamps:
    return tuple((raster.path, _changed_ns(raster.path)) for raster in rasters)


def opened(stamps: Stamps) -> tuple[ElevationRaster, ...]:
    return readable(path for path, _ in stamps)


def _changed_ns(path: Path) -> int:
    try:
        return path.stat().st_mtime_ns
    except OSError:
        return 0


def heights_over(frame: Frame, rasters: Sequence[ElevationRaster], columns: int, rows: int) -> Floats:
    """Return heights in rows from the north [m], NaN where unknown.

    They are asked for no oftener than the raster has cells, and lie smoothly between those.

    Raises
    ------
    RasterRefused
        When a raster has been damaged or taken away.
    """
    pixel_m = frame.metres_per_mm * frame.width_mm / columns
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
