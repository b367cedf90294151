"""Heights from small rasters of our own, whose every height can be worked out by hand."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import rasterio
from affine import Affine
from pyproj import Transformer
from rasterio.errors import NotGeoreferencedWarning

from lacet.tracks.geodesy import length_m
from lacet.tracks.profile import profile
from lacet.tracks.raster import ElevationRaster, RasterRefused, fill
from lacet.tracks.track import Track, track

CELL_DEG = 0.001
# Rows run south from 44.3 N, columns east from 24.7 W.
NORTH_WEST = Affine(CELL_DEG, 0, -24.7, 0, -CELL_DEG, 44.3)
ROWS, COLUMNS = 80, 120


def slope_m(latitude: Any, longitude: Any) -> Any:
    """A plane: bilinear sampling gives it back exactly."""
    return 100 + (latitude - 44.2) * 4_000 + (longitude + 24.6) * 1_000


def cells() -> np.ndarray[Any, Any]:
    row, column = np.mgrid[0:ROWS, 0:COLUMNS]
    return np.asarray(slope_m(44.3 - (row + 0.5) * CELL_DEG, -24.7 + (column + 0.5) * CELL_DEG))


def written(path: Path, data: np.ndarray[Any, Any], **profile_values: Any) -> Path:
    values = {
        "driver": "GTiff",
        "height": data.shape[0],
        "width": data.shape[1],
        "count": 1,
        "dtype": data.dtype,
        "crs": "EPSG:4326",
        "transform": NORTH_WEST,
    } | profile_values
    tags = values.pop("tags", {})
    with rasterio.open(path, "w", **values) as dataset:
        dataset.update_tags(**tags)
        dataset.write(data, 1)
    return path


@pytest.fixture
def plane(tmp_path: Path) -> ElevationRaster:
    return ElevationRaster.open(written(tmp_path / "plane.tif", cells().astype(np.float32)))


PLACES = (np.array((44.25, 44.2603, 44.2871)), np.array((-24.65, -24.6012, -24.5913)))


def test_heights_are_bilinear_between_cell_centres(plane: ElevationRaster) -> None:
    assert plane.heights_m(*PLACES) == pytest.approx(slope_m(*PLACES), abs=1e-3)


def test_outside_is_unknown_and_the_rim_belongs_to_the_outermost_cell(plane: ElevationRaster) -> None:
    heights = plane.heights_m([44.31, 44.2, 44.25, 44.2999], [-24.65, -24.65, -24.5, -24.6999])
    assert np.isnan(heights[:3]).all()
    assert heights[3] == pytest.approx(cells()[0, 0], abs=1e-3)
    assert np.isnan(plane.heights_m([0.0], [0.0])).all()


def test_a_projected_raster_is_asked_in_its_own_system(tmp_path: Path) -> None:
    to_utm = Transformer.from_crs("EPSG:4326", "EPSG:32626", always_xy=True)
    east, north = to_utm.transform(-24.65, 44.25)
    data = np.arange(100, dtype=np.float32).reshape(10, 10)
    path = written(
        tmp_path / "utm.tif", data, crs="EPSG:32626", transform=Affine(90, 0, east - 450, 0, -90, north + 450)
    )
    # The middle of the raster lies between the four cells 44, 45, 54 and 55.
    assert ElevationRaster.open(path).heights_m([44.25], [-24.65])[0] == pytest.approx(49.5, abs=1e-3)


def test_values_at_points_stand_on_the_point(tmp_path: Path) -> None:
    # The same transform, as GDAL gives it back, for a raster whose values stand at points.
    path = written(tmp_path / "point.tif", cells().astype(np.float32), tags={"AREA_OR_POINT": "Point"})
    assert ElevationRaster.open(path).heights_m(*PLACES) == pytest.approx(slope_m(*PLACES), abs=1e-3)


def test_rows_that_run_north_and_swapped_axes_are_followed(tmp_path: Path) -> None:
    upside_down = Affine(CELL_DEG, 0, -24.7, 0, CELL_DEG, 44.3 - ROWS * CELL_DEG)
    swapped = Affine(0, CELL_DEG, -24.7, -CELL_DEG, 0, 44.3)
    data = cells().astype(np.float32)
    for name, turned, transform in (("up", data[::-1], upside_down), ("swapped", data.T, swapped)):
        path = written(tmp_path / f"{name}.tif", np.ascontiguousarray(turned), transform=transform)
        assert ElevationRaster.open(path).heights_m(*PLACES) == pytest.approx(slope_m(*PLACES), abs=1e-3)


def test_longitudes_up_to_360_are_found(tmp_path: Path) -> None:
    path = written(
        tmp_path / "pacific.tif",
        cells().astype(np.float32),
        transform=Affine(CELL_DEG, 0, 335.3, 0, -CELL_DEG, 44.3),
    )
    assert ElevationRaster.open(path).heights_m(*PLACES) == pytest.approx(slope_m(*PLACES), abs=1e-3)


@pytest.mark.parametrize(
    ("kind", "void", "declared"),
    [
        ("uint16", 65535, 65535),
        ("int16", -32768, -32768),
        ("int16", -32767, -32767),
        ("int16", -32768, None),
        ("float32", -9999, None),
        ("float32", np.nan, None),
        ("float32", 3.4e38, None),
    ],
)
def test_cells_without_data_take_no_part(
    tmp_path: Path, kind: str, void: float, declared: float | None
) -> None:
    data = np.full((ROWS, COLUMNS), 700, dtype=kind)
    data[40:43, 50:53] = void
    raster = ElevationRaster.open(written(tmp_path / "void.tif", data, nodata=declared))
    middle = (44.3 - 41.5 * CELL_DEG, -24.7 + 51.5 * CELL_DEG)
    # A fifth of the way into the void the known cells still speak; in its middle nothing does.
    beside = (44.3 - 39.7 * CELL_DEG, middle[1])
    heights = raster.heights_m([middle[0], beside[0]], [middle[1], beside[1]])
    assert np.isnan(heights[0])
    assert heights[1] == 700


def test_scale_offset_and_feet_are_applied(tmp_path: Path) -> None:
    path = written(tmp_path / "feet.tif", np.full((ROWS, COLUMNS), 100, dtype=np.int16))
    with rasterio.open(path, "r+") as dataset:
        dataset.scales, dataset.offsets, dataset.units = (10.0,), (20.0,), ("ft",)
    height = ElevationRaster.open(path).heights_m([44.25], [-24.65])[0]
    assert height == pytest.approx((100 * 10 + 20) * 0.3048)


def test_an_ascii_grid_without_a_system_is_taken_as_degrees(tmp_path: Path) -> None:
    path = tmp_path / "grid.asc"
    path.write_text(
        "ncols 3\nnrows 2\nxllcorner -24.7\nyllcorner 44.2\ncellsize 0.1\nNODATA_value -9999\n"
        "10 20 30\n40 50 -9999\n"
    )
    raster = ElevationRaster.open(path)
    assert raster.heights_m([44.3, 44.25], [-24.6, -24.65]).tolist() == pytest.approx([30.0, 40.0])


def test_an_ascii_grid_in_metres_without_a_system_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "grid.asc"
    path.write_text("ncols 2\nnrows 1\nxllcorner 600000\nyllcorner 200000\ncellsize 25\n10 20\n")
    with pytest.raises(RasterRefused, match=r"grid\.asc: .*reference system"):
        ElevationRaster.open(path)


def test_what_is_no_raster_is_refused_in_a_sentence(tmp_path: Path) -> None:
    text = tmp_path / "notes.tif"
    text.write_text("not a raster")
    with pytest.raises(RasterRefused, match=r"notes\.tif: this is not a GeoTIFF"):
        ElevationRaster.open(text)
    with pytest.raises(RasterRefused, match="no such file"):
        ElevationRaster.open(tmp_path / "nowhere.tif")
    unplaced = tmp_path / "picture.tif"
    with pytest.warns(NotGeoreferencedWarning):
        written(unplaced, np.zeros((4, 4), np.float32), crs=None, transform=Affine.identity())
    with pytest.raises(RasterRefused, match="where on earth"):
        ElevationRaster.open(unplaced)


def test_a_description_that_leads_to_another_file_is_not_followed(tmp_path: Path) -> None:
    other = written(tmp_path / "other.tif", cells().astype(np.float32))
    leading = tmp_path / "leading.vrt"
    leading.write_text(
        f'<VRTDataset rasterXSize="120" rasterYSize="80"><VRTRasterBand dataType="Float32" band="1">'
        f"<SimpleSource><SourceFilename>{other}</SourceFilename></SimpleSource></VRTRasterBand></VRTDataset>"
    )
    with pytest.raises(RasterRefused):
        ElevationRaster.open(leading)


def test_a_raster_cut_off_is_refused_when_it_is_read(tmp_path: Path) -> None:
    path = written(tmp_path / "cut.tif", np.random.default_rng(0).random((400, 400)).astype(np.float32))
    raster = ElevationRaster.open(path)
    path.write_bytes(path.read_bytes()[:200_000])
    with pytest.raises(RasterRefused, match=r"cut\.tif"):
        raster.heights_m([44.3 - 0.39], [-24.7 + 0.39])


def test_the_outline_runs_round_the_raster(plane: ElevationRaster) -> None:
    outline = plane.coverage()
    assert outline[0] == outline[-1]
    latitudes, longitudes = zip(*outline, strict=True)
    assert (min(latitudes), max(latitudes)) == pytest.approx((44.22, 44.3))
    assert (min(longitudes), max(longitudes)) == pytest.approx((-24.7, -24.58))


def test_places_far_apart_are_asked_for_in_parts(
    plane: ElevationRaster, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("lacet.tracks.raster.MOST_CELLS_AT_ONCE", 20)
    latitude = np.linspace(44.23, 44.29, 50)
    longitude = np.linspace(-24.69, -24.59, 50)
    assert plane.heights_m(latitude, longitude) == pytest.approx(slope_m(latitude, longitude), abs=1e-3)


def ridge(tmp_path: Path) -> ElevationRaster:
    """A ridge of 200 m between two points of a line that lie at its feet."""
    _, column = np.mgrid[0:ROWS, 0:COLUMNS]
    data = 100 + 200 * np.sin(np.pi * (column + 0.5) / COLUMNS) ** 2
    return ElevationRaster.open(written(tmp_path / "ridge.tif", data.astype(np.float32)))


def across() -> Track:
    return track([44.26, 44.26], [-24.7 + CELL_DEG, -24.58 - CELL_DEG])


def test_the_raster_is_asked_along_the_line_and_not_only_at_its_points(tmp_path: Path) -> None:
    filled = fill(across(), ridge(tmp_path))
    assert np.max(np.diff(filled.longitude_deg)) * 79_700 < 25.1
    assert length_m(filled) == pytest.approx(length_m(across()), rel=1e-6)
    assert profile(filled).ascent_m == pytest.approx(200, abs=2)
    coarse = fill(across(), ridge(tmp_path), every_m=1e9)
    assert len(coarse) == 2
    assert profile(coarse).ascent_m == pytest.approx(0, abs=2)


def test_recorded_heights_stay_and_the_raster_is_shifted_to_meet_them(plane: ElevationRaster) -> None:
    latitude = np.linspace(44.23, 44.29, 7)
    longitude = np.full(7, -24.65)
    recorded = slope_m(latitude, longitude) + 12.0
    recorded[2:5] = np.nan
    filled = fill(track(latitude, longitude, recorded), plane)
    # Steps of 1.1 km along the plane: the recorded ones are left as they are, the unknown ones are divided.
    assert 7 < len(filled) < 7 + 4 * 45
    assert filled.height_m == pytest.approx(slope_m(filled.latitude_deg, filled.longitude_deg) + 12, abs=0.01)


def test_a_whole_track_is_returned_as_it_is(plane: ElevationRaster) -> None:
    line = track([44.25, 44.26], [-24.65, -24.65], [1.0, 2.0])
    assert fill(line, plane) is line


def test_where_the_raster_ends_heights_stay_unknown(plane: ElevationRaster) -> None:
    filled = fill(track([44.25, 44.4], [-24.65, -24.65]), plane)
    inside = filled.latitude_deg < 44.3
    assert not np.isnan(filled.height_m[inside]).any()
    assert np.isnan(filled.height_m[filled.latitude_deg > 44.3]).all()
    assert profile(filled).ascent_m is None


def test_filling_keeps_gaps(plane: ElevationRaster) -> None:
    line = track([44.25, 44.251, 44.27, 44.271], [-24.65] * 4, segment_start=(0, 2))
    filled = fill(line, plane)
    assert len(filled.segment_start) == 2
    assert length_m(filled) == pytest.approx(length_m(line), rel=1e-9)


def test_a_pipe_beside_a_raster_is_refused_without_waiting_for_its_writer(tmp_path: Path) -> None:
    path = tmp_path / "hills.asc"
    path.write_text("ncols 2\nnrows 2\nxllcorner -24\nyllcorner 44\ncellsize 0.1\n1 2\n3 4\n")
    assert ElevationRaster.open(path).columns == 2
    os.mkfifo(tmp_path / "hills.prj")
    with pytest.raises(RasterRefused, match=r"hills\.prj beside it: this is a pipe or a device"):
        ElevationRaster.open(path)
