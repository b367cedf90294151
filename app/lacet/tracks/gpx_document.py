"""Lines and places of a GPX file: what the reader returns and the writer takes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from lacet.tracks.track import Floats, Track

LineKind = Literal["track", "route"]


@dataclass(frozen=True, slots=True, eq=False)
class GpxLine:
    """One track or route of a file.

    Parameters
    ----------
    times
        Seconds since 1970 (UTC) at each point, NaN where unknown; None when no point has a usable time.
    """

    name: str
    description: str
    kind: LineKind
    track: Track
    times: Floats | None = None


@dataclass(frozen=True, slots=True)
class Waypoint:
    """One place of a file; `kind` is GPX's type, the file's own word for it, such as 'spring'."""

    latitude_deg: float
    longitude_deg: float
    height_m: float | None = None
    name: str = ""
    description: str = ""
    symbol: str = ""
    kind: str = ""
