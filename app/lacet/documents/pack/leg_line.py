"""A leg as it is really travelled: its line, and what stands along the stage, in the leg's own direction.

Distances along a stage always count in the stage's direction; this module is the one place of the pack that
turns them into the leg's.
"""

from dataclasses import dataclass

from lacet.tracks.edit import cut, reverse
from lacet.tracks.geodesy import length_m
from lacet.tracks.track import Track
from lacet.trip.catalogue import Catalogue
from lacet.trip.library import Cue, Stage
from lacet.trip.trip import Leg
from lacet.trip.words import Direction, PointKind

# Points are kept by distance with two decimals of a kilometre; one at an end belongs to it.
END_SLACK_M = 10.0


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


def leg_line(catalogue: Catalogue, leg: Leg) -> LegLine | None:
    """Return a leg's line, cut and turned; None when the library lacks its stage, track or what is cut."""
    stage = catalogue.get(Stage, leg.stage)
    if stage is None or stage.track_id not in catalogue.tracks:
        return None
    whole: Track = catalogue.tracks[stage.track_id]
    whole_m = length_m(whole)
    begin_m = leg.cut_from_m or 0.0
    end_m = whole_m if leg.cut_to_m is None else min(leg.cut_to_m, whole_m)
    if begin_m >= end_m:
        return None
    uncut = leg.cut_from_m is None and leg.cut_to_m is None
    line = whole if uncut else cut(whole, begin_m, end_m)
    return LegLine(leg, stage, reverse(line) if leg.backward else line, begin_m, end_m)
