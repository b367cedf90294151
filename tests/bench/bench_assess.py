"""A 14-day variant for four, assessed as a drag asks for it: one leg moved; and from nothing kept.

Times are ratios against one frame of a 60 Hz screen, medians of several runs; beside them the Python calls,
which don't depend on the machine. Run with `tests/run.py --bench`.
"""

from __future__ import annotations

import statistics
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path
from types import FrameType

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "app"))

from lacet.assess import assess
from lacet.demo import demo_items, demo_tracks, demo_trips
from lacet.demo.building import demo_settings
from lacet.figures import leg as legs
from lacet.inputs import Inputs
from lacet.price import tariffs
from lacet.tracks.track import Track
from lacet.trip import edits
from lacet.trip.catalogue import catalogue_of
from lacet.trip.house_rules import HouseRules
from lacet.trip.kept import forget_kept
from lacet.trip.trip import Trip

FRAME_S = 1 / 60
RUNS = 41
DAYS = 14
AS_OF = date(2026, 11, 25)


class Tracks(dict[str, Track]):
    """Tracks by id."""


def long_trip() -> Trip:
    """The mixed demo trip, its days taken again until there are fourteen."""
    trip = demo_trips()[0]
    first = trip.variants[0]
    while len(trip.variants[0].days) < DAYS:
        missing = DAYS - len(trip.variants[0].days)
        chosen = tuple(day.id for day in first.days[1 : 1 + missing])
        trip = edits.take_days(trip, first.id, chosen, first.id, len(trip.variants[0].days))
    return replace(trip, departures=())


def median_frames(work: Callable[[], object], before: Callable[[], object] = lambda: None) -> float:
    """Median duration in frames."""
    taken = []
    for _ in range(RUNS):
        before()
        started = time.perf_counter()
        work()
        taken.append(time.perf_counter() - started)
    return statistics.median(taken) / FRAME_S


def calls(work: Callable[[], object]) -> int:
    """Python calls made by some work."""
    made = 0

    def count(_frame: FrameType, event: str, _argument: object) -> None:
        nonlocal made
        made += event == "call"

    sys.setprofile(count)
    try:
        work()
    finally:
        sys.setprofile(None)
    return made


def forget() -> None:
    """Empty what is kept of days, prices, tariffs, profiles and efforts."""
    forget_kept()
    tariffs._BOOKS.clear()
    legs.leg_profile.cache_clear()
    legs._walked.cache_clear()
    legs._ridden.cache_clear()


def main() -> None:
    region, office = demo_settings()
    catalogue = catalogue_of(demo_items(), Tracks(demo_tracks()), region, office)
    trip, rules = long_trip(), HouseRules()
    variant = trip.variants[0]
    leg = next(item for item in variant.items() if hasattr(item, "stage"))
    there = [variant.days[index].id for index in (3, 7)]
    moved = [edits.move_item(trip, variant.id, leg.id, day_id, 0) for day_id in there]
    turns = iter(range(10**9))

    def drag() -> None:
        assess(Inputs(moved[next(turns) % 2], variant.id, catalogue, rules, as_of=AS_OF))

    def whole() -> None:
        assess(Inputs(trip, variant.id, catalogue, rules, as_of=AS_OF))

    def moved_anew() -> int:
        """Calls of a first look at each place: nothing of that very day is kept yet."""
        forget_kept()
        whole()
        return calls(lambda: assess(Inputs(moved[0], variant.id, catalogue, rules, as_of=AS_OF)))

    drag()
    points = sum(len(catalogue.tracks[each.leg.stage.id]) for day in
                 assess(Inputs(trip, variant.id, catalogue, rules, as_of=AS_OF)).figures.days
                 for group in day.groups for each in group.legs)  # fmt: skip
    print(f"assess {DAYS} days, four guests, {points} points; one frame = 16.7 ms")
    print(f"  one leg moved, back and forth   {median_frames(drag):.2f} of a frame (goal 0.15)")
    print(f"  from nothing kept               {median_frames(whole, forget):.2f} of a frame (goal 1)")
    forget()
    tracks_read = [catalogue.tracks[each] for each in demo_tracks()]
    cold = calls(whole)
    forget_kept()
    hot = calls(whole)
    print(f"  calls: {cold} from nothing kept, {hot} with {len(tracks_read)} tracks read")
    first = moved_anew()
    print(f"  calls: {first} for one leg moved, {first / hot:.2f} of these (goal 0.2)")


if __name__ == "__main__":
    main()
