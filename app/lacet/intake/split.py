"""Puts recordings together that a receiver split: a pause at noon makes two tracks of one walk."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from lacet.tracks.edit import join
from lacet.tracks.geodesy import distance_m
from lacet.tracks.gpx_document import GpxLine

WITHIN_M = 200.0
WITHIN_S = 2 * 3600.0
_COUNTED = re.compile(r"[\s_-]*(?:\(?\s*(?:part|teil|segment)?\s*#?\d{1,2}\s*(?:/\s*\d{1,2})?\s*\)?)$", re.I)


@dataclass(frozen=True, slots=True, eq=False)
class FoundLine:
    """A line of a file; `parts` are the names of what it was put together from, if it was."""

    path: Path
    line: GpxLine
    parts: tuple[str, ...] = ()


def merged(lines: Sequence[FoundLine]) -> tuple[FoundLine, ...]:
    """The lines in their order, those that go on where and when the one before ended put together."""
    done: list[FoundLine] = []
    for found in lines:
        if done and _goes_on(done[-1].line, found.line):
            done[-1] = _together(done[-1], found)
        else:
            done.append(found)
    return tuple(done)


def _goes_on(before: GpxLine, after: GpxLine) -> bool:
    apart_m = distance_m(_end(before, -1), _end(after, 0))
    if apart_m > WITHIN_M or before.kind != after.kind:
        return False
    ended, began = _time(before, -1), _time(after, 0)
    if ended is not None and began is not None:
        return 0 <= began - ended <= WITHIN_S
    # Without times only a counted name tells it: 'Ridge 1', 'Ridge 2'. 'Day 1', 'Day 2' are stages of a tour.
    stem = _COUNTED.sub("", before.name).casefold()
    counted = _COUNTED.search(before.name) and _COUNTED.search(after.name)
    return bool(counted and stem and stem != "day" and stem == _COUNTED.sub("", after.name).casefold())


def _together(first: FoundLine, second: FoundLine) -> FoundLine:
    before, after = first.line, second.line
    times = None
    if before.times is not None and after.times is not None:
        times = np.concatenate((before.times, after.times))
    name = _COUNTED.sub("", before.name) or before.name or after.name
    line = GpxLine(name, before.description, before.kind, join((before.track, after.track)), times)
    parts = first.parts or (before.name or first.path.name,)
    return FoundLine(first.path, line, (*parts, after.name or second.path.name))


def _end(line: GpxLine, index: int) -> tuple[float, float]:
    return float(line.track.latitude_deg[index]), float(line.track.longitude_deg[index])


def _time(line: GpxLine, index: int) -> float | None:
    if line.times is None or np.isnan(line.times[index]):
        return None
    return float(line.times[index])
