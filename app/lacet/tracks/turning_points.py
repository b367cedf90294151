"""The rises and falls that count: the turning-point rule."""

from __future__ import annotations

import numpy as np

from lacet.tracks.track import Floats


def rises_and_falls(height_m: Floats, threshold_m: float) -> tuple[float, float]:
    """Sum the rises and the falls of a row of heights, swings below the threshold left out [m].

    The turning-point rule: a summit or a hollow counts once the row has moved away from it by the
    threshold, and then the whole swing up to it counts. After the last such turn counts whatever is left,
    so the difference of the two sums is that of the two ends.
    """
    turning = _turning_heights(height_m)
    kept = _kept_turns(turning.tolist(), threshold_m)
    swings = np.diff(kept)
    return float(swings[swings > 0].sum()), float(-swings[swings < 0].sum())


def _turning_heights(height_m: Floats) -> Floats:
    moved = height_m[np.concatenate(([True], np.diff(height_m) != 0))]
    if len(moved) < 3:
        return moved
    rising = np.diff(moved) > 0
    return moved[np.concatenate(([True], rising[1:] != rising[:-1], [True]))]


def _kept_turns(turning: list[float], threshold_m: float) -> list[float]:
    """Return the first height, each counted summit or hollow, and the last height."""
    low = high = turning[0]
    kept, going = [turning[0]], 0
    for height in turning[1:]:
        low, high = min(low, height), max(high, height)
        if going <= 0 and height - low >= threshold_m:
            kept.append(low)
            going, low, high = 1, height, height
        elif going >= 0 and high - height >= threshold_m:
            kept.append(high)
            going, low, high = -1, height, height
    if going:
        kept.append(high if going > 0 else low)
    return [*kept, turning[-1]]
