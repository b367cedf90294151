"""Stretches of a line, each with one value: cut, turned, moved, written over, put together. Pure.

Stretches may leave parts untold; nobody knows what is there.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from typing import TypeVar

from lacet.trip.library import SurfaceStretch, TrafficStretch

SAME_PLACE_M = 0.5
Stretch = TypeVar("Stretch", SurfaceStretch, TrafficStretch)
Along = Callable[[float], float]


def cut_stretches(
    stretches: Sequence[Stretch], from_m: float, to_m: float, last: bool
) -> tuple[Stretch, ...]:
    """Those that reach into a part. One that was written a little past the end stays as it is."""
    found = []
    for each in stretches:
        begin = max(each.from_m, from_m) - from_m
        end = (each.to_m if last else min(each.to_m, to_m)) - from_m
        if end > begin:
            found.append(replace(each, from_m=begin, to_m=end))
    return tuple(found)


def turned_stretch(each: Stretch, turned: Along) -> Stretch:
    return replace(each, from_m=turned(each.to_m), to_m=turned(each.from_m))


def moved_stretch(each: Stretch, moved: Along, gap_m: float, end_m: float) -> Stretch:
    """What begins at the seam begins where the first part ended, over a gap nobody described."""
    begin = end_m if each.from_m <= SAME_PLACE_M and gap_m <= SAME_PLACE_M else moved(each.from_m)
    return replace(each, from_m=begin, to_m=moved(each.to_m))


def overwritten(
    stretches: Sequence[Stretch], from_m: float, to_m: float, made: Stretch | None
) -> tuple[Stretch, ...]:
    """With another value from one distance to another; None = nobody knows what is there."""
    kept: list[Stretch] = []
    for each in stretches:
        if each.from_m < from_m:
            kept.append(replace(each, to_m=min(each.to_m, from_m)))
        if each.to_m > to_m:
            kept.append(replace(each, from_m=max(each.from_m, to_m)))
    return tidy((*kept, *(() if made is None else (made,))))


def tidy(stretches: Iterable[Stretch]) -> tuple[Stretch, ...]:
    """In order, and neighbours of one kind as one."""
    done: list[Stretch] = []
    for each in sorted(stretches, key=lambda one: (one.from_m, one.to_m)):
        before = done[-1] if done else None
        if before is not None and abs(before.to_m - each.from_m) <= SAME_PLACE_M and _alike(before, each):
            done[-1] = replace(before, to_m=each.to_m)
        else:
            done.append(each)
    return tuple(done)


def _alike(one: SurfaceStretch | TrafficStretch, two: SurfaceStretch | TrafficStretch) -> bool:
    return replace(one, from_m=0.0, to_m=0.0) == replace(two, from_m=0.0, to_m=0.0)
