"""The places a GPX file marks, as points of the stages they lie along.

What a mark means is read from the file's own words. Only a mark whose words say it is taken unasked: the
others may be somebody's front door, and are offered.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from lacet.tracks.edit import nearest
from lacet.tracks.geodesy import SEMI_MAJOR_M, earth_centred_m, step_lengths_m
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
    near = (waypoints[number] for number in _may_be_near(track, waypoints))
    found = [each for each in (_offer(track, waypoint) for waypoint in near) if each is not None]
    return tuple(sorted(found, key=lambda each: (each.point.along_m, each.point.name)))


def _may_be_near(track: Track, waypoints: Sequence[Waypoint]) -> list[int]:
    """Numbers of the marks within the line's box; a file of a hundred lines has the marks of all of them."""
    if not waypoints:
        return []
    line = earth_centred_m(track.latitude_deg, track.longitude_deg)
    marks = earth_centred_m(
        [each.latitude_deg for each in waypoints], [each.longitude_deg for each in waypoints]
    )
    # Between its points the ground lies higher than the chord.
    step_m = float(np.max(step_lengths_m(track), initial=0.0))
    reach_m = 2 * WITHIN_M + step_m * step_m / SEMI_MAJOR_M
    low, high = line.min(axis=1) - reach_m, line.max(axis=1) + reach_m
    inside = np.all((marks >= low[:, None]) & (marks <= high[:, None]), axis=0)
    return [int(number) for number in np.flatnonzero(inside)]


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
