"""The figures of one way to spend a day, in words: the plan's, or an alternative's beside it."""

from collections.abc import Sequence
from dataclasses import dataclass

from lacet.figures.values import GroupFigures
from lacet.wording import UNKNOWN, Wording


@dataclass(frozen=True, slots=True)
class WayRow:
    """One way to spend the day in words: why, what, and its figures."""

    why: str
    what: str
    length: str = UNKNOWN
    climb: str = UNKNOWN
    moving: str = UNKNOWN
    done_by: str = UNKNOWN

    @property
    def figures(self) -> str:
        return f"{self.length}  ·  {self.climb}  ·  {self.moving}  ·  done by {self.done_by}"


def leading(groups: Sequence[GroupFigures]) -> GroupFigures | None:
    """Those who move longest."""
    return max(groups, key=lambda group: group.moving_s, default=None)


def way_row(why: str, what: str, group: GroupFigures | None, wording: Wording) -> WayRow:
    """The figures of one way; a dash for what isn't known."""
    if group is None or not group.legs:
        return WayRow(why, what, done_by=wording.clock(group.done_s) if group else UNKNOWN)
    return WayRow(
        why,
        what,
        wording.length(group.distance_m),
        f"↑ {wording.height(group.ascent_m)}",
        wording.duration(group.moving_s),
        wording.clock(group.done_s),
    )
