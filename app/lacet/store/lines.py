"""Tracks in the file: each kept once, by the digest of its points, with what lists and maps need of it.

Figures are reckoned on the track as kept (rounded to a centimetre), so that they equal what anybody
reckons later from the catalogue.
"""

import hashlib
from typing import Any

import numpy as np
from sqlalchemy import Connection, bindparam, insert, select

from lacet.store.tables import TRACKS
from lacet.tracks.packing import outline, pack, sparkline, unpack
from lacet.tracks.profile import profile
from lacet.tracks.track import Track

COURSE = (
    "distance_m",
    "ascent_m",
    "descent_m",
    "lowest_m",
    "highest_m",
    "south_deg",
    "west_deg",
    "north_deg",
    "east_deg",
    "sparkline",
)
_COURSE = select(*(TRACKS.c[name] for name in COURSE)).where(TRACKS.c.id == bindparam("track_id"))
_PACKED = select(TRACKS.c.packed).where(TRACKS.c.id == bindparam("track_id"))
_OUTLINE = select(TRACKS.c.outline).where(TRACKS.c.id == bindparam("track_id"))


def track_id(track: Track) -> str:
    """32 hexadecimal digits of a track's points; the same on every machine, whatever its deflate library."""
    digest = hashlib.blake2b(digest_size=16)
    for column in (track.latitude_deg, track.longitude_deg, track.height_m):
        digest.update(column.astype("<f8").tobytes())
    digest.update(track.segment_start.astype("<i8").tobytes())
    return digest.hexdigest()


def keep_track(connection: Connection, track: Track) -> str:
    """Keep a track unless it is there, and return its id."""
    packed = pack(track)
    kept = unpack(packed)
    name = track_id(kept)
    if connection.execute(_COURSE, {"track_id": name}).first() is None:
        columns = {"id": name, "points": len(kept), "outline": outline(kept), "packed": packed}
        connection.execute(insert(TRACKS), columns | _figures(kept))
    return name


def course_of(connection: Connection, name: str) -> dict[str, Any]:
    """Figures, box and sparkline of a track; all None when it isn't there."""
    found = connection.execute(_COURSE, {"track_id": name}).first()
    return dict.fromkeys(COURSE) if found is None else dict(zip(COURSE, found, strict=True))


def read_packed(connection: Connection, name: str) -> bytes | None:
    """A track as it is packed, or None."""
    found: bytes | None = connection.execute(_PACKED, {"track_id": name}).scalar()
    return found


def read_track(connection: Connection, name: str) -> Track | None:
    """A track, or None when the library does not hold it."""
    packed = read_packed(connection, name)
    return None if packed is None else unpack(packed)


def read_outline(connection: Connection, name: str) -> bytes | None:
    """The 5 m line of a track, packed, or None."""
    found: bytes | None = connection.execute(_OUTLINE, {"track_id": name}).scalar()
    return found


def _figures(track: Track) -> dict[str, Any]:
    course = profile(track)
    return {
        "distance_m": course.length_m,
        "ascent_m": course.ascent_m,
        "descent_m": course.descent_m,
        "lowest_m": course.lowest_m,
        "highest_m": course.highest_m,
        "south_deg": float(np.min(track.latitude_deg)),
        "west_deg": float(np.min(track.longitude_deg)),
        "north_deg": float(np.max(track.latitude_deg)),
        "east_deg": float(np.max(track.longitude_deg)),
        "sparkline": sparkline(course),
    }
