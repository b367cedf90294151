"""Heights from an elevation raster: GeoTIFF or ASCII grid, in any reference system.

A height is bilinear between the centres of four cells. Cells without data take no part, and where they
outweigh the others the height is unknown. GDAL already shifts rasters whose values stand at points ('pixel
is point'), so a cell's centre always lies half a cell from its corner here.

How good is ascent from a raster? Over an alpine pass of 1 130 m, with errors that hang together over 90 m:
within 3 % at the published errors of Copernicus GLO-30 and NASADEM, 8 % high at that specified for SRTM, 38 %
high at that found for ASTER GDEM2 (tests/tracks/test_ascent.py).

References
----------
ESA, Airbus: Copernicus DEM GLO-30, absolute vertical accuracy under 4 m (LE90), a surface with trees and
houses. NASA, NGA: SRTM, 16 m absolute at 90 % (RMSE 9.73 m). Both as read in secondary summaries.
"""

from __future__ import annotations

import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lacet.files import FileRefused, begins, is_there, need_file
from lacet.language import Text, to_say
from lacet.tracks.edit import positions_at
from lacet.tracks.geodesy import cumulative_m
from lacet.tracks.gpx_points import HIGHEST_HEIGHT_M, LOWEST_HEIGHT_M
from lacet.tracks.track import Floats, Track
from lacet.trip.errors import LacetError

if TYPE_CHECKING:
    from affine import Affine
    from pyproj import Transformer
    from rasterio.io import DatasetReader

# What other programs lay beside a raster to say where on earth it is; GDAL reads it along.
COMPANIONS = (".prj", ".tfw", ".aux.xml", ".tif.aux.xml")
_TIFF_MARKS = (b"II*\0", b"MM\0*", b"II+\0", b"MM\0+")
METRES_PER_FOOT = 0.3048
LEAST_KNOWN_WEIGHT = 0.5
MOST_CELLS_AT_ONCE = 16_000_000
SAMPLE_EVERY_M = 25.0
OUTLINE_POINTS_PER_SIDE = 16
_FEET = frozenset({"ft", "foot", "feet", "us survey foot", "us-ft", "ftus"})


class RasterRefused(LacetError):
    """A raster that can't give heights."""

    def __init__(self, path: Path, reason: str | Text) -> None:
        super().__init__("{name}: {reason}", name=path.name, reason=reason)
        self.path = path
        self.reason = reason


