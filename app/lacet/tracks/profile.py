"""Height along a track, and the one method by which Lacet counts ascent and descent.

Two recordings of one path never agree point for point, so a plain sum of height differences measures the
recorder: it grows with every point and every metre of noise. The method here is a function of the *line*
alone:

1. Between points the height runs straight over distance, so a point added on the line or recorded twice
   changes nothing.
2. That line is averaged over a window sliding along the distance, twice over, by exact integrals; what the
   averaging took away is averaged in the same way and given back once (Tukey's twicing), so that summits
   keep their height. At both ends the line goes on as its point reflection, which pins the first and the
   last height.
3. Of the smoothed line only swings of at least a threshold count (the turning-point rule); they count in
   full, so ascent - descent = end - start.

Every line is worked on from the same one of its two ends and turned afterwards, so reversing a track swaps
ascent and descent to the last bit. Smoothed heights are multiples of 2^-20 m, whose sums are exact.

The parameters were chosen on synthetic lines of known ascent (16 km; an alpine pass, rolling hills, ridges
with sharp tops, fractal terrain; a point every 1.4 to 40 m) with 3 m of noise, white or correlated over 20
to 60 m: the root mean square error is 1.6 %. Over low ground, where no rise exceeds some 20 m, noise that is
correlated over 60 m is terrain for all anyone can tell, and ascent comes out 4 to 7 % high.
tests/tracks/test_ascent.py repeats the measurement. A walk of 5.6 km and 200 m of ascent, recorded once a
second with 3 m of noise, sums up to 6 428 m plainly and to 203 m here; a ride of 57.7 km to 1 341 m plainly
and to 1 262 m here.

References
----------
J. W. Tukey (1977), Exploratory Data Analysis, chapter 16 (twicing; cited from memory).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lacet.tracks.geodesy import gap_lengths_m, step_lengths_m
from lacet.tracks.smoothing import nodes_m, smoothed
from lacet.tracks.track import Floats, Track
from lacet.tracks.turning_points import rises_and_falls


@dataclass(frozen=True, slots=True)
class AscentParameters:
    """The figures the method rests on.

    Parameters
    ----------
    node_m
        Greatest distance between two nodes of the profile.
    window_m
        Width of the averaging window.
    threshold_m
        Smallest rise or fall that counts.
    bridge_m
        Longest stretch of unknown height that is bridged with a straight line.
    most_unknown_share
        Share of the length that may be bridged before ascent and descent are unknown.
    pause_m
        Longest gap between two segments over which the smoothing goes on as if there were none.
    """

    node_m: float = 10.0
    window_m: float = 120.0
    threshold_m: float = 5.0
    bridge_m: float = 500.0
    most_unknown_share: float = 0.5
    pause_m: float = 50.0


ASCENT_PARAMETERS = AscentParameters()


@dataclass(frozen=True, slots=True, eq=False)
class Profile:
    """Height over distance, ready to draw and to sum.

    Parameters
    ----------
    distance_m
        Distance of each node from the start [m], from 0 to `length_m`; on both sides of a gap the same.
    height_m
        Smoothed height [m], NaN where unknown.
    length_m
        Length of the track [m], gaps not counted.
    ascent_m, descent_m
        Sum of rises and of falls [m], or None when too much height is unknown to bridge it.
    lowest_m, highest_m
        Lowest and highest height as recorded [m], None when none is known.
    unknown_share
        Share of the length without known height, bridged or not. Above 0 every figure is an estimate and
        should be shown as one.
    """

    distance_m: Floats
    height_m: Floats
    length_m: float
    ascent_m: float | None
    descent_m: float | None
    lowest_m: float | None
    highest_m: float | None
    unknown_share: float


def profile(track: Track, parameters: AscentParameters = ASCENT_PARAMETERS) -> Profile:
    """Return the smoothed height along a track with its ascent and descent."""
    turned = _starts_at_its_other_end(track)
    step, height = step_lengths_m(track), track.height_m
    if turned:
        step, height = step[::-1], height[::-1]
    along = np.concatenate(((0.0,), np.cumsum(step)))
    distance, smooth, rise, fall = _whole_line(along, height, _breaks(track, turned, parameters), parameters)
    if turned:
        distance, smooth, rise, fall = along[-1] - distance[::-1], smooth[::-1], fall, rise
    unknown_m, longest_m = _unknown_stretches(along, height)
    known = height[~np.isnan(height)]
    unknown_share = _share(unknown_m, float(along[-1]), len(known) == 0)
    whole = longest_m <= parameters.bridge_m and unknown_share <= parameters.most_unknown_share
    return Profile(
        distance_m=_fixed(distance),
        height_m=_fixed(smooth),
        length_m=float(along[-1]),
        ascent_m=rise if whole else None,
        descent_m=fall if whole else None,
        lowest_m=float(known.min()) if len(known) else None,
        highest_m=float(known.max()) if len(known) else None,
        unknown_share=unknown_share,
    )


def ascent_descent(
    track: Track, parameters: AscentParameters = ASCENT_PARAMETERS
) -> tuple[float, float] | None:
    """Return ascent and descent [m], or None when too much height is unknown."""
    result = profile(track, parameters)
    if result.ascent_m is None or result.descent_m is None:
        return None
    return result.ascent_m, result.descent_m


def _starts_at_its_other_end(track: Track) -> bool:
    """Whether the last point, and not the first, is the end from which this line is always worked on."""
    for column in (track.latitude_deg, track.longitude_deg, track.height_m):
        if column[0] != column[-1] and not np.isnan(column[0] + column[-1]):
            return bool(column[0] > column[-1])
        values = np.nan_to_num(column)
        differs = np.flatnonzero(values != values[::-1])
        if len(differs):
            return bool(values[differs[0]] > values[::-1][differs[0]])
    return False


def _breaks(track: Track, turned: bool, parameters: AscentParameters) -> list[int]:
    """Return where pieces begin: at each segment that starts farther than a pause from the one before."""
    if len(track.segment_start) == 1:
        return []
    start = track.segment_start[1:][gap_lengths_m(track) > parameters.pause_m]
    if turned:
        start = (len(track) - start)[::-1]
    return [int(index) for index in start]


def _whole_line(
    along: Floats, height: Floats, breaks: list[int], parameters: AscentParameters
) -> tuple[Floats, Floats, float, float]:
    distances: list[Floats] = []
    heights: list[Floats] = []
    rise = fall = 0.0
    for first, end in zip([0, *breaks], [*breaks, len(along)], strict=True):
        distance, smooth = _piece(along[first:end], height[first:end], parameters)
        for stretch in _known_stretches(smooth):
            up, down = rises_and_falls(stretch, parameters.threshold_m)
            rise, fall = rise + up, fall + down
        distances.append(distance)
        heights.append(smooth)
    return np.concatenate(distances), np.concatenate(heights), rise, fall


def _piece(along: Floats, height: Floats, parameters: AscentParameters) -> tuple[Floats, Floats]:
    """Return nodes and smoothed heights of an unbroken piece; NaN over stretches too long to be bridged."""
    known = np.flatnonzero(~np.isnan(height))
    if len(known) == len(height):
        return smoothed(along, height, parameters.node_m, parameters.window_m)
    if not len(known):
        distance = nodes_m(float(along[0]), float(along[-1]), parameters.node_m)
        return distance, np.full(len(distance), np.nan)
    # A short unknown start or end is held level; a long one is left open.
    firm = _with_held_ends(along, known, parameters.bridge_m)
    firm_height = np.interp(firm, known, height[known])
    too_long = np.diff(along[firm]) > parameters.bridge_m
    open_after = np.flatnonzero(too_long & (np.diff(firm) > 1)) + 1
    distances, heights = _open_end(float(along[0]), float(along[firm[0]]), parameters, before=True)
    for number, part in enumerate(np.split(np.arange(len(firm)), open_after)):
        if number:
            previous = float(along[firm[part[0] - 1]])
            inner = nodes_m(previous, float(along[firm[part[0]]]), parameters.node_m)[1:-1]
            distances.append(inner)
            heights.append(np.full(len(inner), np.nan))
        nodes, smooth = smoothed(along[firm[part]], firm_height[part], parameters.node_m, parameters.window_m)
        distances.append(nodes)
        heights.append(smooth)
    last = _open_end(float(along[firm[-1]]), float(along[-1]), parameters, before=False)
    return np.concatenate(distances + last[0]), np.concatenate(heights + last[1])


def _with_held_ends(along: Floats, known: NDArray[np.intp], bridge_m: float) -> NDArray[np.intp]:
    if along[known[0]] - along[0] <= bridge_m and known[0]:
        known = np.concatenate(([0], known))
    last = len(along) - 1
    if along[-1] - along[known[-1]] <= bridge_m and known[-1] < last:
        known = np.concatenate((known, [last]))
    return known


def _open_end(
    from_m: float, to_m: float, parameters: AscentParameters, *, before: bool
) -> tuple[list[Floats], list[Floats]]:
    if from_m == to_m:
        return [], []
    nodes = nodes_m(from_m, to_m, parameters.node_m)
    nodes = nodes[:-1] if before else nodes[1:]
    return [nodes], [np.full(len(nodes), np.nan)]


def _known_stretches(height: Floats) -> list[Floats]:
    known = ~np.isnan(height)
    edges = np.flatnonzero(np.diff(known)) + 1
    return [part for part in np.split(height, edges) if not np.isnan(part[0])]


def _unknown_stretches(along: Floats, height: Floats) -> tuple[float, float]:
    """Return the whole length without known height and its longest stretch [m]."""
    known = np.flatnonzero(~np.isnan(height))
    if len(known) == len(height):
        return 0.0, 0.0
    if not len(known):
        return float(along[-1]), float(along[-1])
    firm = along[known]
    inner = np.diff(firm)[np.diff(known) > 1]
    stretches = np.concatenate((inner, (firm[0] - along[0], along[-1] - firm[-1])))
    return float(stretches.sum()), float(stretches.max())


def _share(unknown_m: float, length_m: float, nothing_known: bool) -> float:
    if nothing_known or length_m <= 0:
        return 1.0 if nothing_known else 0.0
    return min(unknown_m / length_m, 1.0)


def _fixed(values: Floats) -> Floats:
    values = np.ascontiguousarray(values)
    values.setflags(write=False)
    return values
