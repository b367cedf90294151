"""Elevation rasters brought to a project: looked at, told how far they reach, laid beside it."""

from pathlib import Path

import numpy as np
import pytest

from lacet.intake.elevation import NameTaken, coverage, lay_beside, look
from lacet.intake.material import choose, keep, look_at
from lacet.store import open_project
from lacet.tracks.gpx_document import GpxLine
from lacet.tracks.track import Track
from lacet.trip.library import Stage
from tests.intake.files import BASE, METRES_PER_DEGREE, gpx, library, line


def grid(path: Path, height: float = 120.0, rows: int = 40) -> Path:
    """A grid of one height (about 111 m a cell) from 1 km south of the small library's quay northwards."""
    path.parent.mkdir(parents=True, exist_ok=True)
    body = "\n".join(" ".join([str(height)] * 40) for _ in range(rows))
    path.write_text(f"ncols 40\nnrows {rows}\nxllcorner {BASE[1] - 0.02}\nyllcorner {BASE[0] - 0.01}\n"
                    f"cellsize 0.001\nNODATA_value -9999\n{body}\n")  # fmt: skip
    return path


def test_coverage_tells_stages_inside_in_part_and_outside(tmp_path: Path) -> None:
    (raster,), refusals = look([grid(tmp_path / "a.asc")])
    assert refusals == ()
    (stage,) = coverage(library(), (raster,)).stages
    reached_m = 0.03 * METRES_PER_DEGREE  # the grid ends there, of 6 km
    assert stage.share == pytest.approx(reached_m / 6_000.0, abs=0.03)
    assert "for 1 in part" in coverage(library(), (raster,)).says()
    (more,), _ = look([grid(tmp_path / "b.asc", rows=80)])
    assert coverage(library(), (more,)).says().startswith("It has heights for 1 of 1 stages")


def test_a_raster_brought_with_tracks_fills_their_heights_and_stays_beside(tmp_path: Path) -> None:
    bare = line(200.0, 2_800.0)
    unknown = Track(bare.latitude_deg, bare.longitude_deg, np.full(len(bare), np.nan), bare.segment_start)
    path = gpx(tmp_path / "in", "bare.gpx", GpxLine("Bare", "", "track", unknown))
    raster = grid(tmp_path / "in" / "hills.asc")
    home = tmp_path / "home"
    home.mkdir()
    with open_project(home / "new.lacet", create=True) as project:
        chosen = choose(look_at((path, raster), library()), ())
        with project.unit_of_work() as unit:
            keep(unit, chosen, home)
            unit.commit()
        catalogue = project.catalogue()
        (stage,) = catalogue.current(Stage)
        assert np.allclose(catalogue.tracks[stage.track_id].height_m, 120.0)
        assert catalogue.region.rasters == ("hills.asc",)
        assert (home / "hills.asc").read_bytes() == raster.read_bytes()


def test_another_file_of_that_name_is_never_overwritten(tmp_path: Path) -> None:
    (raster,), _ = look([grid(tmp_path / "in" / "hills.asc")])
    grid(tmp_path / "hills.asc", height=7.0)
    before = (tmp_path / "hills.asc").read_bytes()
    with (
        open_project(tmp_path / "new.lacet", create=True) as project,
        project.unit_of_work() as unit,
        pytest.raises(NameTaken, match="rename yours first"),
    ):
        lay_beside((raster,), tmp_path, unit.settings)
    assert (tmp_path / "hills.asc").read_bytes() == before


def test_bringing_the_same_raster_again_changes_nothing(tmp_path: Path) -> None:
    (raster,), _ = look([grid(tmp_path / "in" / "hills.asc")])
    with open_project(tmp_path / "new.lacet", create=True) as project, project.unit_of_work() as unit:
        for _ in range(2):
            lay_beside((raster,), tmp_path, unit.settings)
        assert unit.settings.region().rasters == ("hills.asc",)


def test_what_is_no_raster_is_told_and_stops_the_command(tmp_path: Path) -> None:
    bad = tmp_path / "bad.tif"
    bad.write_bytes(b"no picture at all")
    material = look_at((bad,), library())
    assert material.rasters == ()
    assert material.refusals[0].startswith("bad.tif: ")
