"""Four 14-day variants of one trip side by side, live while a leg of one of them is dragged.

Ratios against one frame of a 60 Hz screen and against one assessment of the dragged variant, all measured in
one run; each figure is the median of several runs. Run with `tests/run.py --bench`.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path
from runpy import run_path
from statistics import median
from time import perf_counter
from types import SimpleNamespace

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "app"))

from lacet.assess import Assessment, assess
from lacet.compare import Side, compare
from lacet.demo import demo_items, demo_tracks
from lacet.demo.building import demo_settings
from lacet.documents.side_by_side.gather import gather
from lacet.documents.side_by_side.html import write_html
from lacet.documents.side_by_side.workbook import comparison_workbook
from lacet.inputs import Inputs
from lacet.trip import edits
from lacet.trip.catalogue import catalogue_of
from lacet.trip.house_rules import HouseRules
from lacet.trip.trip import Leg, Trip

# By its path: a script of its own can't import from tests, which is no package.
ASSESS = SimpleNamespace(**run_path(str(Path(__file__).resolve().parent / "bench_assess.py")))
FRAME_S = 1 / 60
RUNS = 41
AS_OF = date(2026, 11, 25)


def four_variants() -> Trip:
    """Fourteen days four times: as they are, turned about in the middle, a day later, and without bikes."""
    trip: Trip = ASSESS.long_trip()
    trip = replace(trip, variants=trip.variants[:1])
    first = trip.variants[0]
    days = first.days
    others = (
        replace(first, id="v2", name="Turned", days=(*days[:4], *reversed(days[4:10]), *days[10:])),
        replace(first, id="v3", name="Later", days=(*days[:2], *days[3:], days[2])),
        replace(first, id="v4", name="Without bikes", hires=()),
    )
    return replace(trip, variants=(first, *others))


def seconds(work: Callable[[], object]) -> float:
    """Median time of some work [s], after one run to warm it."""
    work()
    taken = []
    for _ in range(RUNS):
        began = perf_counter()
        work()
        taken.append(perf_counter() - began)
    return median(taken)


def main() -> None:
    region, office = demo_settings()
    catalogue = catalogue_of(demo_items(), ASSESS.Tracks(demo_tracks()), region, office)
    trip, rules = four_variants(), HouseRules()
    dragged = trip.variants[0]
    leg = next(item for item in dragged.items() if isinstance(item, Leg))
    moved = [edits.move_item(trip, dragged.id, leg.id, dragged.days[index].id, 0) for index in (3, 7)]
    turns = iter(range(10**9))

    def one(changed: Trip, variant_id: str) -> Assessment:
        return assess(Inputs(changed, variant_id, catalogue, rules, as_of=AS_OF))

    kept = [Side(each, one(trip, each.id)) for each in trip.variants]

    def hover() -> Assessment:
        return one(moved[next(turns) % 2], dragged.id)

    def beside(base: int = 0) -> object:
        changed = moved[next(turns) % 2]
        side = Side(changed.variants[0], one(changed, dragged.id))
        return compare([side, *kept[1:]], catalogue, base)

    def anew() -> object:
        changed = moved[next(turns) % 2]
        return compare([Side(each, one(changed, each.id)) for each in changed.variants], catalogue)

    found = compare(kept, catalogue)
    told = gather(found, trip, catalogue, for_client=False)
    assess_s = seconds(hover)
    works: dict[str, Callable[[], object]] = {
        "assessing the one dragged": hover,
        "comparing alone": lambda: compare(kept, catalogue),
        "dragging a leg of the base": beside,
        "dragging a leg of another": lambda: beside(1),
        "all four assessed anew": anew,
        "as a page": lambda: write_html(gather(found, trip, catalogue, for_client=False)),
        "as a workbook": lambda: comparison_workbook(found, told, "Lacet"),
    }
    print(
        f"compare: 4 x 14 days, {len(found.differences)} differences, "
        f"beside a frame of {FRAME_S * 1000:.1f} ms"
    )
    for name, work in works.items():
        took_s = seconds(work)
        print(f"  {name:28} {took_s / FRAME_S:7.3f} of a frame, {took_s / assess_s:6.2f} of one assessment")


if __name__ == "__main__":
    main()
