"""What a rule of walking time is: one object, which every list of rules is made from.

A rule's own file holds the published formula and, last in it, `RULE`: how the office applies the formula to a
profile, with its clamps.
"""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

from lacet.effort.quantity import Array
from lacet.effort.steps import Steps


class Needs(StrEnum):
    """What a rule looks at besides the distance."""

    CLIMB = "climb"
    FALL = "fall"
    SLOPE = "slope"


@dataclass(frozen=True, slots=True, eq=False)
class Ground:
    """What a rule may look at: the steps, and the leg's climb and fall shared out over them [m]."""

    steps: Steps
    climb_m: Array
    fall_m: Array


@dataclass(frozen=True, slots=True)
class WalkingRule:
    """A published rule of walking time.

    Attributes
    ----------
    id : what a house rule and a kept trip call it; never changes
    name, source, note : as people read them; the note says for whom, and what the office clamps
    needs : what it looks at: `CLIMB` and `FALL` are the leg's totals, `SLOPE` that of each step
    step_s : seconds of each step at pace 1
    """

    id: str
    name: str
    source: str
    note: str
    needs: frozenset[Needs]
    step_s: Callable[[Ground], Array]
