"""Rivers at work: depressions are filled, water runs down, channels cut in by the stream-power law.

References
----------
Barnes, Lehman, Mulla (2014), priority-flood depression filling, Computers & Geosciences 62.
Braun, Willett (2013), implicit O(n) solution of the stream-power equation, Geomorphology 180-181:
dh/dt = U - K A^m S (here m = 0.45, slope exponent 1), valid for rivers that cut into bedrock.
"""

from __future__ import annotations

import heapq
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import gaussian_filter

from grid import Array, Grid

AREA_EXPONENT = 0.45
_TILT_M = 0.01  # the least fall between neighbours on a filled plain, so that water finds its way


@dataclass(frozen=True, slots=True)
class Climate:
    """How a landscape is worked: total time, its steps, how fast rivers cut and slopes creep."""

    steps: int
    step_time: float
    erodibility: Array
    uplift: Array
    creep_cells: float


def eroded(grid: Grid, height: Array, base: NDArray[np.bool_], climate: Climate, seed: int) -> Array:
    """The height after `climate` has worked on it; cells of `base` (sea, lake) keep theirs."""
    jitter = np.random.default_rng(seed).uniform(0.75, 1.25, (8, *grid.shape))
    for _ in range(climate.steps):
        height = np.where(base, height, height + climate.uplift * climate.step_time)
        filled, receiver, distance_m = drainage(grid, height, base, jitter)
        order = np.argsort(filled, axis=None, kind="stable")
        area_km2 = accumulated(grid, order, receiver)
        height = _cut(climate, filled, base, order, receiver, distance_m, area_km2)
        crept = gaussian_filter(height, climate.creep_cells)
        height = np.where(base, height, crept)
    return height


def drainage(
    grid: Grid, height: Array, base: NDArray[np.bool_], jitter: Array
) -> tuple[Array, NDArray[np.int64], Array]:
    """Filled heights, the cell each cell drains to (itself on `base`), and the distance to it [m]."""
    filled = _flooded(grid, height, base)
    best = np.zeros(grid.shape)
    receiver = np.arange(height.size).reshape(grid.shape)
    index = receiver.copy()
    distance_m = np.full(grid.shape, grid.cell_width_m)
    for number, (down, right) in enumerate(_NEIGHBOURS):
        length = float(np.hypot(down * grid.cell_height_m, right * grid.cell_width_m))
        slope = (filled - _shifted(filled, down, right)) / length * jitter[number]
        steeper = (slope > best) & ~base
        best = np.where(steeper, slope, best)
        receiver = np.where(steeper, _shifted(index, down, right), receiver)
        distance_m = np.where(steeper, length, distance_m)
    return filled, receiver.ravel(), distance_m


def accumulated(grid: Grid, order: NDArray[np.int64], receiver: NDArray[np.int64]) -> Array:
    """The ground that drains through each cell, itself included [km2]."""
    cell_km2 = grid.cell_width_m * grid.cell_height_m / 1e6
    area = [cell_km2] * order.size
    target = receiver.tolist()
    for cell in order[::-1].tolist():
        if target[cell] != cell:
            area[target[cell]] += area[cell]
    return np.array(area).reshape(grid.shape)


_NEIGHBOURS = ((-1, -1), (-1, 0), (-1, 1), (0, -1), (0, 1), (1, -1), (1, 0), (1, 1))


def _shifted(field: NDArray[Any], down: int, right: int) -> NDArray[Any]:
    """The neighbour's value at each cell; cells at the frame see themselves."""
    padded = np.pad(field, 1, mode="edge")
    rows, columns = field.shape
    return padded[1 + down : 1 + down + rows, 1 + right : 1 + right + columns]


def _flooded(grid: Grid, height: Array, base: NDArray[np.bool_]) -> Array:
    """Depressions filled to their brim, with a slight tilt toward the outlet (Barnes et al. 2014)."""
    columns = grid.columns
    level = height.ravel().tolist()
    seen = bytearray(base.astype(np.uint8).tobytes())
    frame = np.ones(grid.shape, dtype=bool)
    frame[1:-1, 1:-1] = False
    for cell in np.flatnonzero(frame).tolist():
        seen[cell] = 1
    shore = np.flatnonzero(base & _beside(~base)).tolist()
    heap = [(level[cell], cell) for cell in shore]
    heapq.heapify(heap)
    steps = [down * columns + right for down, right in _NEIGHBOURS]
    while heap:
        here, cell = heapq.heappop(heap)
        for step in steps:
            other = cell + step
            if not seen[other]:
                seen[other] = 1
                if level[other] <= here:
                    level[other] = here + _TILT_M
                heapq.heappush(heap, (level[other], other))
    return np.array(level).reshape(grid.shape)


def _beside(mask: NDArray[np.bool_]) -> NDArray[np.bool_]:
    found = np.zeros_like(mask)
    for down, right in _NEIGHBOURS:
        found |= _shifted(mask, down, right)
    found[[0, -1], :] = False
    found[:, [0, -1]] = False
    return found


def _cut(
    climate: Climate,
    height: Array,
    base: NDArray[np.bool_],
    order: NDArray[np.int64],
    receiver: NDArray[np.int64],
    distance_m: Array,
    area_km2: Array,
) -> Array:
    """One implicit step of the stream-power law, from the mouths upward (Braun & Willett 2013, eq. 24)."""
    strength = climate.erodibility * climate.step_time * area_km2**AREA_EXPONENT / distance_m
    factor = np.where(base, 0.0, strength).ravel().tolist()
    level = height.ravel().tolist()
    target = receiver.tolist()
    for cell in order.tolist():
        below = target[cell]
        if below != cell:
            level[cell] = (level[cell] + factor[cell] * level[below]) / (1 + factor[cell])
    return np.array(level).reshape(height.shape)
