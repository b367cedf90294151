"""The ground under a map: where the raster says land and sea, and none where there is no raster."""

import base64
import io
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
import rasterio
from affine import Affine
from PIL import Image

from lacet.documents.drawing.frame import Frame, frame_around
from lacet.documents.drawing.ground import ground
from lacet.documents.drawing.look import COLOUR
from lacet.tracks.raster_files import readable

BOX = ((44.1, -24.8), (44.3, -24.4))
SIZE_MM = (60.0, 40.0)
WEST, NORTH, STEP, COUNT = -25.0, 44.5, 0.002, 400


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Land of 200 m and more west of 24.6 W, sea east of it."""
    longitude = WEST + (np.arange(COUNT) + 0.5) * STEP
    height = np.where(longitude < -24.6, 300.0 + 30 * np.sin(np.arange(COUNT) / 9), -9999).astype(np.float32)
    with rasterio.open(
        tmp_path / "half.tif",
        "w",
        driver="GTiff",
        width=COUNT,
        height=COUNT,
        count=1,
        dtype="float32",
        crs="EPSG:4326",
        nodata=-9999,
        transform=Affine(STEP, 0.0, WEST, 0.0, -STEP, NORTH),
    ) as dataset:
        dataset.write(np.tile(height, (COUNT, 1)), 1)
    return tmp_path


def picture(frame: Frame, folder: Path) -> Image.Image:
    element = ElementTree.fromstring(ground(frame, readable([folder / "half.tif"]), COLOUR))
    assert element.tag == "image"
    packed = base64.b64decode(element.attrib["href"].removeprefix("data:image/jpeg;base64,"))
    return Image.open(io.BytesIO(packed)).convert("RGB")


def test_land_lies_where_the_raster_has_it_and_the_sea_is_the_seas_colour(folder: Path) -> None:
    frame = frame_around(BOX, SIZE_MM)
    shown = np.asarray(picture(frame, folder), dtype=np.int64)
    coast_x, _ = frame.at_mm(44.2, -24.6)
    sea = np.array([int(COLOUR.sea[at : at + 2], 16) for at in (1, 3, 5)])
    column = round(coast_x / SIZE_MM[0] * shown.shape[1])
    assert np.abs(shown[:, column + 8 :] - sea).max() <= 6
    assert np.abs(shown[:, : column - 8] - sea).sum(axis=2).mean() > 30


def test_a_picture_is_of_moderate_size_and_made_once(folder: Path) -> None:
    frame = frame_around(BOX, SIZE_MM)
    first = ground(frame, readable([folder / "half.tif"]), COLOUR)
    assert len(first) < 60_000
    assert ground(frame, readable([folder / "half.tif"]), COLOUR) == first


def test_without_a_raster_or_out_of_its_reach_the_ground_is_plain(folder: Path) -> None:
    plain = ground(frame_around(BOX, SIZE_MM), (), COLOUR)
    assert ElementTree.fromstring(plain).attrib["fill"] == COLOUR.ground
    elsewhere = frame_around(((10.0, 10.0), (10.1, 10.1)), SIZE_MM)
    assert "image" not in ground(elsewhere, readable([folder / "half.tif"]), COLOUR)


def test_a_raster_that_cannot_be_read_leaves_the_ground_plain(folder: Path) -> None:
    (folder / "broken.tif").write_bytes(b"II*\0 nothing")
    assert readable([folder / "broken.tif", folder / "gone.tif"]) == ()
    found = readable([folder / "half.tif"])
    (folder / "half.tif").unlink()
    assert "image" not in ground(frame_around(BOX, (61.0, 41.0)), found, COLOUR)


def test_the_same_height_has_the_same_colour_on_every_map(folder: Path) -> None:
    """A level plain would else be tinted as summits on a map that shows nothing higher."""
    with rasterio.open(folder / "half.tif", "r+") as dataset:
        height = np.full((COUNT, COUNT), 100.0, dtype=np.float32)
        height[:100] = 900.0
        dataset.write(height, 1)
    plain = frame_around(((43.8, -24.9), (43.9, -24.7)), SIZE_MM)
    both = frame_around(((43.8, -24.9), (44.45, -24.7)), SIZE_MM)
    foot = np.asarray(picture(plain, folder), dtype=np.int64)[100, 150]
    x, y = both.at_mm(43.85, -24.8)
    shown = np.asarray(picture(both, folder), dtype=np.int64)
    assert np.abs(foot - shown[round(y * 5), round(x * 5)]).max() <= 3
    summits = shown[round(both.at_mm(44.42, -24.8)[1] * 5), round(x * 5)]
    assert np.abs(foot - summits).max() > 8
