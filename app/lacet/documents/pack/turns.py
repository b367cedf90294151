"""Turns out of a line's shape: where it bends so much that somebody on it would be told.

The line is sampled evenly from end to end, so a line and its reverse bend at the same places, left for
right. A line knows nothing of junctions: what is derived here is marked so wherever it is shown.
"""

from dataclasses import dataclass

import numpy as np

from lacet.documents.language import marked
from lacet.tracks.edit import positions_at
from lacet.tracks.geodesy import length_m, plane_m
from lacet.tracks.track import Track

# Common practice, no source: a judgement, not yet held against walked lanes and paths.
SAMPLE_M = 10.0
WINDOW_M = 40.0
LEAST_TURN_DEG = 45.0
SHARP_TURN_DEG = 120.0
BEAR_TURN_DEG = 60.0
APART_M = 120.0

_COMPASS = (
    marked("north"), marked("north-east"), marked("east"), marked("south-east"), marked("south"),
    marked("south-west"), marked("west"), marked("north-west"),
)  # fmt: skip
_LEFT = marked("Bear left"), marked("Turn left"), marked("Turn sharply left")
_RIGHT = marked("Bear right"), marked("Turn right"), marked("Turn sharply right")


@dataclass(frozen=True, slots=True)
class Turn:
    """A bend at a distance from the start [m]: degrees to the right (left negative), the heading after.

    Headings count clockwise from north [degrees].
    """

    at_m: float
    right_deg: float
    heading_deg: float

    @property
    def says(self) -> str:
        """'Turn left': in English, and marked for translation."""
        side = _RIGHT if self.right_deg > 0 else _LEFT
        size = abs(self.right_deg)
        if size < BEAR_TURN_DEG:
            return side[0]
        return side[2] if size > SHARP_TURN_DEG else side[1]


def compass(heading_deg: float) -> str:
    """Return 'north-east' for a heading [degrees clockwise from north], marked for translation."""
    return _COMPASS[round(heading_deg / 45.0) % 8]


def heading_at(track: Track, at_m: float) -> float:
    """Return where the line leads over the next 40 m, at the end over the last [degrees from north]."""
    length = length_m(track)
    begin = max(min(at_m, length - WINDOW_M), 0.0)
    latitude, longitude, _ = positions_at(track, np.array((begin, min(begin + WINDOW_M, length))))
    east, north = plane_m(latitude, longitude, (float(latitude[0]), float(longitude[0])))
    return float(np.degrees(np.arctan2(np.diff(east)[0], np.diff(north)[0])) % 360.0)


def turns(track: Track) -> tuple[Turn, ...]:
    """Return the bends of a line that are told: the strongest first chosen, none within 120 m of another."""
    length = length_m(track)
    count = int(length // SAMPLE_M)
    reach = round(WINDOW_M / SAMPLE_M)
    if count < 2 * reach + 1:
        return ()
    along = np.linspace(0.0, length, count + 1)
    latitude, longitude, _ = positions_at(track, along)
    middle = (float(latitude[count // 2]), float(longitude[count // 2]))
    east, north = plane_m(latitude, longitude, middle)
    heading = np.degrees(np.arctan2(east[reach:] - east[:-reach], north[reach:] - north[:-reach]))
    before, after = heading[:-reach], heading[reach:]
    bend = (after - before + 180.0) % 360.0 - 180.0
    chosen: list[int] = []
    # Rounding keeps equal bends equal in both directions, where the last digits differ.
    for index in np.argsort(-np.abs(bend).round(3), kind="stable").tolist():
        if abs(bend[index]) < LEAST_TURN_DEG:
            break
        if all(abs(along[index] - along[other]) >= APART_M for other in chosen):
            chosen.append(index)
    return tuple(
        Turn(float(along[index + reach]), float(bend[index]), float(after[index] % 360.0))
        for index in sorted(chosen)
    )
