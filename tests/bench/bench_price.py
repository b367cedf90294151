"""How much of a frame a quote takes while something is dragged over a 14-day trip for four.

Ratios against one frame of a 60 Hz screen; each figure is the median of several runs.
"""

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

from lacet.inputs import Inputs
from lacet.price import tariffs
from lacet.price.doubts import doubts
from lacet.price.quote import quote
from lacet.price.what_if import what_if
from lacet.trip.kept import forget_kept
from lacet.trip.library import Ref
from lacet.trip.party import placeholder_party
from lacet.trip.trip import Day, Hire, Meal, Night, Trip, Variant
from lacet.trip.words import Board

# By its path: a script of its own can't import from tests, which is no package.
SMALL = SimpleNamespace(**run_path(str(Path(__file__).resolve().parents[1] / "price" / "small_library.py")))
FRAME_S = 1 / 60
RUNS = 31
FOUR = placeholder_party(4)


def fourteen_days() -> tuple[Variant, Trip]:
    """Every day with a ride, a visit, bags, a dinner and a bed; everybody on a hired bike."""
    days = tuple(_day(number) for number in range(13))
    hires = tuple(Hire(traveller=guest.id, bike=Ref("volt")) for guest in FOUR.travellers)
    variant = Variant(id="a", name="A", days=(*days, Day(id="last", moves=(SMALL.BAGS,))), hires=hires)
    return variant, SMALL.trip_of(variant, FOUR)


def _day(number: int) -> Day:
    night: Night = SMALL.WEIR if number % 3 else SMALL.FORGE
    meal: Meal = SMALL.DINNER_OUT if number % 2 else SMALL.DINNER_IN
    if meal is SMALL.DINNER_IN:
        night = replace(SMALL.WEIR, board=Board.HALF_BOARD)
    return Day(
        id=f"d{number}", items=(SMALL.TAXI, SMALL.CRATER), nights=(night,), meals=(meal,), moves=(SMALL.BAGS,)
    )


def seconds(work: Callable[[], object]) -> float:
    """Median time of some work [s], after one run to warm it."""
    work()
    taken = []
    for _ in range(RUNS):
        began = perf_counter()
        work()
        taken.append(perf_counter() - began)
    return median(taken)


def forget() -> None:
    """Empty everything that is kept between quotes."""
    forget_kept()
    tariffs._BOOKS.clear()


def cold(variant: Variant, trip: Trip, as_of: date) -> object:
    """A quote with nothing kept from before."""
    forget()
    return quote(trip, variant, SMALL.CATALOGUE, SMALL.RULES, as_of)


def one_day_changed(variant: Variant, trip: Trip) -> object:
    """A quote after a day was edited, the others the same objects as before."""
    day = variant.days[6]
    nights = tuple(replace(night, late_key=not night.late_key) for night in day.nights)
    days = (*variant.days[:6], replace(day, nights=nights), *variant.days[7:])
    return quote(trip, replace(variant, days=days), SMALL.CATALOGUE, SMALL.RULES, SMALL.AS_OF)


def main() -> None:
    variant, trip = fourteen_days()
    undated = replace(trip, start=None)
    inputs = Inputs(trip, variant.id, SMALL.CATALOGUE, SMALL.RULES, as_of=SMALL.AS_OF)
    first = quote(trip, variant, SMALL.CATALOGUE, SMALL.RULES, SMALL.AS_OF)
    works: dict[str, Callable[[], object]] = {
        "asked again": lambda: quote(trip, variant, SMALL.CATALOGUE, SMALL.RULES, SMALL.AS_OF),
        "one day edited": lambda: one_day_changed(variant, trip),
        "nothing kept": lambda: cold(variant, trip, SMALL.AS_OF),
        "nothing kept, no date": lambda: cold(variant, undated, SMALL.AS_OF),
        "doubts": lambda: doubts(first, trip, SMALL.CATALOGUE),
        "17 what-ifs": lambda: what_if(inputs),
    }
    print(f"price: 14 days, four guests, {len(first.lines)} lines, beside a frame of {FRAME_S * 1000:.1f} ms")
    for name, work in works.items():
        took_s = seconds(work)
        print(f"  {name:24} {took_s / FRAME_S:7.3f} of a frame ({took_s * 1000:.2f} ms)")


if __name__ == "__main__":
    main()
