"""What a recording tells: on foot or by bike, and how long it took in movement. Nothing of who or when.

Thresholds are common practice, no source.
"""

from dataclasses import dataclass

import numpy as np

from lacet.tracks.geodesy import step_lengths_m
from lacet.tracks.gpx_document import GpxLine
from lacet.tracks.track import Floats, Track
from lacet.trip.library import Recording
from lacet.trip.words import Way

STANDS_BELOW_M_S = 0.3
BIKE_FROM_M_S = 2.5
NO_BIKE_FROM_M_S = 14.0
# A longer silence of the receiver is a pause, however far its ends lie apart.
LONGEST_STEP_S = 120.0


@dataclass(frozen=True, slots=True)
class Pace:
    """Time in movement [s], distance in movement [m] and the mean speed [m/s]."""

    moving_s: float
    distance_m: float

    @property
    def speed_m_s(self) -> float:
        return self.distance_m / self.moving_s if self.moving_s else 0.0

    @property
    def way(self) -> Way:
        return Way.CYCLING if self.speed_m_s >= BIKE_FROM_M_S else Way.WALKING

    @property
    def is_drive(self) -> bool:
        """Whether nobody on a bike is that fast."""
        return self.speed_m_s >= NO_BIKE_FROM_M_S


def pace(line: GpxLine) -> Pace | None:
    """The pace of a recorded line, or None when it has no usable times."""
    return None if line.times is None else pace_of(line.track, line.times)


def pace_of(track: Track, times: Floats) -> Pace | None:
    """The pace along a track whose points have times [s], or None when too few are usable."""
    step, took = step_lengths_m(track), np.diff(times)
    sound = np.isfinite(took) & (took > 0) & (took <= LONGEST_STEP_S) & ~track.is_gap
    moves = sound & (step >= STANDS_BELOW_M_S * np.where(sound, took, 1.0))
    moving_s, distance_m = float(took[moves].sum()), float(step[moves].sum())
    # Half the way at least must have been timed, or the sum says nothing about the whole.
    return Pace(moving_s, distance_m) if moving_s and distance_m > step.sum() / 2 else None


def recording(found: Pace | None) -> Recording | None:
    """What is kept of it."""
    if found is None or found.is_drive:
        return None
    return Recording(found.way, float(round(found.moving_s)), float(round(found.distance_m)))
