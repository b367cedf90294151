"""Which of many lines can be the same as another: those that pass both of its ends.

Laying two lines beside each other takes a millisecond; a tree of all lines leaves the neighbours only.
On Mercator's map small distances are the same in every direction, only larger the nearer the pole.
"""

from collections.abc import Sequence

import numpy as np
import shapely

from lacet.tracks.edit import positions_at, simplify
from lacet.tracks.geodesy import SEMI_MAJOR_M, cumulative_m
from lacet.tracks.track import Floats, Track

# Between two places so near to each other the map's straight line is the ground's within a metre.
DENSE_M = 5_000.0
# The map is flat and the earth isn't a sphere; erring, a neighbour is laid beside for nothing.
WIDER = 1.5
_HIGHEST_DEG = 89.5


class Alongside:
    """Lines in an order, to ask which of them pass near to a line's both ends.

    Parameters
    ----------
    within_m
        How near is near [m]; a quarter of it is what lines are simplified by, as `same_line` does.
    """

    def __init__(self, tracks: Sequence[Track], within_m: float) -> None:
        self._within_m = within_m
        self._tree = shapely.STRtree([_on_map(track, within_m / 4) for track in tracks])
        # A line over the date line runs across the whole map.
        self._everywhere = [number for number, track in enumerate(tracks) if _turns_round(track)]

    def passing(self, track: Track) -> list[int]:
        """Numbers of the lines that pass near to its first and its last place, in order."""
        found = set(self._near(track, 0)) & set(self._near(track, -1))
        return sorted(found.union(self._everywhere))

    def _near(self, track: Track, index: int) -> list[int]:
        latitude_deg = float(np.clip(track.latitude_deg[index], -_HIGHEST_DEG, _HIGHEST_DEG))
        (place,) = _mercator(track.latitude_deg[[index]], track.longitude_deg[[index]])
        reach = WIDER * self._within_m / SEMI_MAJOR_M / np.cos(np.radians(latitude_deg))
        found: list[int] = self._tree.query(
            shapely.points(place), predicate="dwithin", distance=reach
        ).tolist()
        return found


def beginning_near(
    tracks: Sequence[Track], places: Sequence[Sequence[tuple[float, float]]], within_deg: float
) -> list[int]:
    """Numbers of the groups of places (latitude and longitude) one of which lies near where a line begins.

    Parameters
    ----------
    within_deg
        How near is near in latitude [deg]; three times as much in longitude, for the sake of the north.
    """
    starts = [(float(each.longitude_deg[0]), float(each.latitude_deg[0])) for each in tracks]
    begins = shapely.STRtree(shapely.points(np.array(starts).reshape(-1, 2)))
    of = [number for number, group in enumerate(places) for _ in group]
    north, east = np.array([place for group in places for place in group], dtype=float).reshape(-1, 2).T
    wide_deg = 3 * within_deg
    boxes = shapely.box(east - wide_deg, north - within_deg, east + wide_deg, north + within_deg)
    found, _ = begins.query(boxes) if of else ((), ())
    return sorted({of[index] for index in found})


def _on_map(track: Track, tolerance_m: float) -> shapely.Geometry:
    thin = simplify(track, tolerance_m)
    along = cumulative_m(thin)
    at = np.union1d(along, np.arange(0.0, along[-1], DENSE_M))
    latitude, longitude, _ = positions_at(thin, at)
    places = _mercator(latitude, longitude)
    return shapely.linestrings(places if len(places) > 1 else np.repeat(places, 2, axis=0))


def _mercator(latitude_deg: Floats, longitude_deg: Floats) -> Floats:
    north = np.arcsinh(np.tan(np.radians(np.clip(latitude_deg, -_HIGHEST_DEG, _HIGHEST_DEG))))
    return np.column_stack((np.radians(longitude_deg), north))


def _turns_round(track: Track) -> bool:
    return bool(np.any(np.abs(np.diff(track.longitude_deg)) > 180.0))
