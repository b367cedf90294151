"""The profiles of several variants over one another, on one kilometre scale. No Qt."""

from dataclasses import dataclass

import numpy as np

from lacet.assess import Assessment
from lacet.figures.values import FloatArray

NODES = 1200


@dataclass(frozen=True, slots=True, eq=False)
class VariantLine:
    """One variant as a line: distance from the start [km], height [m], and where each day ends [km].

    Where guests are driven from one leg to the next, the line is broken by a height of NaN.
    """

    distance_km: FloatArray
    height_m: FloatArray
    day_ends_km: tuple[float, ...]


def variant_line(found: Assessment) -> VariantLine:
    """All legs of the leading groups, one after the other; thinned to what a screen can show."""
    parts: list[tuple[FloatArray, FloatArray]] = []
    ends: list[float] = []
    start_m, stand = 0.0, ""
    for day in found.figures.days:
        for leg in day.group.legs if day.group else ():
            if parts and leg.from_place != stand:
                parts.append((np.array([start_m]), np.array([np.nan])))
            stand = leg.to_place or ""
            parts.append((start_m + leg.trace.distance_m, leg.trace.height_m))
            start_m += leg.distance_m
        ends.append(start_m / 1000)
    if not parts:
        return VariantLine(np.zeros(0), np.zeros(0), tuple(ends))
    distance = np.concatenate([part for part, _ in parts])
    height = np.concatenate([part for _, part in parts])
    spread = np.linspace(0, len(distance) - 1, min(NODES, len(distance))).astype(int)
    kept = np.union1d(spread, np.flatnonzero(np.isnan(height)))
    return VariantLine(distance[kept] / 1000, height[kept], tuple(ends))
