"""The maker's rules on small ground, where a reader can see the answer."""

from __future__ import annotations

import numpy as np
import pytest

pytest.importorskip("scipy", reason="the maker's tools are only in the developers' environment")

from erosion import accumulated, drainage
from grid import Grid, bilinear
from lines import STEEPEST_RATIO, Line, graded
from noise import fractal_noise

SMALL = Grid(rows=24, columns=32, lat_step=1 / 1600, lon_step=1 / 1200)


def test_noise_is_the_same_on_each_run_and_has_unit_spread() -> None:
    first, second = (fractal_noise(SMALL, 7, 1.0, 0.2) for _ in range(2))
    assert np.array_equal(first, second)
    assert first.mean() == pytest.approx(0, abs=1e-9)
    assert first.std() == pytest.approx(1)
    assert not np.array_equal(first, fractal_noise(SMALL, 8, 1.0, 0.2))


def test_positions_and_cells_are_inverse() -> None:
    row, column = np.array([0.0, 5.5, 23.0]), np.array([0.0, 17.25, 31.0])
    back = SMALL.fraction(*SMALL.position(row, column))
    assert np.allclose(back, (row, column))


def test_bilinear_on_a_plane_is_the_plane() -> None:
    rows, columns = np.indices(SMALL.shape, dtype=float)
    plane = 3 * rows + 2 * columns
    assert bilinear(plane, np.array([4.25]), np.array([7.5]))[0] == pytest.approx(3 * 4.25 + 2 * 7.5)


def test_all_water_of_an_island_reaches_the_sea() -> None:
    height = 100 + 30 * fractal_noise(SMALL, 3, 1.0, 0.2)
    sea = np.ones(SMALL.shape, dtype=bool)
    sea[3:-3, 3:-3] = False
    filled, receiver, _ = drainage(SMALL, np.where(sea, 0.0, height), sea, np.ones((8, *SMALL.shape)))
    order = np.argsort(filled, axis=None, kind="stable")
    area_km2 = accumulated(SMALL, order, receiver)
    cell_km2 = SMALL.cell_width_m * SMALL.cell_height_m / 1e6
    outflow = area_km2[sea].sum() - sea.sum() * cell_km2
    assert outflow == pytest.approx((~sea).sum() * cell_km2)


@pytest.mark.parametrize("kind", list(STEEPEST_RATIO))
def test_a_graded_line_keeps_its_ends_and_its_limit(kind: str) -> None:
    along = np.arange(0.0, 2001.0, 20.0)
    rough = 60 * np.sin(along / 150) + 40 * np.sin(along / 37)
    line = Line(along * 0, along * 0, rough, along)
    height = graded(line, kind, 10.0, 60.0)
    assert height[0] == pytest.approx(10)
    assert height[-1] == pytest.approx(60)
    assert np.abs(np.diff(height) / 20).max() <= STEEPEST_RATIO[kind] + 1e-9