@dataclass(frozen=True, slots=True, eq=False)
class ElevationRaster:
    """An elevation raster on disk; nothing is kept open between two questions.

    Use `ElevationRaster.open`.
    """

    path: Path
    reference_wkt: str
    to_cell: Affine
    columns: int
    rows: int

    @classmethod
    def open(cls, path: Path) -> ElevationRaster:
        """Look at a raster and return it.

        Raises
        ------
        RasterRefused
            When the file isn't a GeoTIFF or an ASCII grid, is damaged, or doesn't say where on earth it lies.
        """
        with _dataset(path) as dataset:
            if dataset.transform.is_identity or dataset.transform.determinant == 0:
                raise RasterRefused(path, "the raster doesn't say where on earth it lies.")
            if np.dtype(dataset.dtypes[0]).kind not in "iuf":
                raise RasterRefused(path, "the raster holds no plain numbers.")
            raster = cls(
                path=path,
                reference_wkt=_reference(dataset, path),
                to_cell=~dataset.transform,
                columns=dataset.width,
                rows=dataset.height,
            )
        # Asked now, so that a system nobody knows is refused before anything rests on the raster.
        raster._transformer()
        return raster

    def heights_m(self, latitude_deg: ArrayLike, longitude_deg: ArrayLike) -> Floats:
        """Return the height at each place [m], NaN outside the raster and where it holds no data.

        Raises
        ------
        RasterRefused
            When the file has been damaged or taken away since it was opened.
        """
        column, row = self._cells(np.atleast_1d(latitude_deg), np.atleast_1d(longitude_deg))
        height = np.full(len(column), np.nan)
        with np.errstate(invalid="ignore"):
            inside = (column >= 0) & (column <= self.columns) & (row >= 0) & (row <= self.rows)
        if np.any(inside):
            with _dataset(self.path) as dataset:
                height[inside] = self._sampled(dataset, column[inside] - 0.5, row[inside] - 0.5)
        return height

    def coverage(self) -> tuple[tuple[float, float], ...]:
        """Return the outline of the raster as (latitude, longitude), closed."""
        share = np.linspace(0.0, 1.0, OUTLINE_POINTS_PER_SIDE, endpoint=False)
        zero, one = np.zeros_like(share), np.ones_like(share)
        column = np.concatenate((share, one, 1 - share, zero)) * self.columns
        row = np.concatenate((zero, share, one, 1 - share)) * self.rows
        to = ~self.to_cell
        x, y = to.a * column + to.b * row + to.c, to.d * column + to.e * row + to.f
        longitude, latitude = self._transformer().transform(x, y, direction="INVERSE")
        wrapped = (np.asarray(longitude) + 180.0) % 360.0 - 180.0
        outline = [(float(north), float(east)) for north, east in zip(latitude, wrapped, strict=True)]
        return (*outline, outline[0])

    def _transformer(self) -> Transformer:
        from pyproj import Transformer
        from pyproj.exceptions import ProjError

        try:
            return Transformer.from_crs("EPSG:4326", self.reference_wkt, always_xy=True)
        except ProjError as error:
            raise RasterRefused(self.path, "the raster's reference system is damaged or unknown.") from error

    def _cells(self, latitude_deg: Floats, longitude_deg: Floats) -> tuple[Floats, Floats]:
        """Return the column and row of each place, counted from the outer corner of the first cell."""
        transformer = self._transformer()
        x, y = transformer.transform(longitude_deg, latitude_deg)
        to, east, north = self.to_cell, np.asarray(x, np.float64), np.asarray(y, np.float64)
        column, row = to.a * east + to.b * north + to.c, to.d * east + to.e * north + to.f
        target = transformer.target_crs
        if target is not None and target.is_geographic:
            # Rasters of the Pacific count longitudes up to 360.
            turn = abs(self.to_cell.a) * 360.0
            column = np.where(column < 0, column + turn, column)
            column = np.where(column > self.columns, column - turn, column)
        return column, row

    def _sampled(self, dataset: DatasetReader, column: Floats, row: Floats) -> Floats:
        left, top = int(np.floor(column.min())), int(np.floor(row.min()))
        right, bottom = int(np.floor(column.max())) + 2, int(np.floor(row.max())) + 2
        if (right - left) * (bottom - top) > MOST_CELLS_AT_ONCE and len(column) > 1:
            half = len(column) // 2
            parts = (slice(None, half), slice(half, None))
            return np.concatenate([self._sampled(dataset, column[part], row[part]) for part in parts])
        left, top = max(left, 0), max(top, 0)
        right, bottom = min(right, self.columns), min(bottom, self.rows)
        cells = _cells_m(dataset, self.path, (left, top, right, bottom))
        return _bilinear(cells, column - left, row - top)


def fill(track: Track, raster: ElevationRaster, every_m: float = SAMPLE_EVERY_M) -> Track:
    """Return a track whose unknown heights come from a raster.

    Points are added along unknown stretches so that the raster is asked at least every `every_m` metres:
    the points of a sparse line alone miss what lies between them. Recorded heights stay. Where a stretch
    begins or ends at a recorded height, the raster's heights are shifted to meet it, evenly from one end to
    the other.
    """
    if not np.any(np.isnan(track.height_m)):
        return track
    dense = _densified(track, every_m)
    unknown = np.isnan(dense.height_m)
    sampled = np.full(len(dense), np.nan)
    # One recorded point on either side tells how far the raster is off there.
    asked = unknown | np.roll(unknown, 1) | np.roll(unknown, -1)
    sampled[asked] = raster.heights_m(dense.latitude_deg[asked], dense.longitude_deg[asked])
    height = np.where(unknown, sampled + _shift(dense, sampled, unknown), dense.height_m)
    return Track(dense.latitude_deg, dense.longitude_deg, height, dense.segment_start)


def _densified(track: Track, every_m: float) -> Track:
    along = cumulative_m(track)
    step = np.diff(along)
    open_step = np.isnan(track.height_m[1:]) | np.isnan(track.height_m[:-1])
    pieces = np.where(open_step, np.maximum(np.ceil(step / every_m), 1), 1).astype(np.int64)
    first = np.concatenate(([0], np.cumsum(pieces)))
    source = np.repeat(np.arange(len(step)), pieces)
    share = (np.arange(len(source)) - first[source]) / pieces[source]
    added = share > 0
    at = along[source] + share * step[source]
    columns = [np.empty(len(source) + 1) for _ in range(3)]
    originals = (track.latitude_deg, track.longitude_deg, track.height_m)
    new_places = (*positions_at(track, at[added])[:2], np.full(int(added.sum()), np.nan))
    for column, original, new in zip(columns, originals, new_places, strict=True):
        column[first] = original
        column[:-1][added] = new
    return Track(columns[0], columns[1], columns[2], first[track.segment_start])


