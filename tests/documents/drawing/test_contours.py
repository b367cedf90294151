"""Contour lines, held against a cone whose circles anybody can reckon."""

import re
from pathlib import Path

import numpy as np
import pytest
import rasterio
from affine import Affine

from lacet.documents.drawing.contours import Contours, contours
from lacet.documents.drawing.frame import Frame, frame_around
from lacet.documents.drawing.look import BLACK
from lacet.tracks.raster_files import readable

SIZE_MM = (120.0, 80.0)
STEP, COUNT = 0.0005, 400
MIDDLE = (44.2, -24.6)
METRES_PER_DEGREE = 111_130.0
TOP_M, FALL_M_PER_KM = 520.0, 100.0


def write(folder: Path, height_m: np.ndarray[tuple[int, ...], np.dtype[np.float64]]) -> None:
    with rasterio.open(
        folder / "cone.tif", "w", driver="GTiff", width=COUNT, height=COUNT, count=1, dtype="float32",
        crs="EPSG:4326", nodata=-9999,
        transform=Affine(STEP, 0.0, MIDDLE[1] - STEP * COUNT / 2, 0.0, -STEP, MIDDLE[0] + STEP * COUNT / 2),
    ) as dataset:  # fmt: skip
        dataset.write(height_m.astype(np.float32), 1)


@pytest.fixture
def cone(tmp_path: Path) -> Path:
    """520 m high in the middle, falling 100 m a kilometre all round."""
    away = (np.arange(COUNT) + 0.5 - COUNT / 2) * STEP * METRES_PER_DEGREE
    far_m = np.hypot(away[None, :] * np.cos(np.radians(MIDDLE[0])), away[:, None])
    write(tmp_path, TOP_M - far_m / 1000 * FALL_M_PER_KM)
    return tmp_path


def shown() -> Frame:
    return frame_around([(MIDDLE[0] - 0.03, MIDDLE[1]), (MIDDLE[0] + 0.03, MIDDLE[1])], SIZE_MM)


def drawn(folder: Path, *, imperial: bool = False) -> Contours | None:
    return contours(shown(), readable([folder / "cone.tif"]), BLACK, imperial=imperial)


def circles_km(found: Contours, frame: Frame) -> list[float]:
    """Mean distances of closed lines from the middle of the map."""
    x0, y0 = frame.at_mm(*MIDDLE)
    radii = []
    for data in re.findall(r"M[^MZ\"]+", found.drawn):
        at = np.array([float(each) for each in re.findall(r"-?[\d.]+", data)]).reshape(-1, 2)
        away = np.hypot(at[:, 0] - x0, at[:, 1] - y0) * frame.metres_per_mm / 1000
        if np.ptp(away) < 0.1 * away.mean():
            radii.append(float(away.mean()))
    return sorted(radii)


def test_lines_run_where_their_height_is(cone: Path) -> None:
    found = drawn(cone)
    assert found is not None
    assert found.interval_m == 50.0
    # 500 m lies 0.2 km from the top, 450 m 0.7 km, and so on, as far as circles are whole.
    whole_km = SIZE_MM[1] / 2 * shown().metres_per_mm / 1000
    radii = [radius for radius in circles_km(found, shown()) if radius < whole_km]
    assert radii == pytest.approx(np.arange(0.2, whole_km, 0.5), abs=0.03)
    assert len(radii) >= 8


def test_every_fifth_line_is_bolder(cone: Path) -> None:
    found = drawn(cone)
    assert found is not None
    thin, bold = re.findall(r'd="([^"]*)"[^>]*stroke-width="([\d.]+)"', found.drawn)
    assert float(bold[1]) > float(thin[1])
    assert 0 < bold[0].count("M") < thin[0].count("M")


def test_imperial_lines_lie_round_feet_apart(cone: Path) -> None:
    found = drawn(cone, imperial=True)
    assert found is not None
    assert found.interval_m == pytest.approx(100 * 0.3048)


def test_level_ground_the_sea_and_unknown_ground_have_no_lines(tmp_path: Path) -> None:
    for height in (12.0, -3.0, -9999.0):
        write(tmp_path, np.full((COUNT, COUNT), height))
        rasters = readable([tmp_path / "cone.tif"])
        # Another size each time: what is kept of a picture is told apart by when its file changed.
        frame = frame_around([(44.18, -24.6), (44.22, -24.6)], (100.0 + abs(height), 80.0))
        assert contours(frame, rasters, BLACK, imperial=False) is None
    assert contours(shown(), (), BLACK, imperial=False) is None
