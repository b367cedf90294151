"""Where people settled: each place of `places.toml` gets the likeliest spot near where it is looked for."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from scipy.ndimage import distance_transform_edt, gaussian_filter, maximum_filter, minimum_filter

from grid import Array
from terrain import Terrain

SEARCH_KM = 0.9


@dataclass(frozen=True, slots=True)
class Place:
    id: str
    name: str
    kind: str
    row: int
    column: int
    serves: tuple[str, ...]
    note: str


def read_places(path: Path, terrain: Terrain) -> tuple[Place, ...]:
    """The places of the file, each on a land cell."""
    rows = tomllib.loads(path.read_text(encoding="utf-8"))["place"]
    scores = site_scores(terrain)
    places = []
    for row in rows:
        cell = best_cell(terrain, scores[row["site"]], (row["near"][0], row["near"][1]))
        places.append(Place(row["id"], row["name"], row["kind"], *cell, tuple(row["serves"]), row["note"]))
    return tuple(places)


def best_cell(terrain: Terrain, score: Array, near_km: tuple[float, float]) -> tuple[int, int]:
    """The land cell with the best score within reach, distance counting slightly against it."""
    east, north = terrain.grid.kilometres()
    away_km = np.hypot(east - near_km[0], north - near_km[1])
    allowed = ~terrain.sea & ~terrain.lake & (away_km < SEARCH_KM)
    worth = np.where(allowed, score - 0.15 * away_km, -np.inf)
    row, column = np.unravel_index(int(np.argmax(worth)), terrain.grid.shape)
    return int(row), int(column)


def site_scores(terrain: Terrain) -> dict[str, Array]:
    """How well each cell suits each kind of site; only the order of values means anything."""
    return {site: _score(terrain, site) for site in ("flat", "shore", "top", "pass", "lakeside")}


def _score(terrain: Terrain, site: str) -> Array:
    gentle = np.asarray(-8 * gaussian_filter(steepness(terrain), 2))
    if site == "shore":
        return np.asarray(gentle - 0.012 * np.abs(shore_distance_m(terrain) - 110))
    if site == "top":
        return terrain.height / 20
    if site == "pass":
        return np.asarray(-terrain.height / 40 - 30 * steepness(terrain) - 3 * _hollowness(terrain))
    if site == "lakeside":
        grid = terrain.grid
        lake_m = distance_transform_edt(~terrain.lake, sampling=(grid.cell_height_m, grid.cell_width_m))
        return np.asarray(gentle - 0.01 * np.abs(lake_m - 130))
    return np.asarray(gentle - 0.02 * np.maximum(0, 250 - shore_distance_m(terrain)))


def steepness(terrain: Terrain) -> Array:
    """Slope of the ground, rise over run."""
    land = np.where(terrain.sea, 0.0, terrain.height)
    down, right = np.gradient(land, terrain.grid.cell_height_m, terrain.grid.cell_width_m)
    return np.asarray(np.hypot(down, right))


def shore_distance_m(terrain: Terrain) -> Array:
    """Distance of each land cell from the sea [m]."""
    grid = terrain.grid
    return np.asarray(distance_transform_edt(~terrain.sea, sampling=(grid.cell_height_m, grid.cell_width_m)))


def ridgeness(terrain: Terrain) -> Array:
    """Height above the mean of the ground within about a kilometre [m]; positive on ridges."""
    return np.asarray(terrain.height - gaussian_filter(terrain.height, 7))


def _hollowness(terrain: Terrain) -> Array:
    """How far a cell is from lying between higher and lower ground alike; a pass is near 0."""
    above = maximum_filter(terrain.height, 21) - terrain.height
    below = terrain.height - minimum_filter(terrain.height, 21)
    return np.asarray(np.abs(above - below) / 60)
