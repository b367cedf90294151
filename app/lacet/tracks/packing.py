"""Tracks as small bytes for the library: about 5 bytes a point, unpacked in a fraction of a millisecond.

Latitude and longitude are kept in units of 1e-7 degrees (1.1 cm at most), height in centimetres, each as
the differences of 32-bit numbers, the bytes of equal weight laid side by side, then deflated. Positions
written with up to seven decimals and heights with up to two come back exactly, to the last bit.

Layout, little-endian: mark, points (u32), segments (u32), deflated columns. The deflate stream carries a
checksum.
"""

from __future__ import annotations

import struct
import zlib

import numpy as np
from numpy.typing import NDArray

from lacet.tracks.edit import simplify
from lacet.tracks.profile import Profile
from lacet.tracks.track import Floats, Track, TrackRefused
from lacet.trip.errors import LacetError

DEGREE_UNITS = 10_000_000
METRE_UNITS = 100
OUTLINE_TOLERANCE_M = 5.0
SPARKLINE_NODES = 48
MOST_POINTS = 10_000_000

_HEAD = struct.Struct("<4sII")
_MARK = b"lct1"
_UNKNOWN_HEIGHT = np.iinfo(np.int32).min
_UNKNOWN_SPARK = np.iinfo(np.int16).min


class PackingDamaged(LacetError):
    """Stored bytes that don't give back what was packed."""

    def __init__(self, what: str) -> None:
        super().__init__(
            "A stored {what} is damaged; restore the library from a copy or import the GPX file again.",
            what=what,
        )


def pack(track: Track) -> bytes:
    """Return a track as bytes, rounded to about 1 cm."""
    longitude = np.round(track.longitude_deg * DEGREE_UNITS)
    columns = (
        np.round(track.latitude_deg * DEGREE_UNITS),
        # Rounding up to the date line would leave the range.
        np.where(longitude >= 180 * DEGREE_UNITS, longitude - 360 * DEGREE_UNITS, longitude),
        np.where(np.isnan(track.height_m), _UNKNOWN_HEIGHT, np.round(track.height_m * METRE_UNITS)),
        track.segment_start,
    )
    shuffled = b"".join(_shuffled(column.astype(np.int32)) for column in columns)
    return _HEAD.pack(_MARK, len(track), len(track.segment_start)) + zlib.compress(shuffled, level=1)


def unpack(packed: bytes) -> Track:
    """Return the track that was packed.

    Raises
    ------
    PackingDamaged
        When the bytes were cut, changed or never were a track.
    """
    try:
        points, segments, body = _opened(packed)
        latitude, longitude, height = (
            _unshuffled(body[at : at + 4 * points]) for at in range(0, 12 * points, 4 * points)
        )
        start = _unshuffled(body[12 * points :])
        return Track(
            latitude / DEGREE_UNITS,
            longitude / DEGREE_UNITS,
            np.where(height == _UNKNOWN_HEIGHT, np.nan, height / METRE_UNITS),
            start.astype(np.int64)[:segments],
        )
    except (struct.error, zlib.error, TrackRefused) as error:
        raise PackingDamaged("track") from error


def outline(track: Track, tolerance_m: float = OUTLINE_TOLERANCE_M) -> bytes:
    """Return the line simplified for maps and lists, packed."""
    return pack(simplify(track, tolerance_m))


def sparkline(profile: Profile, n: int = SPARKLINE_NODES) -> bytes:
    """Return `n` heights at equal distances, whole metres as little-endian int16, for a small picture."""
    at = np.linspace(0.0, profile.length_m, n)
    height = np.interp(at, profile.distance_m, profile.height_m)
    whole = np.where(np.isnan(height), _UNKNOWN_SPARK, np.round(height))
    return whole.astype("<i2").tobytes()


def sparkline_heights_m(packed: bytes) -> Floats:
    """Return the heights of a sparkline [m], NaN where unknown.

    Raises
    ------
    PackingDamaged
        When the bytes are no sparkline.
    """
    if len(packed) % 2:
        raise PackingDamaged("small profile")
    height = np.frombuffer(packed, dtype="<i2")
    return np.where(height == _UNKNOWN_SPARK, np.nan, height.astype(np.float64))


def _opened(packed: bytes) -> tuple[int, int, bytes]:
    mark, points, segments = _HEAD.unpack_from(packed)
    # Bounded before anything is inflated: damaged bytes must not ask for gigabytes.
    if mark != _MARK or not 1 <= segments <= points <= MOST_POINTS:
        raise PackingDamaged("track")
    expected = 12 * points + 4 * segments
    inflater = zlib.decompressobj()
    body = inflater.decompress(packed[_HEAD.size :], expected)
    # The checksum follows the last byte, so the stream has to be led to its end.
    rest = inflater.decompress(inflater.unconsumed_tail, 1)
    if len(body) != expected or rest or not inflater.eof or inflater.unused_data:
        raise PackingDamaged("track")
    return points, segments, body


def _shuffled(column: NDArray[np.int32]) -> bytes:
    # Differences wrap round in 32 bits, and so do their sums: nothing is lost.
    delta = np.diff(column.astype(np.uint32), prepend=np.uint32(0))
    return delta.astype("<u4").view(np.uint8).reshape(-1, 4).T.tobytes()


def _unshuffled(body: bytes) -> NDArray[np.int32]:
    delta = np.frombuffer(body, dtype=np.uint8).reshape(4, -1).T.copy().view("<u4").reshape(-1)
    return np.cumsum(delta, dtype=np.uint32).view(np.int32)
