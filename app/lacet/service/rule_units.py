"""House rules in the units a person uses: km, h, %, min, a time of day; inside they stay in ours."""

from dataclasses import Field, dataclass
from typing import Any

from lacet.wording import METRES_PER_FOOT, METRES_PER_MILE

# Times that can be longer than this are said in hours, others in minutes.
MINUTES_UP_TO_S = 21_600
_CLOCK = "minute of the day"


@dataclass(frozen=True, slots=True)
class Measure:
    """A unit as it is said, and what one of it is in the rule's own unit."""

    unit: str
    size: float = 1.0

    def show(self, value: float) -> str:
        """'18', '0.75'; a time of day as '9:30'."""
        if self.unit == _CLOCK:
            return f"{int(value) // 60}:{int(value) % 60:02d}"
        return f"{value / self.size:.6g}"

    def read(self, text: str) -> float:
        """The value in the rule's own unit; a decimal comma is as good as a point.

        Raises
        ------
        ValueError
            When it isn't a number or a time.
        """
        if self.unit == _CLOCK:
            hours, colon, minutes = text.partition(":")
            if not colon or not 0 <= int(minutes) < 60:
                raise ValueError(text)
            return int(hours) * 60 + int(minutes)
        return float(text.replace(",", ".")) * self.size

    @property
    def said(self) -> str:
        """The unit beside the field; a time of day explains itself."""
        return "h:mm" if self.unit == _CLOCK else self.unit


def measure_of(rule: Field[Any], *, imperial: bool) -> Measure:
    """How a rule is said: by its own unit and how large it may get."""
    unit, high = rule.metadata["unit"], rule.metadata["high"]
    if unit == "m":
        return _height(imperial) if "ascent" in rule.name else _length(imperial)
    if unit == "s":
        return Measure("min", 60) if high is not None and high <= MINUTES_UP_TO_S else Measure("h", 3600)
    if unit == "share":
        return Measure("%", 0.01)
    return Measure(unit)


def _length(imperial: bool) -> Measure:
    return Measure("mi", METRES_PER_MILE) if imperial else Measure("km", 1000)


def _height(imperial: bool) -> Measure:
    return Measure("ft", METRES_PER_FOOT) if imperial else Measure("m")
