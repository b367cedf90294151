"""Tracks out of tracks: cutting, joining, turning round, simplifying, and finding places along them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from lacet.tracks.geodesy import (
    cumulative_m,
    distance_m,
    earth_centred_m,
    plane_m,
    positions_deg,
    step_lengths_m,
)
from lacet.tracks.track import Floats, Integers, Track
from lacet.trip.errors import LacetError

# Ends this close are one place: receivers don't know better, and a road may be crossed between two stages.
JOIN_WITHIN_M = 50.0
END_SLACK_M = 0.5
SAMPLES_TO_COMPARE = 101
MOST_DENSE_SAMPLES = 50_000
# Two recordings of one way differ in length by what each wanders.
LENGTH_SLACK_SHARE = 0.1
WINDOW_SHARE = 0.05

Indexes = NDArray[np.intp]


class CutOutside(LacetError):
    """A cut that doesn't lie within the track."""

    def __init__(self, from_m: float, to_m: float, length_m: float) -> None:
        super().__init__(
            "A cut from {from_m:.2f} to {to_m:.2f} km doesn't lie within a track of "
            "{length_m:.2f} km; choose two places along it, the nearer one first.",
            from_m=from_m / 1000,
            to_m=to_m / 1000,
            length_m=length_m / 1000,
        )
        self.from_m = from_m
        self.to_m = to_m
        self.length_m = length_m


@dataclass(frozen=True, slots=True)
class Position:
    """A place on a track; the height is None where unknown."""

    latitude_deg: float
    longitude_deg: float
    height_m: float | None


def position_at(track: Track, along_m: float) -> Position:
    """Return the place at a distance from the start; beyond an end, the end.

    At a gap, which has no length, it is the place where the line goes on.
    """
    latitude, longitude, height = _places_at(track, cumulative_m(track), np.array((along_m,)))
    return Position(
        float(latitude[0]), float(longitude[0]), None if np.isnan(height[0]) else float(height[0])
    )


def positions_at(track: Track, along_m: Floats) -> tuple[Floats, Floats, Floats]:
    """Return latitudes, longitudes and heights at distances from the start, as `position_at` does for one."""
    return _places_at(track, cumulative_m(track), np.asarray(along_m, dtype=np.float64))


def cut(track: Track, from_m: float, to_m: float) -> Track:
    """Return the part of a track between two distances from its start [m], new end points where needed.

    Raises
    ------
    CutOutside
        When the two distances are out of order or lie outside the track by more than half a metre.
    """
    along = cumulative_m(track)
    length = float(along[-1])
    if not -END_SLACK_M <= from_m < to_m <= length + END_SLACK_M:
        raise CutOutside(from_m, to_m, length)
    first, last = max(from_m, 0.0), min(to_m, length)
    inside = np.flatnonzero((along > first) & (along < last))
    # At a gap a cut begins behind it and ends before it.
    begin = _places_at(track, along, np.array((first,)), "right")
    end = _places_at(track, along, np.array((last,)), "left")
    columns = (track.latitude_deg, track.longitude_deg, track.height_m)
    latitude, longitude, height = (
        np.concatenate((new_first, column[inside], new_last))
        for new_first, column, new_last in zip(begin, columns, end, strict=True)
    )
    return Track(latitude, longitude, height, _segments_of(track, inside))


def join(tracks: Sequence[Track]) -> Track:
    """Return tracks one after the other as one.

    Where one ends within 50 m of the next one's start the line goes on; elsewhere a gap is left.
    """
    if not tracks:
        raise LacetError("Nothing to join: choose at least one track.")
    starts: list[int] = []
    offset = 0
    for number, part in enumerate(tracks):
        own = (part.segment_start + offset).tolist()
        starts += own[1:] if number and _touches(tracks[number - 1], part) else own
        offset += len(part)
    return Track(
        np.concatenate([part.latitude_deg for part in tracks]),
        np.concatenate([part.longitude_deg for part in tracks]),
        np.concatenate([part.height_m for part in tracks]),
        np.array(starts, dtype=np.int64),
    )


