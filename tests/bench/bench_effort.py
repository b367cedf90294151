"""Speed of effort: a leg of 10 000 nodes beside a frame; tabled riding speeds beside solving the cubic."""

import sys
from collections.abc import Callable
from functools import partial
from pathlib import Path
from statistics import median
from time import perf_counter

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "app"))

from lacet.effort import cycling
from lacet.effort.bikes import BikeFigures, resistance_of
from lacet.effort.ebike import LOWEST_ASSIST
from lacet.effort.leg import Rider, Walker, ride_leg, walk_leg
from lacet.effort.power_balance import Resistance, martin_speed_m_s
from lacet.effort.quantity import GRAVITY_M_S2, Array
from lacet.effort.riders import RIDERS, RiderClass, power_and_rise, rider_power_w
from lacet.effort.speed_table import place_of, speed_table
from lacet.effort.walking import RULES
from lacet.trip.words import Surface

NODES = 10_000
LEGS = 14
FRAME_S = 1.0 / 60.0
E_BIKE = BikeFigures(mass_kg=25.0, capacity_wh=500.0)


def hills() -> tuple[Array, Array]:
    """60 km of hills, a node every 6 m."""
    distance_m = np.linspace(0.0, 60_000.0, NODES)
    return distance_m, 200.0 + 60.0 * np.sin(distance_m / 700.0) + 15.0 * np.sin(distance_m / 190.0)


def seconds(work: Callable[[], object], runs: int = 15) -> float:
    """Median time of some work [s], after one run to warm it."""
    work()
    taken = []
    for _ in range(runs):
        began = perf_counter()
        work()
        taken.append(perf_counter() - began)
    return median(taken)


def cubic_root_m_s(resistance: Resistance, power_w: float, slope_ratio: float) -> float:
    """The speed by a general polynomial solver, as one would do point by point."""
    angle = np.arctan(slope_ratio)
    weight_n = resistance.mass_kg * GRAVITY_M_S2
    along_n = weight_n * (np.sin(angle) + resistance.rolling_coefficient * np.cos(angle)) + 0.091
    roots = np.roots([resistance.air_factor, 0.0087, along_n, -power_w * resistance.chain_efficiency_share])
    return float(max(root.real for root in roots if abs(root.imag) < 1e-9))


def bench_tables(slope_ratio: Array) -> None:
    """Tabled speeds beside the cubic, and how far they differ."""
    figures, resistance = RIDERS[RiderClass.REGULAR], resistance_of(Rider(), E_BIKE, Surface.ASPHALT)
    power_w = rider_power_w(figures, slope_ratio)
    table = speed_table(resistance, lambda slope: power_and_rise(figures, slope))
    tabled = seconds(lambda: table.speed_m_s(place_of(slope_ratio)))
    vector = seconds(lambda: martin_speed_m_s(resistance, power_w, slope_ratio))
    some = slice(None, None, NODES // 500)
    points = list(zip(power_w[some].tolist(), slope_ratio[some].tolist(), strict=True))
    few = seconds(lambda: [cubic_root_m_s(resistance, power, slope) for power, slope in points], 3)
    single = few / len(points) * slope_ratio.size
    solved = martin_speed_m_s(resistance, power_w, slope_ratio)
    apart = float(np.max(np.abs(table.speed_m_s(place_of(slope_ratio)) / solved - 1.0))) * 1e6
    print(f"  riding speeds, table / cubic point by point   {tabled / single:8.4f}   (goal 0.02)")
    print(f"  riding speeds, table / cubic on whole arrays  {tabled / vector:8.2f}")
    print(f"  riding speeds, table apart from the cubic     {apart:8.4f} ppm (goal 0.03)")


def bench_legs(distance_m: Array, height_m: Array) -> None:
    """Legs beside a frame of 60 Hz."""
    for rule in RULES:
        foot = seconds(partial(walk_leg, distance_m, height_m, Walker(), rule))
        print(f"  {LEGS} legs on foot, {rule.id:9} / frame          {LEGS * foot / FRAME_S:8.2f}")
    alone = seconds(lambda: ride_leg(distance_m, height_m, Rider(), BikeFigures()))
    helped = seconds(lambda: ride_leg(distance_m, height_m, Rider(), E_BIKE, assist=LOWEST_ASSIST))
    print(f"  {LEGS} legs by bike / frame                     {LEGS * alone / FRAME_S:8.2f}")
    print(f"  {LEGS} legs by e-bike / frame                   {LEGS * helped / FRAME_S:8.2f}")

    def cold() -> None:
        cycling._table.cache_clear()
        ride_leg(distance_m, height_m, Rider(), E_BIKE, assist=LOWEST_ASSIST)

    print(f"  first leg of a new rider / a later leg        {seconds(cold) / helped:8.2f}")


def main() -> None:
    """Print the ratios."""
    distance_m, height_m = hills()
    print(f"Effort, a leg of {NODES} nodes")
    bench_tables(np.diff(height_m) / np.diff(distance_m))
    bench_legs(distance_m, height_m)


if __name__ == "__main__":
    main()
