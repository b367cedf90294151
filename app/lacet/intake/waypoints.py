"""The places a GPX file marks, as points of the stages they lie along.

What a mark means is read from the file's own words. Only a mark whose words say it is taken unasked: the
others may be somebody's front door, and are offered.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from lacet.tracks.edit import nearest
from lacet.tracks.gpx_document import Waypoint
from lacet.tracks.track import Track
from lacet.trip.library import StagePoint
from lacet.trip.words import PointKind

WITHIN_M = 150.0

# Words of the trade in English; a mark in another language is offered as a viewpoint.
_WORDS: dict[PointKind, tuple[str, ...]] = {
    PointKind.CHARGING: ("charging", "charger", "e-bike"),
    PointKind.TAXI_PICKUP: ("taxi", "pick-up", "pickup"),
    PointKind.WATER: ("water", "spring", "fountain", "well", "tap"),
    PointKind.FOOD: ("food", "restaurant", "cafe", "café", "pub", "bar", "bakery", "shop", "kiosk", "meal"),
    PointKind.SHELTER: ("shelter", "hut", "refuge", "cabin", "bothy"),
    PointKind.HAZARD: ("hazard", "danger", "caution", "steep drop", "rockfall", "ford"),
    PointKind.VIEWPOINT: ("view", "viewpoint", "lookout", "scenic", "summit", "peak"),
}


@dataclass(frozen=True, slots=True)
class Offered:
    """A mark as a point of a stage; `sure` when the file's own words tell its kind."""

    point: StagePoint
    sure: bool


def offered(track: Track, waypoints: Sequence[Waypoint]) -> tuple[Offered, ...]:
    """The marks within 150 m of a line, in the order they are passed."""
    found = [each for each in (_offer(track, waypoint) for waypoint in waypoints) if each is not None]
    return tuple(sorted(found, key=lambda each: (each.point.along_m, each.point.name)))


def kind_told(waypoint: Waypoint) -> PointKind | None:
    """What the file's words say it is: type and symbol first, then the name."""
    for text in (waypoint.kind, waypoint.symbol, waypoint.name):
        for kind, words in _WORDS.items():
            if any(re.search(rf"\b{re.escape(word)}\b", text, re.I) for word in words):
                return kind
    return None


def _offer(track: Track, waypoint: Waypoint) -> Offered | None:
    along_m, off_m = nearest(track, waypoint.latitude_deg, waypoint.longitude_deg)
    if off_m > WITHIN_M:
        return None
    kind = kind_told(waypoint)
    chosen = PointKind.VIEWPOINT if kind is None else kind
    name = waypoint.name or chosen.value.replace("_", " ").capitalize()
    return Offered(StagePoint(float(round(along_m)), chosen, name), kind is not None)
