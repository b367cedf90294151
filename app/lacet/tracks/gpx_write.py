"""Lines and places as a GPX 1.1 document that the schema accepts, by way of gpxpy.

gpxpy puts the children in order. What it leaves to us is here: longitudes below 180, numbers without
exponents, characters that XML knows, and no clock: equal documents are equal bytes.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import TYPE_CHECKING

import numpy as np

from lacet.tracks.gpx_document import GpxLine, Waypoint
from lacet.tracks.track import Floats

if TYPE_CHECKING:
    from gpxpy.gpx import GPXRoute, GPXTrack, GPXWaypoint

CREATOR = "Lacet"
POSITION_DECIMALS = 7
HEIGHT_DECIMALS = 2

# Whatever XML 1.0 forbids, the controls it allows but nobody can read, and turns of the reading direction.
_UNWRITABLE = re.compile(
    "[^\t\n\r\x20-\x7e\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]|[\u202a-\u202e\u2066-\u2069]"
)


@dataclass(frozen=True, slots=True, eq=False)
class GpxDocument:
    """What goes into one file; `time` is when it was made, told by the caller."""

    name: str
    time: datetime | None = None
    description: str = ""
    lines: tuple[GpxLine, ...] = ()
    waypoints: tuple[Waypoint, ...] = ()


def write_gpx(document: GpxDocument) -> bytes:
    """Return a document as GPX 1.1 in UTF-8.

    Positions get 7 decimals (1 cm), heights 2. GPX gives routes no segments, so a route goes on over its
    gaps.
    """
    from gpxpy.gpx import GPX

    gpx = GPX()
    gpx.creator = CREATOR
    gpx.name = _text(document.name)
    gpx.description = _text(document.description)
    gpx.time = document.time.astimezone(UTC) if document.time else None
    gpx.waypoints = [_waypoint(place) for place in document.waypoints]
    gpx.routes = [_route(line) for line in document.lines if line.kind == "route"]
    gpx.tracks = [_track(line) for line in document.lines if line.kind == "track"]
    return gpx.to_xml(version="1.1").encode()


def _track(line: GpxLine) -> GPXTrack:
    from gpxpy.gpx import GPXTrack, GPXTrackPoint, GPXTrackSegment

    written = GPXTrack(_text(line.name), _text(line.description))
    points = [
        GPXTrackPoint(latitude, longitude, height, time) for latitude, longitude, height, time in _rows(line)
    ]
    written.segments = [GPXTrackSegment(points[part]) for part in line.track.segments]
    return written


def _route(line: GpxLine) -> GPXRoute:
    from gpxpy.gpx import GPXRoute, GPXRoutePoint

    written = GPXRoute(_text(line.name), _text(line.description))
    written.points = [
        GPXRoutePoint(latitude, longitude, height, time) for latitude, longitude, height, time in _rows(line)
    ]
    return written


def _waypoint(place: Waypoint) -> GPXWaypoint:
    from gpxpy.gpx import GPXWaypoint

    height = None if place.height_m is None else round(place.height_m, HEIGHT_DECIMALS)
    return GPXWaypoint(
        round(place.latitude_deg, POSITION_DECIMALS),
        _longitude(round(place.longitude_deg, POSITION_DECIMALS)),
        height,
        name=_text(place.name),
        description=_text(place.description),
        symbol=_text(place.symbol),
        type=_text(place.kind),
    )


def _rows(line: GpxLine) -> list[tuple[float, float, float | None, datetime | None]]:
    track = line.track
    times = np.full(len(track), np.nan) if line.times is None else line.times
    columns = (
        np.round(track.latitude_deg, POSITION_DECIMALS),
        np.round(track.longitude_deg, POSITION_DECIMALS),
        np.round(track.height_m, HEIGHT_DECIMALS),
        times,
    )
    return [
        (latitude, _longitude(longitude), _known(height), _moment(time))
        for latitude, longitude, height, time in zip(*map(_listed, columns), strict=True)
    ]


def _listed(column: Floats) -> list[float]:
    # Adding zero turns -0.0 into 0.0.
    return [float(value) for value in (column + 0.0).tolist()]


def _longitude(longitude_deg: float) -> float:
    return -180.0 if longitude_deg >= 180.0 else longitude_deg


def _known(value: float) -> float | None:
    return None if np.isnan(value) else value


def _moment(time_s: float) -> datetime | None:
    return None if np.isnan(time_s) else datetime.fromtimestamp(time_s, UTC)


def _text(text: str) -> str | None:
    """Return a text without characters XML can't hold, None when nothing is left."""
    return _UNWRITABLE.sub("", text).strip() or None
