"""How much of a frame daylight and opening hours take, while a leg is dragged over a 14-day trip.

Ratios against one frame of a 60 Hz screen; each figure is the median of several runs. Run with `tests/run.py
--bench`.
"""

from __future__ import annotations

import statistics
import sys
import time
from collections.abc import Callable
from datetime import date, datetime, timedelta
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "app"))

from lacet.days import hours, sun
from lacet.days.holidays import holidays_for
from lacet.days.opening import opening, state

FRAME_S = 1 / 60
RUNS = 21
ZONE = "VRT1VRST,M3.5.0/0,M10.5.0/1"
START = date(2027, 5, 3)
HOLIDAYS = holidays_for(
    {"05-01": "Labour Day", "06-24": "Midsummer", "12-25": "Christmas", "easter+1": "Easter Monday"}
)
TEXTS = (
    "Tu-Su 11:30-14:00,18:30-22:00; PH off",
    "Mo-Sa 08:00-18:00",
    "Apr-Oct: Mo-Sa 09:00-18:00; Nov-Mar: Sa 10:00-15:00",
    "Fr-Sa 18:00-02:00; PH 11:00-14:00",
    "Mo-Fr 09:00-17:00 || unknown",
    "18:00+",
)
QUESTIONS = [
    (opening(text), datetime(2027, 5, 3, 19, 30) + timedelta(days=day)) for day in range(10) for text in TEXTS
]


def forget_sun() -> None:
    """Empty what daylight remembers."""
    sun._sun.cache_clear()


def forget_hours() -> None:
    """Empty what opening hours remember of days and texts."""
    hours.pieces.cache_clear()
    hours._evaluator.cache_clear()


def keep() -> None:
    """Empty nothing."""


def suns() -> None:
    """Ask the daylight of 14 days at 14 places."""
    for day in range(14):
        sun.sun(44.2 + day / 100, -24.6, START + timedelta(days=day), ZONE)


def states() -> None:
    """Ask 60 states of six texts."""
    for asked, moment in QUESTIONS:
        state(asked, moment, HOLIDAYS)


def median_s(ask: Callable[[], None], before: Callable[[], None]) -> float:
    """Return the median time of a question [s], after `before` each time."""
    times = []
    for _ in range(RUNS):
        before()
        began = time.perf_counter()
        ask()
        times.append(time.perf_counter() - began)
    return statistics.median(times)


def main() -> None:
    """Print a line a figure."""
    for says, ask, before in (
        ("14 days of daylight, cold", suns, forget_sun),
        ("14 days of daylight, hot", suns, keep),
        ("60 opening states, cold", states, forget_hours),
        ("60 opening states, hot", states, keep),
    ):
        ask()
        print(f"{says:<28} {median_s(ask, before) / FRAME_S:7.4f} of a 60 Hz frame")


if __name__ == "__main__":
    main()
