"""The way a builder would take: least-cost search over the cells, with a most gradient for each kind of way.

A step goes to one of sixteen neighbours (the king's and the knight's moves), so that lines are not bound to
eight directions. Ground already opened by an earlier way is cheaper, which makes a network of single lines.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_matrix
from scipy.sparse.csgraph import dijkstra

from noise import fractal_noise
from places import ridgeness, shore_distance_m, steepness
from terrain import Terrain

Cell = tuple[int, int]
Ints = NDArray[np.int64]

MOVES = ((0, 1), (1, 0), (1, 1), (1, -1), (1, 2), (2, 1), (1, -2), (2, -1))


@dataclass(frozen=True, slots=True)
class Craft:
    """How a way is built: steepest gradient, how it shuns climbs and steep hillsides, what reuse saves."""

    cap_ratio: float
    climb_shunned: float
    hillside_shunned: float
    reuse: float


CRAFTS = {
    "road": Craft(0.085, 18.0, 4.0, 0.40),
    "lane": Craft(0.105, 14.0, 3.0, 0.45),
    "track": Craft(0.135, 9.0, 1.5, 0.55),
    "path": Craft(0.33, 4.0, 0.25, 0.62),
}


class Builder:
    """Finds ways one after another and remembers the ground they opened."""

    def __init__(self, terrain: Terrain) -> None:
        grid = terrain.grid
        self._terrain = terrain
        self._index = np.arange(grid.rows * grid.columns).reshape(grid.shape)
        steps = [self._moves(down, right) for down, right in MOVES]
        self._start, self._end, self._length_m, self._slope = (
            np.concatenate([step[part] for step in steps]) for part in range(4)
        )
        whim = np.exp(0.22 * fractal_noise(grid, 101, 1.5, 0.2, 1.3))
        self._ground = {
            "": whim,
            "coast": whim * np.where(shore_distance_m(terrain) < 330, 0.42, 1.0),
            "ridge": whim * np.clip(1.0 - ridgeness(terrain) / 70, 0.4, 1.8),
        }
        beach = np.where(shore_distance_m(terrain) < 75, 2.5, 1.0)
        self._shore_fee = beach
        self._hillside = steepness(terrain)
        self._opened: dict[str, set[int]] = {kind: set() for kind in CRAFTS}

    def _moves(self, down: int, right: int) -> tuple[Ints, Ints, NDArray[np.float64], NDArray[np.float64]]:
        """All steps of one kind on dry land: start, end, length [m] and gradient (rise over run)."""
        grid, height = self._terrain.grid, self._terrain.height
        dry = ~self._terrain.sea & ~self._terrain.lake
        here, there = _pairs(down, right, grid.shape)
        allowed = dry[here] & dry[there]
        halves = {(down // 2, right // 2), (-(-down // 2), -(-right // 2))}
        for half_down, half_right in halves:
            allowed &= dry[_moved(here, half_down, half_right)]
        length = float(np.hypot(down * grid.cell_height_m, right * grid.cell_width_m))
        slope = np.abs(height[there] - height[here]) / length
        if max(abs(down), abs(right)) == 2:  # a knight's move must not leap a crag or a gully
            between = np.mean([height[_moved(here, *half)] for half in halves], axis=0)
            rise = np.maximum(np.abs(between - height[here]), np.abs(height[there] - between))
            slope = np.maximum(slope, rise / (length / 2))
        start, end = self._index[here][allowed], self._index[there][allowed]
        return start, end, np.full(start.size, length), slope[allowed]

    def build(self, kind: str, follow: str, start: Cell, end: Cell) -> list[Cell]:
        """Cells of the cheapest way from start to end, both included.

        Raises
        ------
        ValueError
            if no way keeps under the kind's gradient
        """
        craft = CRAFTS[kind]
        inside = self._window(start, end)
        columns = self._terrain.grid.columns
        for cap_ratio in (craft.cap_ratio, craft.cap_ratio * 1.2):
            cost, usable = self._costs(kind, follow, inside, cap_ratio)
            found = self._cheapest(cost, usable, start, end)
            if found:
                break
        else:
            raise ValueError(f"No {kind} can be built from cell {start} to cell {end}; move one of them.")
        self._opened[kind].update(_edge_key(a, b) for a, b in itertools.pairwise(found))
        return [divmod(cell, columns) for cell in found]

    def _window(self, start: Cell, end: Cell) -> NDArray[np.bool_]:
        """Steps inside the box round both ends, with room to go round a hill."""
        margin = 50 + max(abs(start[0] - end[0]), abs(start[1] - end[1])) // 3
        row, column = np.divmod(self._start, self._terrain.grid.columns)
        inside = (row >= min(start[0], end[0]) - margin) & (row <= max(start[0], end[0]) + margin)
        inside &= (column >= min(start[1], end[1]) - margin) & (column <= max(start[1], end[1]) + margin)
        return np.asarray(inside)

    def _costs(
        self, kind: str, follow: str, inside: NDArray[np.bool_], cap_ratio: float
    ) -> tuple[NDArray[np.float64], NDArray[np.bool_]]:
        craft = CRAFTS[kind]
        end = self._end
        ground = self._ground[follow] * self._shore_fee * (1 + craft.hillside_shunned * self._hillside)
        cost = self._length_m * ground.ravel()[end] * (1 + craft.climb_shunned * self._slope)
        for opened, cells in self._opened.items():
            if cells:
                keys = np.fromiter(cells, dtype=np.int64, count=len(cells))
                known = np.isin(self._start * 10_000_000 + self._end, keys)
                cost = np.where(known, cost * _saving(kind, opened, follow), cost)
        return cost, inside & (self._slope <= cap_ratio)

    def _cheapest(
        self, cost: NDArray[np.float64], usable: NDArray[np.bool_], start: Cell, end: Cell
    ) -> list[int]:
        """Cell numbers from start to end; empty if they are not joined."""
        used, compact = np.unique(
            np.concatenate([self._start[usable], self._end[usable]]), return_inverse=True
        )
        count = int(usable.sum())
        graph = csr_matrix((cost[usable], (compact[:count], compact[count:])), shape=(used.size, used.size))
        source, target = (int(self._index[cell]) for cell in (start, end))
        position = np.searchsorted(used, [source, target])
        if (position >= used.size).any() or used[position[0]] != source or used[position[1]] != target:
            return []
        _, before = dijkstra(graph, directed=False, indices=int(position[0]), return_predecessors=True)
        trail = [int(position[1])]
        while trail[-1] != position[0]:
            previous = int(before[trail[-1]])
            if previous < 0:
                return []
            trail.append(previous)
        return [int(used[cell]) for cell in reversed(trail)]


_WALKERS_LIKING = {"road": 1.6, "lane": 1.25, "track": 0.8}


def _saving(kind: str, opened: str, follow: str) -> float:
    """What an opened way saves a new one; a path would rather not run on asphalt."""
    if kind == "path" and opened != "path":
        return 1.0 if follow else _WALKERS_LIKING[opened]
    return CRAFTS[kind].reuse


def _edge_key(first: int, second: int) -> int:
    low, high = min(first, second), max(first, second)
    return low * 10_000_000 + high


def _pairs(down: int, right: int, shape: tuple[int, int]) -> tuple[tuple[slice, slice], tuple[slice, slice]]:
    rows, columns = shape
    left, over = max(0, -right), max(0, right)
    here = (slice(0, rows - down), slice(left, columns - over))
    there = (slice(down, rows), slice(left + right, columns - over + right))
    return here, there


def _moved(area: tuple[slice, slice], down: int, right: int) -> tuple[slice, slice]:
    rows, columns = area
    return slice(rows.start + down, rows.stop + down), slice(columns.start + right, columns.stop + right)
