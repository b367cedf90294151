"""The hiking scale of the Swiss Alpine Club, T1 to T6, as a table to look up and never to compute.

Nobody can derive it from a track: it speaks of path, exposure and hands. It stands here so that a stage
described by it can be told in plain words beside the office's own grade.
"""

from dataclasses import dataclass
from enum import StrEnum

SOURCE = "SAC-Wanderskala, Schweizer Alpen-Club (2002, revised 2023)"


@dataclass(frozen=True, slots=True)
class SacGrade:
    """One grade: what it is like, the marking of the old table, and the highest climbing grade (UIAA) in it.

    The revision of 2023 ties markings no longer sharply to grades and allows + and -.
    """

    says: str
    marking: str
    climbing_grade: str | None


class Sac(StrEnum):
    """The six grades, easiest first."""

    T1 = "T1"
    T2 = "T2"
    T3 = "T3"
    T4 = "T4"
    T5 = "T5"
    T6 = "T6"

    @property
    def grade(self) -> SacGrade:
        """What this grade stands for."""
        return _GRADES[self]


_GRADES = {
    Sac.T1: SacGrade("good path, no risk of falling", "yellow", None),
    Sac.T2: SacGrade("continuous path, steep in places", "white-red-white", None),
    Sac.T3: SacGrade("path not always seen, exposed, hands for balance", "white-red-white", None),
    Sac.T4: SacGrade("hands needed to get on; snow, bare glacier", "white-blue-white", None),
    Sac.T5: SacGrade("mostly without a path, easy climbing", "white-blue-white", None),
    Sac.T6: SacGrade("without a path, climbing", "white-blue-white", "II"),
}
