"""Round ticks for the axes of a profile, in kilometres and metres or miles and feet."""

import math
from dataclasses import dataclass

from lacet.documents.drawing.marks import round_below
from lacet.wording import METRES_PER_FOOT, METRES_PER_MILE

# Lower ground isn't drawn as mountains.
LEAST_SPAN_M = 100.0
MOST_HEIGHT_TICKS = 5
TICK_MM = 16.0


@dataclass(frozen=True, slots=True)
class Axis:
    """Where an axis begins and ends, in its unit; `unit_m` is the length of one unit [m]."""

    unit: str
    unit_m: float
    low: float
    high: float
    ticks: tuple[float, ...]

    @property
    def low_m(self) -> float:
        return self.low * self.unit_m

    @property
    def high_m(self) -> float:
        return self.high * self.unit_m


def height_axis(lowest_m: float, highest_m: float, *, imperial: bool) -> Axis:
    """Heights from a round figure to a round figure; from the sea where that is near."""
    unit_m, unit = (METRES_PER_FOOT, "ft") if imperial else (1.0, "m")
    low, high = lowest_m / unit_m, highest_m / unit_m
    least = LEAST_SPAN_M / unit_m
    span = max(high - low, least)
    if 0 <= low < 0.5 * span:
        low = 0.0
    high = max(high, low + least)
    step = _step((high - low) / MOST_HEIGHT_TICKS)
    first, last = math.floor(low / step), math.ceil(high / step)
    return Axis(unit, unit_m, first * step, last * step, tuple(n * step for n in range(first, last + 1)))


def distance_axis(length_m: float, width_mm: float, *, imperial: bool) -> Axis:
    """Distance from the start to the end, with a tick every two centimetres or so."""
    unit_m, unit = (METRES_PER_MILE, "mi") if imperial else (1000.0, "km")
    length = max(length_m, 1.0) / unit_m
    step = _step(length / max(width_mm / TICK_MM, 1.0))
    ticks = tuple(n * step for n in range(math.floor(length / step + 1e-9) + 1))
    return Axis(unit, unit_m, 0.0, length, ticks)


def _step(least: float) -> float:
    """The least of 1, 2, 5 times a power of ten that isn't below a value."""
    # The reciprocals of 1, 2 and 5 are 1, 5 and 2 again, tenfold.
    return 1.0 / round_below(1.0 / least)
