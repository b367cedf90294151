"""A map as one picture that knows where on earth it lies (GeoTIFF), handed out in squares of the web's grid.

References
----------
OGC Two Dimensional Tile Matrix Set 2.0 (17-083r4), WebMercatorQuad: squares of 256 pixels, one at zoom 0.
"""

from __future__ import annotations

from io import BytesIO
from math import ceil, hypot, log2, pi
from pathlib import Path
from typing import Any

import numpy as np

from lacet.files import FileRefused, need_file
from lacet.trip.errors import LacetError

SIDE_PX = 256
HALF_WORLD_M = pi * 6_378_137.0
MOST_ZOOM = 19


class PictureRefused(LacetError):
    """A file that can't be shown as a map."""


class PictureTiles:
    """Squares cut from a GeoTIFF in any reference system.

    Raises
    ------
    PictureRefused
        When the file is missing, damaged, no picture, or doesn't say where it lies.
    """

    def __init__(self, path: Path) -> None:
        import rasterio
        from pyproj.exceptions import ProjError
        from rasterio.errors import RasterioError

        self.path = path
        try:
            need_file(path)
        except FileRefused as refusal:
            raise PictureRefused("{name}: {reason}.", name=path.name, reason=refusal.reason) from None
        try:
            with rasterio.open(path, driver="GTiff") as picture:
                if picture.crs is None or picture.transform.is_identity:
                    raise PictureRefused(
                        "{name}: the picture doesn't say where on earth it lies.", name=path.name
                    )
                if picture.dtypes[0] != "uint8":
                    raise PictureRefused(
                        "{name}: this holds figures, not colours; it is no base map.", name=path.name
                    )
                self.most_zoom = _zoom_for(picture)
        # A damaged reference system shows itself as late as one asks for positions in it.
        except (RasterioError, ProjError, OSError, ValueError, OverflowError):
            raise PictureRefused("{name}: this is no GeoTIFF that can be read.", name=path.name) from None
        self.name, self.attribution = path.stem, ""

    def tile(self, zoom: int, column: int, row: int) -> bytes | None:
        """A square counted from the north-west as PNG, or None where the picture doesn't reach."""
        import rasterio
        from rasterio.enums import Resampling
        from rasterio.errors import RasterioError
        from rasterio.vrt import WarpedVRT

        try:
            with rasterio.open(self.path, driver="GTiff") as picture:
                nearest = _is_palette(picture)
                with WarpedVRT(
                    picture,
                    crs="EPSG:3857",
                    transform=_grid(*edges_m(zoom, column, row)),
                    width=SIDE_PX,
                    height=SIDE_PX,
                    add_alpha=picture.count not in (2, 4),
                    resampling=Resampling.nearest if nearest else Resampling.bilinear,
                ) as square:
                    cells = square.read()
                pixels = _coloured(cells, picture.colormap(1) if nearest else None)
        except (RasterioError, OSError, ValueError):
            return None
        return _png(pixels) if pixels[..., 3].any() else None

    def close(self) -> None:
        """Nothing is kept open between two squares."""


def edges_m(zoom: int, column: int, row: int) -> tuple[float, float, float, float]:
    """West, south, east and north of a square [m], in Mercator's projection (EPSG:3857)."""
    side = 2 * HALF_WORLD_M / 2**zoom
    west, north = column * side - HALF_WORLD_M, HALF_WORLD_M - row * side
    return west, north - side, west + side, north


def _grid(west: float, south: float, east: float, north: float) -> Any:
    from rasterio import Affine

    return Affine((east - west) / SIDE_PX, 0.0, west, 0.0, (south - north) / SIDE_PX, north)


def _zoom_for(picture: Any) -> int:
    """The first zoom whose pixels are no larger than the picture's own."""
    from pyproj import Transformer

    to, column, row = picture.transform, picture.width / 2, picture.height / 2
    x = [to.a * each + to.b * row + to.c for each in (column, column + 1)]
    y = [to.d * each + to.e * row + to.f for each in (column, column + 1)]
    east, north = Transformer.from_crs(picture.crs.to_wkt(), "EPSG:3857", always_xy=True).transform(x, y)
    pixel_m = hypot(east[1] - east[0], north[1] - north[0])
    zoom = ceil(log2(2 * HALF_WORLD_M / SIDE_PX / pixel_m)) if 0 < pixel_m < HALF_WORLD_M else 0
    return min(max(zoom, 0), MOST_ZOOM)


def _is_palette(picture: Any) -> bool:
    return bool(picture.colorinterp[0].name == "palette")


def _coloured(cells: Any, palette: dict[int, tuple[int, ...]] | None) -> Any:
    """Rows of red, green, blue and alpha from one band (grey or palette) to three, and alpha."""
    colours, alpha = cells[:-1], cells[-1]
    if palette is not None:
        table = np.zeros((256, 4), dtype=np.uint8)
        for value, colour in palette.items():
            table[value] = colour
        pixels = table[colours[0]]
        pixels[..., 3] = np.minimum(pixels[..., 3], alpha)
        return pixels
    bands = [colours[min(band, len(colours) - 1)] for band in range(3)]
    return np.stack((*bands, alpha), axis=-1)


def _png(pixels: Any) -> bytes:
    from PIL import Image

    buffer = BytesIO()
    Image.fromarray(pixels).save(buffer, format="PNG", compress_level=1)
    return buffer.getvalue()
