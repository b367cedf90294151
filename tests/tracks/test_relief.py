"""The shaded ground: the light, the sea, the picture's edges, the cache."""

from pathlib import Path

import numpy as np
import pytest
import rasterio
from affine import Affine
from PIL import Image

from lacet.tracks.raster import ElevationRaster, RasterRefused
from lacet.tracks.relief import TINTS, grid, hillshade, mercator, picture_of, relief

WEST, SOUTH, EAST, NORTH = -24.7, 44.1, -24.5, 44.3
LIGHT = TINTS["light"]


@pytest.fixture
def island(tmp_path: Path) -> Path:
    """A cone of 400 m in the sea, which the raster marks as having no data."""
    y, x = np.mgrid[-1:1:60j, -1:1:60j]
    height = (400 * (0.8 - np.hypot(x, y))).astype(np.int16)
    height[height <= 0] = -32768
    path = tmp_path / "island.tif"
    with rasterio.open(
        path,
        "w",
        driver="GTiff",
        width=60,
        height=60,
        count=1,
        dtype="int16",
        crs="EPSG:4326",
        nodata=-32768,
        transform=Affine((EAST - WEST) / 60, 0.0, WEST, 0.0, (SOUTH - NORTH) / 60, NORTH),
    ) as dataset:
        dataset.write(height, 1)
    return path


def test_level_ground_gets_the_sine_of_the_lights_height() -> None:
    lit = hillshade(np.zeros((4, 4)), np.full(4, 50.0), 315.0, 30.0)
    assert lit == pytest.approx(0.5)


@pytest.mark.parametrize(("azimuth_deg", "expected"), [(90.0, 1.0), (270.0, 0.0), (0.0, 0.5), (180.0, 0.5)])
def test_a_slope_that_faces_the_light_is_the_brightest(azimuth_deg: float, expected: float) -> None:
    """A slope of 45 degrees down to the east under a light at 45 degrees: 1 facing it, 0 turned away."""
    falls_east = np.tile(-10.0 * np.arange(5), (5, 1))
    lit = hillshade(falls_east, np.full(5, 10.0), azimuth_deg, 45.0)
    assert lit == pytest.approx(expected, abs=1e-9)


def test_north_is_the_first_row() -> None:
    falls_north = np.tile(10.0 * np.arange(5)[:, None], (1, 5))
    assert hillshade(falls_north, np.full(5, 10.0), 0.0, 45.0) == pytest.approx(1.0)


def test_northing_is_that_of_the_published_example() -> None:
    """EPSG guidance note 7-2, method 1024: 24 22 54.433 N gives 2 800 000.00 m with radius 6 378 137 m."""
    assert 6_378_137.0 * float(mercator(24.381786944444446)) == pytest.approx(2_800_000.0, abs=0.1)


def test_rows_are_even_in_northing_and_lie_within_the_raster(island: Path) -> None:
    latitude, longitude = grid(ElevationRaster.open(island))
    steps = np.diff(mercator(latitude))
    assert steps == pytest.approx(steps[0])
    assert steps[0] < 0
    assert SOUTH < latitude.min() < latitude.max() < NORTH
    assert WEST < longitude[0] < longitude[-1] < EAST


def test_the_sea_is_clear_and_the_land_is_not(island: Path, tmp_path: Path) -> None:
    made = relief(island, LIGHT, tmp_path / "cache")
    alpha = np.asarray(Image.open(tmp_path / "cache" / made.picture))[..., 3]
    assert alpha[0, 0] == alpha[-1, -1] == 0
    assert alpha[alpha.shape[0] // 2, alpha.shape[1] // 2] == 255


def test_the_picture_covers_the_raster(island: Path, tmp_path: Path) -> None:
    made = relief(island, LIGHT, tmp_path / "cache")
    assert (made.west, made.south) == pytest.approx((WEST, SOUTH), abs=2e-5)
    assert (made.east, made.north) == pytest.approx((EAST, NORTH), abs=2e-5)


def test_the_side_towards_the_light_is_brighter() -> None:
    y, x = np.mgrid[-1:1:41j, -1:1:41j]
    cone = 1_000 * (1.5 - np.hypot(x, y))
    picture = picture_of(cone, np.full(41, 50.0), LIGHT).astype(int)
    assert picture[10, 10, :3].sum() > picture[30, 30, :3].sum() + 60


def test_a_picture_is_made_once_a_theme(island: Path, tmp_path: Path) -> None:
    cache = tmp_path / "cache"
    first = relief(island, LIGHT, cache)
    written = (cache / first.picture).stat().st_mtime_ns
    assert relief(island, LIGHT, cache) == first
    assert (cache / first.picture).stat().st_mtime_ns == written
    assert relief(island, TINTS["dark"], cache).picture != first.picture


def test_a_spoilt_cache_is_made_anew(island: Path, tmp_path: Path) -> None:
    cache = tmp_path / "cache"
    first = relief(island, LIGHT, cache)
    (cache / first.picture).with_suffix(".json").write_text("{")
    assert relief(island, LIGHT, cache) == first


def test_a_missing_raster_is_named_in_a_sentence(tmp_path: Path) -> None:
    with pytest.raises(RasterRefused, match=r"gone\.tif: there is no such file"):
        relief(tmp_path / "gone.tif", LIGHT, tmp_path)
