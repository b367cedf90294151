"""What is told about a spot on the profile: distance, height, slope, time of day, battery."""

import numpy as np

from lacet.figures.values import LegFigures
from lacet.wording import ENGLISH, Wording

SLOPE_OVER_M = 100.0


def told(leg: LegFigures, along_m: float, wording: Wording = ENGLISH) -> str:
    """'6.2 km · 340 m · 4 % up · 11:25 · battery 71 %'."""
    trace = leg.trace
    height = float(np.interp(along_m, trace.distance_m, trace.height_m))
    parts = [wording.length(along_m)]
    if np.isfinite(height):
        parts += [wording.spot_height(height), _slope(leg, along_m)]
    parts.append(wording.clock(clock_at(leg, along_m)))
    if trace.battery_share is not None:
        left = float(np.interp(along_m, trace.distance_m, trace.battery_share))
        parts.append(f"battery {wording.share(left)}")
    return " · ".join(parts)


def clock_at(leg: LegFigures, along_m: float) -> float:
    """Clock time at a distance: moving time, with the leg's stops spread evenly over it."""
    trace = leg.trace
    moved = float(np.interp(along_m, trace.distance_m, trace.time_s))
    whole = leg.moving_s or 1.0
    return leg.starts_s + moved / whole * (leg.ends_s - leg.starts_s)


def _slope(leg: LegFigures, along_m: float) -> str:
    trace = leg.trace
    ends = np.clip([along_m - SLOPE_OVER_M / 2, along_m + SLOPE_OVER_M / 2], 0.0, trace.distance_m[-1])
    low, high = np.interp(ends, trace.distance_m, trace.height_m)
    run = float(ends[1] - ends[0])
    slope = (high - low) / run if run else 0.0
    if not np.isfinite(slope):
        return "slope unknown"
    word = "level" if abs(slope) < 0.005 else "up" if slope > 0 else "down"
    return word if word == "level" else f"{abs(slope) * 100:.0f} % {word}"
