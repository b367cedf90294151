"""The profile of a whole variant as one line, for setting variants over one another."""

from dataclasses import dataclass

import numpy as np

from lacet.figures.values import FloatArray, VariantFigures

NODES = 1200


@dataclass(frozen=True, slots=True, eq=False)
class VariantLine:
    """One variant as a line: distance from the start [m], height [m], and where each day ends [m].

    Where guests are driven from one leg to the next, the line is broken by a height of NaN.
    """

    distance_m: FloatArray
    height_m: FloatArray
    day_ends_m: tuple[float, ...]


def variant_line(figures: VariantFigures) -> VariantLine:
    """All legs of the leading groups, one after the other."""
    parts: list[tuple[FloatArray, FloatArray]] = []
    ends: list[float] = []
    start_m, stand = 0.0, ""
    for day in figures.days:
        for leg in day.group.legs if day.group else ():
            if parts and leg.from_place != stand:
                parts.append((np.array([start_m]), np.array([np.nan])))
            stand = leg.to_place or ""
            parts.append((start_m + leg.trace.distance_m, leg.trace.height_m))
            start_m += leg.distance_m
        ends.append(start_m)
    if not parts:
        return VariantLine(np.zeros(0), np.zeros(0), tuple(ends))
    distance, height = (np.concatenate(each) for each in zip(*parts, strict=True))
    return VariantLine(distance, height, tuple(ends))


def thinned(line: VariantLine) -> VariantLine:
    """A line with no more nodes than a screen can show; its breaks stay."""
    count = len(line.distance_m)
    spread = np.linspace(0, count - 1, min(NODES, count)).astype(int)
    kept = np.union1d(spread, np.flatnonzero(np.isnan(line.height_m)))
    return VariantLine(line.distance_m[kept], line.height_m[kept], line.day_ends_m)


def day_and_height(line: VariantLine, along_m: float) -> tuple[int, float] | None:
    """(day from 1, height [m]) at a distance [m]; None outside, and where heights are unknown."""
    if not len(line.distance_m) or not 0 <= along_m <= line.distance_m[-1]:
        return None
    height = float(np.interp(along_m, line.distance_m, line.height_m))
    day = 1 + int(np.searchsorted(line.day_ends_m, along_m))
    return None if np.isnan(height) else (min(day, len(line.day_ends_m)), height)
