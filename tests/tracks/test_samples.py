"""A folder of real and awkward files, read as its index says.

Set LACET_SAMPLES to a folder with `gpx/index.csv` and `dem/expected_samples.csv`; without it there is nothing
to collect here. The index names for each file what is expected (accept, warn, reject), the numbers of points,
the geodesic length of its tracks and their lowest and highest elevation.
"""

from __future__ import annotations

import csv
import os
from pathlib import Path

import numpy as np
import pytest

from lacet.tracks.geodesy import length_m
from lacet.tracks.gpx_document import GpxLine
from lacet.tracks.gpx_points import HIGHEST_HEIGHT_M, LOWEST_HEIGHT_M
from lacet.tracks.gpx_read import GpxFile, read_gpx
from lacet.tracks.problem import GpxRefused
from lacet.tracks.raster import ElevationRaster

FOLDER = os.environ.get("LACET_SAMPLES")
Row = dict[str, str]

# One line far from where the other files of the collection lie.
REGION_DEG = (46.5, 11.3)
# Of a file without any point the index says once "accept" and once "reject".
EITHER_WAY = "metadata_only.gpx"


def rows(of: str) -> list[Row]:
    if not FOLDER:
        return []
    with (Path(FOLDER) / of).open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


GPX_ROWS = rows("gpx/index.csv")
DEM_ROWS = [row for row in rows("dem/expected_samples.csv") if row["raster"].endswith(".tif")]


def outcome(row: Row) -> tuple[str, GpxFile | None]:
    try:
        file = read_gpx(Path(FOLDER or "") / "gpx" / row["file"], region_deg=REGION_DEG)
    except GpxRefused as refused:
        return ("reject" if Path(row["file"]).name in str(refused) else "refused without its name"), None
    return ("warn" if any(problem.weight == "warn" for problem in file.problems) else "accept"), file


def read_rows() -> list[Row]:
    """Return the rows whose figures can be compared: none dropped, nothing refused, one namespace."""
    return [
        row
        for row in GPX_ROWS
        if row["expect"] == "accept"
        and row["kind"] != "unreadable"
        and not row["kind"].startswith("no points")
    ]


def tracks_of(file: GpxFile) -> list[GpxLine]:
    return [line for line in file.lines if line.kind == "track"]


@pytest.mark.parametrize("row", GPX_ROWS, ids=lambda row: row["file"])
def test_a_file_is_read_warned_of_or_refused_as_the_index_says(row: Row) -> None:
    found, file = outcome(row)
    expected = set(row["expect"].replace("salvage", "warn").split(" or "))
    if "accept" in expected:
        # A remark beside a file that was read is no refusal.
        expected.add("warn")
    if not row["file"].endswith(EITHER_WAY):
        assert found in expected, [problem.says for problem in file.problems] if file else found


@pytest.mark.parametrize("row", read_rows(), ids=lambda row: row["file"])
def test_points_lengths_and_heights_are_those_of_the_index(row: Row) -> None:
    _, file = outcome(row)
    assert file is not None
    tracks = tracks_of(file)
    assert sum(len(line.track) for line in tracks) == int(row["trkpts"])
    assert sum(len(line.track) for line in file.lines if line.kind == "route") == int(row["rtepts"])
    assert len(file.waypoints) == int(row["wpts"])
    for kind, column in (("track", "trk_len2d_m"), ("route", "rte_len2d_m")):
        if row[column]:
            length = sum(length_m(line.track) for line in file.lines if line.kind == kind)
            # The index is rounded to a millimetre.
            assert length == pytest.approx(float(row[column]), rel=1e-6, abs=6e-4)
    _assert_heights(row, file)


def _assert_heights(row: Row, file: GpxFile) -> None:
    heights = [line.track.height_m for line in tracks_of(file) or file.lines]
    if not heights:
        places = [place.height_m for place in file.waypoints if place.height_m is not None]
        heights = [np.array(places, dtype=np.float64)]
    known = np.concatenate(heights)
    known = known[~np.isnan(known)]
    all_zero = row["min_ele"] == row["max_ele"] == "0.0"
    if not row["min_ele"] or (all_zero and not len(known)):
        return
    assert float(row["min_ele"]) >= LOWEST_HEIGHT_M
    assert float(row["max_ele"]) <= HIGHEST_HEIGHT_M
    assert known.min() == pytest.approx(float(row["min_ele"]), abs=6e-4)
    assert known.max() == pytest.approx(float(row["max_ele"]), abs=6e-4)


@pytest.mark.parametrize("row", DEM_ROWS, ids=lambda row: f"{row['raster']} {row['place']}")
def test_raster_heights_are_those_of_the_table(row: Row) -> None:
    raster = ElevationRaster.open(Path(FOLDER or "") / "dem" / row["raster"])
    height = raster.heights_m([float(row["lat"])], [float(row["lon"])])[0]
    if row["bilinear_m"]:
        assert height == pytest.approx(float(row["bilinear_m"]), abs=1e-3)
    else:
        assert np.isnan(height)