def _shift(track: Track, sampled: Floats, unknown: NDArray[np.bool_]) -> Floats:
    """Return what to add to the raster so that it meets recorded heights at the ends of unknown stretches."""
    along = cumulative_m(track)
    firm = np.flatnonzero(~unknown & ~np.isnan(sampled))
    if not len(firm):
        return np.zeros(len(track))
    return np.interp(along, along[firm], track.height_m[firm] - sampled[firm])


@contextmanager
def _dataset(path: Path) -> Iterator[DatasetReader]:
    import rasterio
    from rasterio.errors import NotGeoreferencedWarning, RasterioError

    try:
        need_file(path)
        for ending in COMPANIONS:
            if is_there(companion := path.with_suffix(ending)):
                need_file(companion)
    except FileRefused as refusal:
        beside = "" if refusal.path == path else f"{refusal.path.name} beside it: "
        raise RasterRefused(
            path, to_say("{beside}{reason}.", beside=beside, reason=refusal.reason)
        ) from refusal
    try:
        with warnings.catch_warnings():
            # Told in words of our own, by `open`.
            warnings.simplefilter("ignore", NotGeoreferencedWarning)
            with rasterio.open(path, driver=_driver(path)) as dataset:
                yield dataset
    except RasterioError as error:
        raise RasterRefused(path, "this is not a GeoTIFF or ASCII grid, or it is damaged.") from error


def _driver(path: Path) -> str:
    # GDAL isn't left to guess: some of its formats lead on to other files or to addresses.
    return "GTiff" if begins(path, 4) in _TIFF_MARKS else "AAIGrid"


def _reference(dataset: DatasetReader, path: Path) -> str:
    """Return the reference system; a grid without one is taken as WGS 84 degrees if its bounds are such."""
    if dataset.crs:
        return str(dataset.crs.to_wkt())
    bounds = dataset.bounds
    if -180 <= bounds.left < bounds.right <= 360 and -90 <= bounds.bottom < bounds.top <= 90:
        return "EPSG:4326"
    reason = "the raster names no reference system; add one (for an ASCII grid, a .prj file)."
    raise RasterRefused(path, reason)


def _cells_m(dataset: DatasetReader, path: Path, window: tuple[int, int, int, int]) -> Floats:
    from rasterio.errors import RasterioError
    from rasterio.windows import Window

    left, top, right, bottom = window
    try:
        read = dataset.read(1, window=Window(left, top, right - left, bottom - top), masked=True)
    except RasterioError as error:
        raise RasterRefused(path, "the raster is damaged; a part of it can't be read.") from error
    cells = read.astype(np.float64).filled(np.nan) * dataset.scales[0] + dataset.offsets[0]
    if (dataset.units[0] or "").lower() in _FEET:
        cells *= METRES_PER_FOOT
    # Voids that the file doesn't declare.
    cells[(cells < LOWEST_HEIGHT_M) | (cells > HIGHEST_HEIGHT_M)] = np.nan
    return np.asarray(cells, dtype=np.float64)


def _bilinear(cells: Floats, column: Floats, row: Floats) -> Floats:
    """Return heights between cell centres; at the rim the outermost centres go on."""
    rows, columns = cells.shape
    left, top = np.floor(column).astype(np.int64), np.floor(row).astype(np.int64)
    across, down = column - left, row - top
    total = np.zeros(len(column))
    weights = np.zeros(len(column))
    for right in (0, 1):
        for below in (0, 1):
            value = cells[np.clip(top + below, 0, rows - 1), np.clip(left + right, 0, columns - 1)]
            weight = np.where(right, across, 1 - across) * np.where(below, down, 1 - down)
            weight = np.where(np.isnan(value), 0.0, weight)
            total += weight * np.nan_to_num(value)
            weights += weight
    enough = weights >= LEAST_KNOWN_WEIGHT
    return np.where(enough, total / np.where(enough, weights, 1.0), np.nan)
