"""A line on the ground: the one value every other module here takes or returns.

A track never changes. Its arrays are read-only copies, and an unknown height is NaN, never zero.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lacet.trip.errors import LacetError

Floats = NDArray[np.float64]
Integers = NDArray[np.int64]


class TrackRefused(LacetError):
    """Points that make no track."""


@dataclass(frozen=True, slots=True, eq=False)
class Track:
    """Points in the order they are walked or ridden, in one or more segments.

    Between two segments lies a gap: its length and its climb are unknown and counted nowhere.

    Parameters
    ----------
    latitude_deg, longitude_deg
        WGS 84 [degrees], -90..90 and -180..180 (180 is kept as -180).
    height_m
        Height above sea level [m], NaN where unknown.
    segment_start
        Index of the first point of each segment; the first is 0.

    Raises
    ------
    TrackRefused
        When the columns differ in length, hold no point, leave the range or the segments are out of order.
    """

    latitude_deg: Floats
    longitude_deg: Floats
    height_m: Floats
    segment_start: Integers

    def __post_init__(self) -> None:
        latitude, longitude = _column(self.latitude_deg), _column(self.longitude_deg)
        height = _column(self.height_m)
        start = np.array(self.segment_start, dtype=np.int64).reshape(-1)
        _refuse_bad_columns(latitude, longitude, height)
        _refuse_bad_segments(start, len(latitude))
        longitude[longitude == 180.0] = -180.0
        height[np.isinf(height)] = np.nan
        for name, column in zip(
            self.__slots__, (latitude, longitude, height, start), strict=True
        ):  # `frozen` forbids plain assignment
            column.setflags(write=False)
            object.__setattr__(self, name, column)

    def __len__(self) -> int:
        return len(self.latitude_deg)

    @property
    def segments(self) -> tuple[slice, ...]:
        """The points of each segment as slices."""
        ends = [*self.segment_start[1:].tolist(), len(self)]
        return tuple(slice(first, end) for first, end in zip(self.segment_start.tolist(), ends, strict=True))

    @property
    def is_gap(self) -> NDArray[np.bool_]:
        """Per step (one fewer than points): whether it leads over a gap between two segments."""
        gap = np.zeros(max(len(self) - 1, 0), dtype=bool)
        gap[self.segment_start[1:] - 1] = True
        return gap


def track(
    latitude_deg: ArrayLike,
    longitude_deg: ArrayLike,
    height_m: ArrayLike | None = None,
    segment_start: Sequence[int] | Integers = (0,),
) -> Track:
    """Make a track from any sequences of numbers; without heights all of them are unknown."""
    latitude = np.asarray(latitude_deg, dtype=np.float64)
    height = np.full(latitude.shape, np.nan) if height_m is None else np.asarray(height_m, dtype=np.float64)
    return Track(
        latitude, np.asarray(longitude_deg, dtype=np.float64), height, np.asarray(segment_start, np.int64)
    )


def _column(values: Any) -> Floats:
    return np.array(values, dtype=np.float64).reshape(-1)


def _refuse_bad_columns(latitude: Floats, longitude: Floats, height: Floats) -> None:
    if not len(latitude):
        raise TrackRefused("A track needs at least one point.")
    if not len(latitude) == len(longitude) == len(height):
        raise TrackRefused("Latitudes, longitudes and heights of a track differ in number.")
    # Written so that NaN fails too.
    if not (np.all(np.abs(latitude) <= 90.0) and np.all(np.abs(longitude) <= 180.0)):
        raise TrackRefused("A position lies outside -90..90 degrees of latitude or -180..180 of longitude.")


def _refuse_bad_segments(start: Integers, count: int) -> None:
    in_order = len(start) and start[0] == 0 and np.all(np.diff(start) > 0) and start[-1] < count
    if not in_order:
        raise TrackRefused("The segments of a track must begin with its first point and follow each other.")
