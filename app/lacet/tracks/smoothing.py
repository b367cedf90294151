"""Averaging heights over distance, in a way that knows only the line and not its points.

Between points the line is straight, so its mean over a window is an exact integral: points added on the line
change nothing. Beyond its ends it goes on as its point reflection, so both ends stay where they are.
"""

from __future__ import annotations

import numpy as np

from lacet.tracks.track import Floats

HEIGHT_GRID_M = 2.0**-20
# One point thrown across the earth by a damaged digit must not cost gigabytes.
MOST_NODES = 200_000


def nodes_m(from_m: float, to_m: float, node_m: float) -> Floats:
    """Return evenly spaced distances from one to another [m], at most `node_m` apart, at least two."""
    count = int(np.ceil((to_m - from_m) / node_m)) + 1
    return np.linspace(from_m, to_m, min(max(2, count), MOST_NODES))


def smoothed(along: Floats, height: Floats, node_m: float, window_m: float) -> tuple[Floats, Floats]:
    """Return nodes and heights of a stretch where every height is known, both ends as they are."""
    nodes = nodes_m(float(along[0]), float(along[-1]), node_m)
    length = nodes[-1] - nodes[0]
    if length <= 0:
        return nodes, _on_grid(np.array((height[0], height[-1])))
    window = min(window_m, length)
    once = _averaged(along, height, nodes, window)
    twice = _averaged(nodes, once, nodes, window)
    return nodes, _on_grid(2 * once - twice)


def _averaged(along: Floats, height: Floats, nodes: Floats, window_m: float) -> Floats:
    """Return the line averaged twice over the window, both ends as they were."""
    ends = height[0], height[-1]
    mean = _window_mean(along, height, nodes, window_m)
    mean[0], mean[-1] = ends
    mean = _window_mean(nodes, mean, nodes, window_m)
    mean[0], mean[-1] = ends
    return mean


def _window_mean(along: Floats, height: Floats, at_m: Floats, window_m: float) -> Floats:
    """Return the mean height over a window around each place, the line continued by point reflection."""
    ends = np.concatenate((at_m + window_m / 2, at_m - window_m / 2))
    area = _area_below(along, height, ends)
    return np.asarray((area[: len(at_m)] - area[len(at_m) :]) / window_m)


def _area_below(along: Floats, height: Floats, at_m: Floats) -> Floats:
    """Return the integral of the line from its start to each place; exact, for the line is made of straights.

    Left of the start the line is 2 h(0) - h(-x), so its integral to -u is area(u) - 2 h(0) u; so at the end.
    """
    first, last = along[0], along[-1]
    before, after = np.maximum(first - at_m, 0.0), np.maximum(at_m - last, 0.0)
    inside = at_m + 2 * (before - after)
    middle = (height[1:] + height[:-1]) / 2
    sums = np.concatenate(((0.0,), np.cumsum(np.diff(along) * middle)))
    index = np.clip(np.searchsorted(along, inside, side="right") - 1, 0, len(along) - 2)
    into, step = inside - along[index], along[index + 1] - along[index]
    slope = (height[index + 1] - height[index]) / np.where(step > 0, step, np.inf)
    area = sums[index] + (height[index] + slope * into / 2) * into
    return np.asarray(area - 2 * height[0] * before + 2 * height[-1] * after)


def _on_grid(height_m: Floats) -> Floats:
    return np.asarray(np.round(height_m / HEIGHT_GRID_M) * HEIGHT_GRID_M)
