"""Mouse drags over the sheet: where they would fall, with the geometry the drag began with.

While a drag is previewed the sheet may show one column more; the targets stay those of the sheet as it was,
or the target would run away from under the mouse.
"""

from dataclasses import dataclass

from PySide6.QtCore import QPoint, QPointF

from lacet.service.sheet.table import SheetTable
from lacet.trip.drop import (
    DayPayload,
    Gap,
    OnDay,
    Payload,
    StayPayload,
    Target,
)
from lacet.window.sheet.geometry import SheetGeometry

STAY_EDGE_PX = 9.0


@dataclass(frozen=True, slots=True)
class Ground:
    """The sheet as it was when the drag came in."""

    table: SheetTable
    days: SheetGeometry
    lanes_top: int
    lane_height: int

    def target_at(self, position: QPoint, payload: Payload) -> Target:
        """What lies under the mouse for this payload."""
        x = float(position.x())
        gap = self.days.gap_at(x)
        if isinstance(payload, DayPayload):
            return Gap(self._nearest_gap(x))
        if gap is not None:
            return Gap(gap)
        day = self.days.day_at(x) or 0
        return OnDay(day, self._card_index(day, position), self._travellers(day, x))

    def _nearest_gap(self, x: float) -> int:
        return min(range(self.days.days + 1), key=lambda gap: abs(self.days.edges[gap] - x))

    def _card_index(self, day: int, position: QPoint) -> int | None:
        """Before the card whose upper half is under the mouse; None = after all of them."""
        count = len(self.table.shown.variant.days[day].items)
        lane = (position.y() - self.lanes_top + self.lane_height / 2) // self.lane_height
        return None if lane >= count or lane < 0 else int(lane)

    def _travellers(self, day: int, x: float) -> tuple[str, ...] | None:
        """Those of the half under the mouse; None where the day isn't parted."""
        groups = self.table.shown.assessment.figures.days[day].groups
        if len(groups) < 2:
            return None
        return groups[self.days.group_at(x, len(groups))].travellers


@dataclass(frozen=True, slots=True)
class StayPull:
    """The right edge of a stay, held by the mouse at x."""

    day: str
    lodging: str
    x: float

    def payload_at(self, x: float, day_width: int) -> StayPayload:
        """So many nights as the mouse has gone days."""
        return StayPayload(self.day, self.lodging, round((x - self.x) / day_width))


def stay_pull_at(table: SheetTable, days: SheetGeometry, x: float) -> StayPull | None:
    """The stay whose right edge is near x, or None."""
    for index, day in enumerate(table.shown.variant.days):
        following = table.shown.variant.days[index + 1 : index + 2]
        for night in day.nights:
            goes_on = any(each.lodging.id == night.lodging.id for after in following for each in after.nights)
            edge = days.edges[index] + 1.5 * days.width(index)
            if not goes_on and abs(x - edge + 4) <= STAY_EDGE_PX:
                return StayPull(day.id, night.lodging.id, x)
    return None


def moved_enough(start: QPoint, now: QPointF, distance: int) -> bool:
    return (now.toPoint() - start).manhattanLength() >= distance
