"""Predicted against recorded moving time, for every timed track in a folder of GPX files.

    python tests/bench/recorded_times.py FOLDER

A measurement to read, not a test: it prints each recording with what the rules say, then what is left out and
why. What was walked and what was ridden is told by the mean speed alone, so a run or a slow car may stand
among the rides. Moving time is what stays when the recorder stood still (slower than 0.3 m/s over ten seconds
or more) or paused.
"""

import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "app"))

from lacet.effort.bikes import BikeFigures
from lacet.effort.cycling import ride
from lacet.effort.quantity import KMH_PER_M_S, METRES_PER_KM, Array
from lacet.effort.riders import Rider, RiderClass
from lacet.effort.walking import RULES, walking_times_s
from lacet.tracks.geodesy import cumulative_m
from lacet.tracks.gpx_document import GpxLine
from lacet.tracks.gpx_read import read_gpx
from lacet.tracks.profile import Profile, profile
from lacet.trip.errors import LacetError

SHORTEST_M = 1000.0
SAME_WITHIN_M = 20.0  # the same recording is kept in several files
STANDING_M_S = 0.3
WINDOW_S = 10.0
LONGEST_STEP_S = 300.0
WALKS_KMH = (1.5, 7.0)
RIDES_KMH = (10.0, 30.0)
ROAD_BIKE = BikeFigures(mass_kg=9.0, drag_area_m2=0.40, tyre_factor=1.0)


@dataclass(frozen=True)
class Recording:
    """One timed line, and how long it moved."""

    name: str
    profile: Profile
    moving_s: float

    @property
    def kmh(self) -> float:
        """Mean speed while moving."""
        return self.profile.length_m / self.moving_s * KMH_PER_M_S


def moving_time_s(line: GpxLine) -> float | None:
    """Time in motion [s], None where the times can't be used."""
    if line.times is None:
        return None
    known = np.isfinite(line.times)
    along_m, at_s = cumulative_m(line.track)[known], line.times[known]
    if at_s.size < 2 or np.any(np.diff(at_s) < 0.0):
        return None
    marks = _marks(at_s)
    steps_s, steps_m = np.diff(at_s[marks]), np.diff(along_m[marks])
    moving = (steps_m > STANDING_M_S * steps_s) & (steps_s > 0.0) & (steps_s <= LONGEST_STEP_S)
    if steps_m[moving].sum() < 0.9 * along_m[-1]:
        return None  # most of the way lies in steps that are too long to tell moving from standing
    return float(steps_s[moving].sum())


def _marks(at_s: Array) -> list[int]:
    """Points at least ten seconds apart: between nearer ones the noise of the position looks like speed."""
    marks = [0]
    for index, second in enumerate(at_s):
        if second - at_s[marks[-1]] >= WINDOW_S:
            marks.append(index)
    return marks


def recordings(folder: Path) -> Iterator[Recording | str]:
    """Every usable line once, and a sentence for each that isn't."""
    seen: set[int] = set()
    for path in sorted(folder.glob("*.gpx")):
        try:
            lines = read_gpx(path).lines
        except LacetError as refusal:
            yield f"{path.stem}: {refusal}"
            continue
        for line in lines:
            yield from _of_line(f"{path.stem} {line.name}"[:46], line, seen)


def _of_line(name: str, line: GpxLine, seen: set[int]) -> Iterator[Recording | str]:
    along = profile(line.track)
    if line.times is None or along.length_m < SHORTEST_M:
        return
    key = round(along.length_m / SAME_WITHIN_M)
    if key in seen:
        return
    seen.add(key)
    moving_s = moving_time_s(line)
    if moving_s is None:
        yield f"{name}: {along.length_m / METRES_PER_KM:.1f} km, times missing, backwards or too far apart"
    elif along.ascent_m is None:
        yield f"{name}: {along.length_m / METRES_PER_KM:.1f} km, heights unknown"
    else:
        yield Recording(name, along, moving_s)


def print_walks(walks: list[Recording]) -> None:
    """A line a walk: recorded hours, and predicted over recorded by each rule."""
    print(f"\n{'walk':46} {'km':>5} {'up m':>5} {'km/h':>5} {'h':>5}  predicted / recorded")
    print(" " * 71, *(f"{rule.id:>9}" for rule in RULES))
    table = []
    for walk in walks:
        along = walk.profile
        ratios = [
            walking_times_s(
                rule, along.distance_m, along.height_m, 1.0, along.ascent_m, along.descent_m
            ).moving_s
            / walk.moving_s
            for rule in RULES
        ]
        table.append(ratios)
        print(_head(walk), *(f"{ratio:9.2f}" for ratio in ratios))
    print_summary(table)


def print_rides(rides: list[Recording]) -> None:
    """A line a ride: predicted over recorded for each class on a touring bike, then on a road bike."""
    print(f"\n{'ride':46} {'km':>5} {'up m':>5} {'km/h':>5} {'h':>5}  predicted / recorded")
    names = [f"{kind}{rider.value[:7]}" for kind in ("", "r:") for rider in RiderClass]
    print(" " * 71, *(f"{name:>9}" for name in names))
    table = []
    for ridden in rides:
        along = ridden.profile
        ratios = [
            ride(along.distance_m, along.height_m, Rider(rider_class=rider), bike).moving_s / ridden.moving_s
            for bike in (BikeFigures(), ROAD_BIKE)
            for rider in RiderClass
        ]
        table.append(ratios)
        print(_head(ridden), *(f"{ratio:9.2f}" for ratio in ratios))
    print_summary(table)


def print_summary(table: list[list[float]]) -> None:
    """Median of each column, and the middle spread."""
    if table:
        for name, value in (
            ("median", np.median(table, axis=0)),
            ("least", np.min(table, axis=0)),
            ("most", np.max(table, axis=0)),
        ):
            print(f"{name:>71}", *(f"{ratio:9.2f}" for ratio in value))


def _head(one: Recording) -> str:
    along = one.profile
    return (
        f"{one.name:46} {along.length_m / METRES_PER_KM:5.1f} {along.ascent_m or 0.0:5.0f}"
        f" {one.kmh:5.1f} {one.moving_s / 3600.0:5.2f}"
    )


def main(arguments: list[str]) -> int:
    """Print the tables for one folder."""
    if len(arguments) != 1 or not Path(arguments[0]).is_dir():
        print("Name one folder with GPX files.", file=sys.stderr)
        return 2
    found = list(recordings(Path(arguments[0])))
    timed = [one for one in found if isinstance(one, Recording)]
    walks = [one for one in timed if WALKS_KMH[0] <= one.kmh <= WALKS_KMH[1]]
    rides = [one for one in timed if RIDES_KMH[0] <= one.kmh <= RIDES_KMH[1]]
    print_walks(walks)
    print_rides(rides)
    print("\nLeft out:")
    for one in found:
        if isinstance(one, str):
            print(f"  {one}")
        elif one not in walks and one not in rides:
            print(f"  {one.name}: {one.kmh:.1f} km/h is neither a walk nor a ride")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