def close_gaps(track: Track) -> Track:
    """Return the track as one segment, its gaps walked in straight lines."""
    return Track(track.latitude_deg, track.longitude_deg, track.height_m, np.zeros(1, dtype=np.int64))


def reverse(track: Track) -> Track:
    """Return the track in the other direction."""
    start = np.concatenate(([0], (len(track) - track.segment_start[1:])[::-1]))
    return Track(
        track.latitude_deg[::-1], track.longitude_deg[::-1], track.height_m[::-1], start.astype(np.int64)
    )


def simplify(track: Track, tolerance_m: float) -> Track:
    """Return the track with fewer points, nowhere farther than the tolerance from the line it was.

    References
    ----------
    D. H. Douglas, T. K. Peucker (1973), Cartographica 10(2):112-122 (by way of shapely).
    """
    import shapely

    east, north = _own_plane(track)
    kept: list[Indexes] = []
    starts: list[int] = []
    for part in track.segments:
        starts.append(sum(map(len, kept)))
        if part.stop - part.start < 3:
            kept.append(np.arange(part.start, part.stop))
            continue
        # The number of each point rides along as a third coordinate, so heights are found again.
        number = np.arange(part.start, part.stop, dtype=np.float64)
        line = shapely.linestrings(np.column_stack((east[part], north[part], number)))
        # Topology costs ten times as much and only matters for areas.
        thin = shapely.simplify(line, tolerance_m, preserve_topology=False)
        kept.append(shapely.get_coordinates(thin, include_z=True)[:, 2].astype(np.intp))
    index = np.concatenate(kept)
    return Track(
        track.latitude_deg[index],
        track.longitude_deg[index],
        track.height_m[index],
        np.array(starts, np.int64),
    )


def nearest(track: Track, latitude_deg: float, longitude_deg: float) -> tuple[float, float]:
    """Return how far along the track [m] it passes nearest to a place, and how far off [m] the place lies."""
    step = step_lengths_m(track)
    east, north = plane_m(track.latitude_deg, track.longitude_deg, (latitude_deg, longitude_deg))
    if len(track) == 1:
        return 0.0, float(np.hypot(east[0], north[0]))
    along = np.concatenate(((0.0,), np.cumsum(step)))
    part = _foot_shares(east, north)
    part[track.is_gap] = np.round(part[track.is_gap])
    off = np.hypot(east[:-1] + part * np.diff(east), north[:-1] + part * np.diff(north))
    best = int(np.argmin(off))
    return float(along[best] + part[best] * step[best]), float(off[best])


def same_line(a: Track, b: Track, tolerance_m: float) -> Literal["same", "reversed"] | None:
    """Tell whether two tracks follow one line, in the same or the opposite direction.

    Both are laid beside each other by distance; each of 101 places on one must lie within the tolerance of
    the other, not far from the same share of the way. So a loop is told from the same loop the other way
    round, and a way there and back from the way there.
    """
    thin_a, thin_b = simplify(a, tolerance_m / 4), simplify(b, tolerance_m / 4)
    if _runs_along(thin_a, thin_b, tolerance_m):
        return "same"
    if _runs_along(thin_a, reverse(thin_b), tolerance_m):
        return "reversed"
    return None


def _places_at(
    track: Track, along: Floats, at_m: Floats, side: Literal["left", "right"] = "right"
) -> tuple[Floats, Floats, Floats]:
    """Return places at distances; `side` tells the earlier from the later point at one distance."""
    if len(track) == 1:
        index = np.zeros(len(at_m), dtype=np.intp)
        return track.latitude_deg[index], track.longitude_deg[index], track.height_m[index]
    at = np.clip(at_m, 0.0, along[-1])
    index = np.clip(np.searchsorted(along, at, side=side) - 1, 0, len(track) - 2)
    step = along[index + 1] - along[index]
    share = np.where(step > 0, (at - along[index]) / np.where(step > 0, step, 1.0), float(side == "left"))
    latitude, longitude = _between(track, index, share)
    height = np.where(
        share == 0,
        track.height_m[index],
        np.where(
            share == 1,
            track.height_m[index + 1],
            track.height_m[index] * (1 - share) + track.height_m[index + 1] * share,
        ),
    )
    return latitude, longitude, height


