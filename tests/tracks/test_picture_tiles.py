"""A map as one picture, handed out in squares."""

from io import BytesIO
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import rasterio
from PIL import Image
from rasterio import Affine

from lacet.tracks.picture_tiles import HALF_WORLD_M, PictureRefused, PictureTiles, edges_m

WEST, SOUTH, EAST, NORTH = -25.0, 44.0, -24.0, 45.0


def grid(west: float, south: float, east: float, north: float, width: int, height: int) -> Affine:
    """Where the cells of a picture lie between its edges."""
    return Affine((east - west) / width, 0.0, west, 0.0, (south - north) / height, north)


def picture(path: Path, cells: Any, crs: str | None = "EPSG:4326", **more: Any) -> Path:
    """A GeoTIFF over one degree: bands, rows, columns."""
    count, height, width = cells.shape
    place = {"crs": crs, "transform": grid(WEST, SOUTH, EAST, NORTH, width, height)} if crs else {}
    with rasterio.open(
        path, "w", driver="GTiff", count=count, height=height, width=width, dtype=cells.dtype, **place
    ) as made:
        made.write(cells)
        if "palette" in more:
            made.write_colormap(1, more["palette"])
    return path


def pixels(data: bytes | None) -> Any:
    assert data is not None
    return np.asarray(Image.open(BytesIO(data)))


def halves(bands: int) -> Any:
    """The northern half 200, the southern 50."""
    cells = np.full((bands, 200, 200), 50, dtype=np.uint8)
    cells[:, :100] = 200
    return cells


def square_of(zoom: int, latitude: float, longitude: float) -> tuple[int, int, int]:
    """The square that holds a place, by the grid's own formula."""
    side = 2**zoom
    column = int((longitude + 180.0) / 360.0 * side)
    north = np.log(np.tan(np.pi / 4 + np.radians(latitude) / 2))
    return zoom, column, int((1 - north / np.pi) / 2 * side)


def test_zoom_nought_is_the_world_and_rows_run_south() -> None:
    assert edges_m(0, 0, 0) == pytest.approx((-HALF_WORLD_M, -HALF_WORLD_M, HALF_WORLD_M, HALF_WORLD_M))
    assert edges_m(1, 0, 0)[3] == pytest.approx(HALF_WORLD_M)
    assert edges_m(1, 0, 1)[1] == pytest.approx(-HALF_WORLD_M)


@pytest.mark.parametrize("bands", [1, 3])
def test_a_square_shows_what_the_picture_shows_there(tmp_path: Path, bands: int) -> None:
    tiles = PictureTiles(picture(tmp_path / "map.tif", halves(bands)))
    for latitude, grey in ((44.75, 200), (44.25, 50)):
        shown = pixels(tiles.tile(*square_of(11, latitude, -24.5)))
        assert shown.shape == (256, 256, 4)
        assert tuple(shown[128, 128]) == (grey, grey, grey, 255)


def test_outside_is_nothing_and_the_rim_is_clear(tmp_path: Path) -> None:
    tiles = PictureTiles(picture(tmp_path / "map.tif", halves(3)))
    assert tiles.tile(*square_of(11, 10.0, 10.0)) is None
    shown = pixels(tiles.tile(*square_of(5, 44.5, -24.5)))
    assert set(np.unique(shown[..., 3])) >= {0, 255}


def test_a_picture_in_metres_lies_where_it_should(tmp_path: Path) -> None:
    """UTM zone 27 north: its central meridian is 21 W, 500 000 m east."""
    path = tmp_path / "utm.tif"
    with rasterio.open(
        path, "w", driver="GTiff", count=3, height=50, width=50, dtype="uint8", crs="EPSG:32627",
        transform=grid(490_000, 4_890_000, 510_000, 4_910_000, 50, 50),
    ) as made:  # fmt: skip
        made.write(np.full((3, 50, 50), 90, dtype=np.uint8))
    shown = pixels(PictureTiles(path).tile(*square_of(12, 44.25, -21.0)))
    assert tuple(shown[128, 128]) == (90, 90, 90, 255)


def test_a_palette_gives_its_colours(tmp_path: Path) -> None:
    cells = np.zeros((1, 100, 100), dtype=np.uint8)
    path = picture(tmp_path / "p.tif", cells, palette={0: (10, 120, 30, 255)})
    assert tuple(pixels(PictureTiles(path).tile(*square_of(11, 44.5, -24.5)))[128, 128]) == (10, 120, 30, 255)


def test_the_last_zoom_is_as_fine_as_the_picture(tmp_path: Path) -> None:
    """0.005 degrees are 556.6 m on the equator; zoom 8 has 611.5 m a pixel there, zoom 9 has 305.7."""
    assert PictureTiles(picture(tmp_path / "m.tif", halves(3))).most_zoom == 9


def test_what_is_no_coloured_map_is_refused_in_a_sentence(tmp_path: Path) -> None:
    heights = picture(tmp_path / "h.tif", halves(1).astype(np.float32))
    with pytest.raises(PictureRefused, match="holds figures, not colours"):
        PictureTiles(heights)
    (tmp_path / "x.tif").write_bytes(b"nothing")
    for name, says in (("x.tif", "this is no GeoTIFF"), ("gone.tif", "there is no such file")):
        with pytest.raises(PictureRefused, match=f"{name}: {says}"):
            PictureTiles(tmp_path / name)


@pytest.mark.filterwarnings("ignore::rasterio.errors.NotGeoreferencedWarning")
def test_a_picture_that_lies_nowhere_is_refused(tmp_path: Path) -> None:
    with pytest.raises(PictureRefused, match="doesn't say where"):
        PictureTiles(picture(tmp_path / "n.tif", halves(3), crs=None))
