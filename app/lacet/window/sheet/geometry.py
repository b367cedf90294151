"""Where things stand on the sheet, in pixels from numbers alone. No Qt, so that every rule can be tested.

Columns of one day share the day's width; parted days split it. All x values count from the left edge of
the first day.
"""

from bisect import bisect_right
from dataclasses import dataclass

from lacet.service.sheet.table import Column

EDGE_SHARE = 0.12
EDGE_LEAST_PX = 8.0


@dataclass(frozen=True, slots=True)
class SheetGeometry:
    """Left edges of the days [px], one more than there are days."""

    edges: tuple[float, ...]

    @property
    def days(self) -> int:
        return len(self.edges) - 1

    def width(self, day: int) -> float:
        return self.edges[day + 1] - self.edges[day]

    def day_at(self, x: float) -> int | None:
        """The day under x, or None beside the sheet."""
        if not self.edges or not self.edges[0] <= x < self.edges[-1]:
            return None
        return bisect_right(self.edges, x) - 1

    def gap_at(self, x: float) -> int | None:
        """The gap between days near x, as the index a new day would get; None when x is well inside a day.

        Beside the last day counts as its far gap, so that a stage can be dropped after the end.
        """
        if not self.edges or x >= self.edges[-1]:
            return max(self.days, 0)
        day = self.day_at(x)
        if day is None:
            return 0
        reach = max(EDGE_LEAST_PX, EDGE_SHARE * self.width(day))
        if x - self.edges[day] < reach:
            return day
        return day + 1 if self.edges[day + 1] - x < reach else None

    def group_at(self, x: float, groups: int) -> int:
        """The half of a parted day under x."""
        day = self.day_at(x)
        if day is None or groups < 2:
            return 0
        return min(int((x - self.edges[day]) / self.width(day) * groups), groups - 1)


def column_widths(columns: tuple[Column, ...], day_width: int) -> tuple[int, ...]:
    """Width of each column [px]; the halves of a day add up to the day exactly."""
    return tuple(
        day_width * (column.group + 1) // column.groups - day_width * column.group // column.groups
        for column in columns
    )


def geometry_of(columns: tuple[Column, ...], day_width: int) -> SheetGeometry:
    """Days of equal width."""
    days = columns[-1].day + 1 if columns else 0
    return SheetGeometry(tuple(float(day * day_width) for day in range(days + 1)))


def fitting_width(days: int, available: int, least: int = 84, most: int = 260) -> int:
    """The day width [px] at which the whole trip is in view, within what can still be read."""
    return max(least, min(most, available // days)) if days else most
