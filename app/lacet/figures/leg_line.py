"""A leg as it is really travelled: its line, and what stands along the stage, in the leg's own direction.

Distances along a stage always count in the stage's direction; this module is the one place that cuts and
turns them into the leg's. Figures, maps and papers all read the line made here.
"""

from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from lacet.tracks.edit import cut, reverse
from lacet.tracks.geodesy import length_m
from lacet.tracks.track import Track
from lacet.trip.catalogue import Catalogue
from lacet.trip.library import Cue, Stage
from lacet.trip.trip import Leg
from lacet.trip.words import Direction, PointKind

# Points are kept by distance with two decimals of a kilometre; one at an end belongs to it.
END_SLACK_M = 10.0
KEPT_LINES = 512


class Travelled(NamedTuple):
    """A track cut and turned; `begin_m` and `end_m` are the cut, along the whole track."""

    track: Track
    begin_m: float
    end_m: float


@dataclass(frozen=True, slots=True)
class LegPoint:
    """Something along the leg, by distance from the leg's start [m]."""

    at_m: float
    kind: PointKind
    name: str
    note: str


@dataclass(frozen=True, slots=True, eq=False)
class LegLine:
    """A leg's line; `begin_m` and `end_m` are its cut, along the stage."""

    leg: Leg
    stage: Stage
    track: Track
    begin_m: float
    end_m: float

    @property
    def length_m(self) -> float:
        return self.end_m - self.begin_m

    def at_m(self, along_m: float) -> float | None:
        """Return a distance along the stage as one from the leg's start, or None outside the cut [m]."""
        if not self.begin_m - END_SLACK_M <= along_m <= self.end_m + END_SLACK_M:
            return None
        own = self.end_m - along_m if self.leg.backward else along_m - self.begin_m
        return min(max(own, 0.0), self.length_m)

    def points(self) -> tuple[LegPoint, ...]:
        """Return what stands along the leg, nearest first."""
        found = [
            LegPoint(at_m, point.kind, point.name, point.note)
            for point in self.stage.points
            if (at_m := self.at_m(point.along_m)) is not None
        ]
        return tuple(sorted(found, key=lambda point: point.at_m))

    def cues(self) -> tuple[tuple[float, Cue], ...]:
        """Return what was written for this direction, nearest first; never the other direction's text."""
        wanted = Direction.BACK if self.leg.backward else Direction.OUT
        found = [
            (at_m, cue)
            for cue in self.stage.cues
            if cue.direction is wanted and (at_m := self.at_m(cue.along_m)) is not None
        ]
        return tuple(sorted(found, key=lambda each: each[0]))


@lru_cache(maxsize=KEPT_LINES)
def travelled(track: Track, backward: bool, from_m: float | None, to_m: float | None) -> Travelled | None:
    """Return a track cut and turned; kept, since a drag asks for it many times a second.

    The cut counts from the track's own start [m]. A newer version of a stage may be shorter than the cut: the
    leg then ends where the stage does, and is None when nothing of the cut is left.
    """
    whole_m = length_m(track)
    begin_m = from_m or 0.0
    end_m = whole_m if to_m is None else min(to_m, whole_m)
    if begin_m >= end_m:
        return None
    line = track if from_m is None and to_m is None else cut(track, begin_m, end_m)
    return Travelled(reverse(line) if backward else line, begin_m, end_m)


def leg_line(catalogue: Catalogue, leg: Leg) -> LegLine | None:
    """Return a leg's line, cut and turned; None when the library lacks its stage, track or what is cut."""
    stage = catalogue.get(Stage, leg.stage)
    if stage is None or stage.track_id not in catalogue.tracks:
        return None
    found = travelled(catalogue.tracks[stage.track_id], leg.backward, leg.cut_from_m, leg.cut_to_m)
    return None if found is None else LegLine(leg, stage, *found)