def _between(track: Track, index: Indexes, share: Floats) -> tuple[Floats, Floats]:
    """Return where segments begin in a cut that keeps the points `inside` between two new ends."""
    here = earth_centred_m(track.latitude_deg[index], track.longitude_deg[index])
    there = earth_centred_m(track.latitude_deg[index + 1], track.longitude_deg[index + 1])
    # Equal shares of chord and arc differ by less than a millimetre up to 5 km, a metre at 50.
    latitude, longitude = positions_deg(here + share * (there - here))
    for exact, point in ((share == 0, index), (share == 1, index + 1)):
        latitude = np.where(exact, track.latitude_deg[point], latitude)
        longitude = np.where(exact, track.longitude_deg[point], longitude)
    return latitude, longitude


def _segments_of(track: Track, inside: Indexes) -> Integers:
    """Return where segments begin in a cut that keeps the points `inside` between two new ends."""
    starts = np.flatnonzero(np.isin(inside, track.segment_start[1:])) + 1
    return np.concatenate(([0], starts)).astype(np.int64)


def _touches(before: Track, after: Track) -> bool:
    end = (float(before.latitude_deg[-1]), float(before.longitude_deg[-1]))
    start = (float(after.latitude_deg[0]), float(after.longitude_deg[0]))
    return distance_m(end, start) <= JOIN_WITHIN_M


def _own_plane(track: Track) -> Floats:
    middle = len(track) // 2
    centre = (float(track.latitude_deg[middle]), float(track.longitude_deg[middle]))
    return plane_m(track.latitude_deg, track.longitude_deg, centre)


def _foot_shares(east: Floats, north: Floats) -> Floats:
    """Return, for each step, the share of it at which it passes nearest to the origin."""
    across, up = np.diff(east), np.diff(north)
    square = across * across + up * up
    foot = -(east[:-1] * across + north[:-1] * up) / np.where(square > 0, square, 1.0)
    return np.clip(foot, 0.0, 1.0)


def _runs_along(a: Track, b: Track, tolerance_m: float) -> bool:
    length_a, length_b = float(cumulative_m(a)[-1]), float(cumulative_m(b)[-1])
    longer = max(length_a, length_b)
    if abs(length_a - length_b) > LENGTH_SLACK_SHARE * longer + 2 * tolerance_m:
        return False
    window = WINDOW_SHARE + 3 * tolerance_m / max(longer, tolerance_m)
    return _stays_near(a, b, window, tolerance_m) and _stays_near(b, a, window, tolerance_m)


def _stays_near(a: Track, b: Track, window_share: float, tolerance_m: float) -> bool:
    shares = np.linspace(0.0, 1.0, SAMPLES_TO_COMPARE)
    length_b = float(cumulative_m(b)[-1])
    dense = np.linspace(0.0, 1.0, int(np.clip(4 * length_b / tolerance_m, 2, MOST_DENSE_SAMPLES)) + 1)
    places_a = _centred_at(a, shares)
    places_b = _centred_at(b, dense)
    for share, place in zip(shares, places_a.T, strict=True):
        near = slice(*np.searchsorted(dense, (share - window_share, share + window_share)))
        off = places_b[:, near] - place.reshape(3, 1)
        if np.sqrt(np.min(np.sum(off * off, axis=0))) > tolerance_m:
            return False
    return True


def _centred_at(track: Track, shares: Floats) -> Floats:
    along = cumulative_m(track)
    latitude, longitude, _ = _places_at(track, along, shares * along[-1])
    return earth_centred_m(latitude, longitude)
