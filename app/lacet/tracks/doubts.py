"""What looks wrong in a line that could be read. Everything here is told; nothing is removed.

The one exception is elevation that is zero at every point: that is how recorders write 'unknown', and a
line at exactly sea level would lose nothing but a figure of zero.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from lacet.tracks.edit import same_line
from lacet.tracks.geodesy import distance_m, earth_centred_m, gap_lengths_m, step_lengths_m
from lacet.tracks.gpx_document import GpxLine
from lacet.tracks.problem import Problem
from lacet.tracks.track import Floats, Track

# A single point this far above or below both its neighbours, and this steep on both sides, is no terrain.
SPIKE_HEIGHT_M = 50.0
SPIKE_SLOPE_RATIO = 2.0
# A point off the line: both steps this long, and the way past it a tenth of the way over it.
SPIKE_STEP_M = 300.0
SPIKE_SHORTCUT_SHARE = 0.1
# A step this long, and this many times the usual one, is a jump of the receiver, or a ride.
JUMP_M = 2_000.0
JUMP_TIMES_MEDIAN = 50.0
NULL_ISLAND_DEG = 0.01
FAR_FROM_REGION_M = 1_000_000.0
BACKWARDS_SHARE = 0.01
ALIKE_WITHIN_M = 50.0
# Half a minute of hairpins, a point a second, is never twice as long as its straight line; the noise of a
# resting receiver is.
WANDERING_POINTS = 30
WANDERING_STEP_M = 10.0
WANDERING_TIMES = 2.0
MOST_COMPARED = 20


def zero_heights_as_missing(track: Track) -> tuple[Track, bool]:
    """Return the track without heights when every known height is exactly zero, and whether that was so."""
    known = track.height_m[~np.isnan(track.height_m)]
    if len(known) < 2 or np.any(known != 0):
        return track, False
    unknown = np.full(len(track), np.nan)
    return Track(track.latitude_deg, track.longitude_deg, unknown, track.segment_start), True


def line_doubts(track: Track, times: Floats | None = None) -> Iterator[Problem]:
    """Yield what looks wrong in one line, as sentences without its name."""
    step = step_lengths_m(track)
    yield from _length_doubts(track, step)
    yield from _gap_doubts(track)
    yield from _position_doubts(track, step)
    yield from _height_doubts(track, step)
    if times is not None:
        yield from _time_doubts(times)


def looks_swapped(track: Track, region_deg: tuple[float, float]) -> bool:
    """Whether a line far from a region would lie in it with latitude and longitude swapped."""
    latitude, longitude = float(np.median(track.latitude_deg)), float(np.median(track.longitude_deg))
    if abs(longitude) > 90 or distance_m((latitude, longitude), region_deg) < FAR_FROM_REGION_M:
        return False
    return distance_m((longitude, latitude), region_deg) < FAR_FROM_REGION_M / 2


def alike_lines(lines: Sequence[GpxLine]) -> Iterator[Problem]:
    """Yield, for each route beside a track that runs along it, that both describe one way."""
    tracks = [line for line in lines if line.kind == "track"][:MOST_COMPARED]
    for route in [line for line in lines if line.kind == "route"][:MOST_COMPARED]:
        for recorded in tracks:
            if len(recorded.track) < 2 or len(route.track) < 2:
                continue
            if same_line(route.track, recorded.track, ALIKE_WITHIN_M):
                pair = f"Route “{route.name}” and track “{recorded.name}”"
                yield Problem(None, f"{pair} describe the same way; take one of them.", "note")


def _length_doubts(track: Track, step: Floats) -> Iterator[Problem]:
    if len(track) == 1:
        yield Problem(None, "only one point, so no stage can be made of it")
    elif len(track.segment_start) == len(track):
        yield Problem(
            None, f"{len(track)} segments of one point each, so no length; join them to make a line"
        )
    elif not np.any(step > 0):
        yield Problem(None, "no length (0 m): all its points are the same place")
    elif (straight := _straightened_m(track, step)) * WANDERING_TIMES < step.sum():
        recorded = f"{_metres(step.sum())} recorded over a way of about {_metres(straight)}"
        yield Problem(None, f"the receiver wandered while standing or walking slowly: {recorded}", "note")


def _straightened_m(track: Track, step: Floats) -> float:
    """Return the length over every 30th point, or as it is where points lie too far apart to tell."""
    if len(track) < 10 * WANDERING_POINTS or step.mean() > WANDERING_STEP_M:
        return float(step.sum())
    place = earth_centred_m(track.latitude_deg, track.longitude_deg)[:, ::WANDERING_POINTS]
    return float(np.linalg.norm(np.diff(place), axis=0).sum())


def _gap_doubts(track: Track) -> Iterator[Problem]:
    gaps = gap_lengths_m(track)
    if len(gaps) and len(track.segment_start) < len(track):
        count = "1 gap" if len(gaps) == 1 else f"{len(gaps)} gaps"
        says = (
            f"{count} between segments, {_metres(gaps.sum())} in all, counted neither as length nor as climb"
        )
        yield Problem(None, says, "note")


def _position_doubts(track: Track, step: Floats) -> Iterator[Problem]:
    nowhere = (np.abs(track.latitude_deg) < NULL_ISLAND_DEG) & (np.abs(track.longitude_deg) < NULL_ISLAND_DEG)
    if np.any(nowhere) and np.any(~nowhere):
        count = int(nowhere.sum())
        yield Problem(None, f"{_points(count)} at 0, 0 (a receiver without a fix)")
    spike = _position_spikes(track, step)
    for index in spike[:3].tolist():
        off = max(step[index - 1], step[index])
        yield Problem(None, f"point {index + 1} lies {_metres(off)} off the line")
    moving = step[step > 0]
    if not len(moving):
        return
    jump = np.flatnonzero(step > max(JUMP_M, JUMP_TIMES_MEDIAN * float(np.median(moving))))
    beside_spike = np.isin(jump, spike) | np.isin(jump + 1, spike)
    for index in jump[~beside_spike][:3].tolist():
        yield Problem(None, f"a jump of {_metres(step[index])} after point {index + 1}")


def _position_spikes(track: Track, step: Floats) -> NDArray[np.intp]:
    """Return the points between two long steps whose neighbours lie close together."""
    if len(track) < 3:
        return np.zeros(0, dtype=np.intp)
    candidate = np.flatnonzero((step[:-1] > SPIKE_STEP_M) & (step[1:] > SPIKE_STEP_M)) + 1
    place = earth_centred_m(track.latitude_deg, track.longitude_deg)
    past = np.linalg.norm(place[:, candidate + 1] - place[:, candidate - 1], axis=0)
    over = step[candidate - 1] + step[candidate]
    usual = float(np.median(step))
    # A there-and-back tour turns at a far point too, but with steps of the usual length.
    is_spike = (past < SPIKE_SHORTCUT_SHARE * over) & (over > 10 * usual)
    return np.asarray(candidate[is_spike], dtype=np.intp)


def _height_doubts(track: Track, step: Floats) -> Iterator[Problem]:
    height = track.height_m
    unknown = int(np.isnan(height).sum())
    if unknown == len(height):
        yield Problem(None, "no elevation, so ascent and descent are unknown", "note")
        return
    if unknown:
        yield Problem(None, f"{_points(unknown)} without elevation", "note")
    rise = np.diff(height)
    with np.errstate(divide="ignore", invalid="ignore"):
        slope = np.where(step > 0, rise / step, np.sign(rise) * np.inf)
    steep = (np.abs(rise) > SPIKE_HEIGHT_M) & (np.abs(slope) > SPIKE_SLOPE_RATIO)
    spike = np.flatnonzero(steep[:-1] & steep[1:] & (np.sign(rise[:-1]) != np.sign(rise[1:]))) + 1
    for index in spike[:3].tolist():
        off = min(abs(rise[index - 1]), abs(rise[index]))
        yield Problem(
            None, f"the elevation of point {index + 1} ({height[index]:.0f} m) stands out by {_metres(off)}"
        )


def _time_doubts(times: Floats) -> Iterator[Problem]:
    known = times[~np.isnan(times)]
    backwards = int(np.sum(np.diff(known) < 0))
    if backwards:
        weight = "warn" if backwards > BACKWARDS_SHARE * len(known) else "note"
        count = "once" if backwards == 1 else f"{backwards} times"
        says = f"the recorded time runs backwards {count}, so recorded speeds can't be trusted"
        yield Problem(None, says, "warn" if weight == "warn" else "note")


def _points(count: int) -> str:
    return "1 point" if count == 1 else f"{count} points"


def _metres(length_m: float) -> str:
    return f"{length_m:.0f} m" if length_m < 1_000 else f"{length_m / 1000:.1f} km"
