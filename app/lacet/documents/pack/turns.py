"""Turns out of a line's shape: where it bends so much that somebody on it would be told.

The line is sampled evenly from end to end and smoothed, so that a recorder's wavering isn't told, and a line
and its reverse bend at the same places, left for right. A line knows nothing of junctions: what is derived
here is marked so wherever it is shown.

How the thresholds do (tests/documents/pack/test_turns.py): along a straight way with errors of 5 m that hang
together for half a minute nothing is told; of right angles every 500 m, 19 of 20 are, on the right side. On
walks that people recorded it makes one to three turns a kilometre, on rides a half to two.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lacet.language import marked
from lacet.tracks.edit import positions_at
from lacet.tracks.geodesy import cumulative_m, length_m, plane_m
from lacet.tracks.track import Floats, Track

# Common practice, no source: chosen on lines of known turns with noise, and on recorded walks and rides.
SAMPLE_M = 5.0
SMOOTHED_M = 15.0
SMOOTHINGS = 2
# A bend is the difference of two headings, each over the stretch between these distances from its middle.
NEAR_M, FAR_M = 15.0, 50.0
WINDOW_M = 40.0
LEAST_TURN_DEG = 45.0
SHARP_TURN_DEG = 120.0
BEAR_TURN_DEG = 60.0
APART_M = 120.0
# Hairpins one after the other, left and right in turn, are one thing to a guest.
HAIRPIN_DEG = 100.0
NEXT_HAIRPIN_M = 250.0
LEAST_HAIRPINS = 3
PEAKS_APART_M = 25.0

Indexes = NDArray[np.intp]

_COMPASS = (
    marked("north"), marked("north-east"), marked("east"), marked("south-east"), marked("south"),
    marked("south-west"), marked("west"), marked("north-west"),
)  # fmt: skip
_HAIRPINS = marked("Follow the hairpins")
_LEFT = marked("Bear left"), marked("Turn left"), marked("Turn sharply left")
_RIGHT = marked("Bear right"), marked("Turn right"), marked("Turn sharply right")


@dataclass(frozen=True, slots=True)
class Turn:
    """A bend at a distance from the start [m]: degrees to the right (left negative), the heading after.

    Headings count clockwise from north [degrees]. `until_m` is where hairpins end that begin here.
    """

    at_m: float
    right_deg: float
    heading_deg: float
    until_m: float | None = None

    @property
    def says(self) -> str:
        """'Turn left': in English, and marked for translation."""
        if self.until_m is not None:
            return _HAIRPINS
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
    begins = cumulative_m(track)[track.segment_start]
    found: list[Turn] = []
    for start_m, part in zip(begins.tolist(), track.segments, strict=True):
        one = Track(
            track.latitude_deg[part], track.longitude_deg[part], track.height_m[part], np.zeros(1, np.int64)
        )
        found += _turns_of_piece(one, start_m)
    return tuple(found)


@dataclass(frozen=True, slots=True)
class _Bend:
    """A bend of the smoothed line, and where on it, in the plane [m]."""

    at_m: float
    right_deg: float
    heading_deg: float
    east_m: float
    north_m: float


def _turns_of_piece(track: Track, start_m: float) -> list[Turn]:
    told: list[Turn] = []
    single: list[Turn] = []
    for run in _runs(list(_bends(track))):
        if len(run) >= LEAST_HAIRPINS:
            told.append(_hairpins(run, start_m))
        else:
            single += [Turn(start_m + bend.at_m, bend.right_deg, bend.heading_deg) for bend in run]
    # Rounding keeps equal bends equal in both directions, where the last digits differ.
    for turn in sorted(single, key=lambda each: -round(abs(each.right_deg), 3)):
        if all(_between_m(turn, other) >= APART_M for other in told):
            told.append(turn)
    return sorted(told, key=lambda turn: turn.at_m)


def _between_m(turn: Turn, other: Turn) -> float:
    ends_m = other.at_m if other.until_m is None else other.until_m
    return max(other.at_m - turn.at_m, turn.at_m - ends_m)


def _hairpins(run: Sequence[_Bend], start_m: float) -> Turn:
    first, last = run[0], run[-1]
    heading = np.degrees(np.arctan2(last.east_m - first.east_m, last.north_m - first.north_m)) % 360.0
    return Turn(start_m + first.at_m, first.right_deg, float(heading), start_m + last.at_m)


def _runs(bends: Sequence[_Bend]) -> Iterator[list[_Bend]]:
    """Bends by runs of hairpins, left and right in turn; any other bend is a run of its own."""
    run: list[_Bend] = []
    for bend in bends:
        hairpin = abs(bend.right_deg) >= HAIRPIN_DEG
        goes_on = (
            run
            and hairpin
            and abs(run[-1].right_deg) >= HAIRPIN_DEG
            and (run[-1].right_deg > 0) != (bend.right_deg > 0)
            and bend.at_m - run[-1].at_m <= NEXT_HAIRPIN_M
        )
        if run and not goes_on:
            yield run
            run = []
        run.append(bend)
    if run:
        yield run


def _bends(track: Track) -> Iterator[_Bend]:
    """Every bend of at least 45 degrees that none stronger overlaps, in order."""
    length = length_m(track)
    near, far = round(NEAR_M / SAMPLE_M), round(FAR_M / SAMPLE_M)
    if length < 2 * FAR_M + SAMPLE_M:
        return
    east, north, own = _smoothed(track, length)
    if len(own) < 2 * far + 1:
        return
    at: Indexes = np.arange(far, len(own) - far, dtype=np.intp)
    before = _headings(east, north, at - far, at - near)
    after = _headings(east, north, at + near, at + far)
    bend = (after - before + 180.0) % 360.0 - 180.0
    reach = round(PEAKS_APART_M / SAMPLE_M)
    for index in _peaks(np.abs(bend).round(3), reach):
        middle = _middle(np.abs(bend), index, reach)
        spot = at[index]
        yield _Bend(
            at_m=float(np.interp(far + middle, np.arange(len(own)), own)),
            right_deg=float(bend[index]),
            heading_deg=float(after[index] % 360.0),
            east_m=float(east[spot]),
            north_m=float(north[spot]),
        )


def _peaks(size: Floats, reach: int) -> list[int]:
    """Where a bend is large enough and the largest within reach, in order."""
    kept: list[int] = []
    for index in np.argsort(-size, kind="stable").tolist():
        if size[index] < LEAST_TURN_DEG:
            break
        if all(abs(index - other) > reach for other in kept):
            kept.append(index)
    # The flank of a stronger bend is no bend of its own.
    return sorted(
        index for index in kept if size[index] >= size[max(index - reach, 0) : index + reach + 1].max()
    )


def _middle(size: Floats, index: int, reach: int) -> float:
    """The middle of the flat top of a peak, the same from both ends."""
    first = max(index - reach, 0)
    near = np.arange(first, min(index + reach + 1, len(size)))
    top = near[size[near] >= 0.97 * size[index]]
    return float(top.mean())


def _headings(east: Floats, north: Floats, begin: Indexes, end: Indexes) -> Floats:
    headings: Floats = np.degrees(np.arctan2(east[end] - east[begin], north[end] - north[begin]))
    return headings


def _smoothed(track: Track, length: float) -> tuple[Floats, Floats, Floats]:
    """The line in its plane, even and smoothed, and where each sample lies along the track [m]."""
    own = np.linspace(0.0, length, int(length // SAMPLE_M) + 1)
    latitude, longitude, _ = positions_at(track, own)
    middle = len(own) // 2
    east, north = plane_m(latitude, longitude, (float(latitude[middle]), float(longitude[middle])))
    radius = round(SMOOTHED_M / SAMPLE_M)
    for _ in range(SMOOTHINGS):
        east, north = _averaged(east, radius), _averaged(north, radius)
        # A wavering line is longer than the way; made even again, the windows mean metres of the way.
        along = np.concatenate(((0.0,), np.cumsum(np.hypot(np.diff(east), np.diff(north)))))
        even = np.linspace(0.0, along[-1], max(int(along[-1] // SAMPLE_M), 1) + 1)
        east, north = np.interp(even, along, east), np.interp(even, along, north)
        own = np.interp(even, along, own)
        if len(own) <= 2 * radius:
            break
    return east, north, own


def _averaged(values: Floats, radius: int) -> Floats:
    """Each value the mean of those around it; the ends go on as their point reflection and stay."""
    before, after = 2 * values[0] - values[radius:0:-1], 2 * values[-1] - values[-2 : -radius - 2 : -1]
    total = np.cumsum(np.concatenate(((0.0,), before, values, after)))
    width = 2 * radius + 1
    return np.asarray((total[width:] - total[:-width]) / width)
