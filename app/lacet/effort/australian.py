"""The Australian Walking Track Grading System: five grades, the most challenging aspect decides."""

from enum import IntEnum

SOURCE = "Australian Walking Track Grading System, Users Guide (Parks Victoria); criteria table"


class Gradient(IntEnum):
    """How steep it gets; the value is the lowest grade that allows it."""

    FLAT = 1
    GENTLE_HILLS = 2
    SHORT_STEEP_HILLS = 3
    VERY_STEEP = 4
    VERY_STEEP_AND_DIFFICULT = 5


class TrackSteps(IntEnum):
    """Steps on the track."""

    NONE = 1
    OCCASIONAL = 2
    MANY = 3


class TrackPath(IntEnum):
    """State of the path."""

    WELL_FORMED = 1
    FORMED = 2
    FORMED_SOME_OBSTACLES = 3
    ROUGH_MANY_OBSTACLES = 4
    ROUGH_UNFORMED = 5


class TrackSigns(IntEnum):
    """Signs along it."""

    CLEAR = 1
    POSTED = 3
    LIMITED = 4
    NONE = 5


LONGEST_M = (5_000.0, 10_000.0, 20_000.0)
"""Upper length of grades 1 to 3; the grades above have none."""


def australian_grade(
    distance_m: float, gradient: Gradient, steps: TrackSteps, path: TrackPath, signs: TrackSigns
) -> int:
    """Grade 1 to 5: the hardest of all criteria, never their mean; length alone asks for 4 at most."""
    by_length = 1 + sum(distance_m > longest for longest in LONGEST_M)
    return max(by_length, gradient, steps, path, signs)
