"""The one call for a leg, on foot and by bike."""

import numpy as np
import pytest

from lacet.effort import swiss
from lacet.effort.ebike import LOWEST_ASSIST
from lacet.effort.leg import BikeFigures, Rider, Walker, hardest_stretch, ride_leg, walk_leg
from lacet.effort.quantity import Array


def hill() -> tuple[Array, Array]:
    """4 km, the first level, 300 m up on the second, and down again over the last two."""
    distance_m = np.linspace(0.0, 4000.0, 401)
    return distance_m, np.interp(distance_m, [0, 1000, 2000, 4000], [100.0, 100.0, 400.0, 100.0])


def test_a_leg_on_foot_has_the_office_rule_as_its_time() -> None:
    leg = walk_leg(*hill(), Walker())
    # DIN 33466: 1 h for 4 km, 1 h for 300 m up and 36 min for 300 m down; the larger and half of the smaller
    assert leg.moving_s / 60.0 == pytest.approx(96.0 + 30.0)
    assert leg.time_s[-1] == leg.moving_s
    assert leg.battery_wh is None


def test_the_hardest_kilometre_is_the_climb() -> None:
    leg = walk_leg(*hill(), Walker())
    assert (leg.hardest.from_m, leg.hardest.to_m) == (1000.0, 2000.0)
    assert leg.hardest.moving_s / 60.0 == pytest.approx(60.0 + 7.5)


def test_a_short_leg_is_its_own_hardest_stretch() -> None:
    stretch = hardest_stretch(np.array([0.0, 400.0]), np.array([0.0, 300.0]))
    assert (stretch.from_m, stretch.to_m, stretch.moving_s) == (0.0, 400.0, 300.0)


def test_pace_multiplies_the_time_on_foot_and_by_bike() -> None:
    slow = walk_leg(*hill(), Walker(pace=1.2)).moving_s / walk_leg(*hill(), Walker()).moving_s
    slower = ride_leg(*hill(), Rider(pace=1.2), BikeFigures()).moving_s
    assert slow == pytest.approx(1.2)
    assert slower == pytest.approx(1.2 * ride_leg(*hill(), Rider(), BikeFigures()).moving_s)


def test_a_leg_by_bike_tells_battery_and_pushing() -> None:
    alone = ride_leg(*hill(), Rider(), BikeFigures())
    helped = ride_leg(*hill(), Rider(), BikeFigures(mass_kg=25.0, capacity_wh=500.0), assist=LOWEST_ASSIST)
    assert alone.battery_wh is None
    assert alone.pushed_m == pytest.approx(1000.0)
    assert helped.battery_wh is not None
    assert helped.battery_wh[-1] > helped.battery_wh[0] == 0.0


def test_a_missing_height_is_told_on_the_leg() -> None:
    distance_m, height_m = hill()
    height_m[50] = np.nan
    assert walk_leg(distance_m, height_m, Walker()).assumed_flat
    assert ride_leg(distance_m, height_m, Rider(), BikeFigures()).assumed_flat
    assert not walk_leg(*hill(), Walker()).assumed_flat


def test_parameters_can_be_kept_as_keys() -> None:
    assert len({Walker(), Walker(), Rider(), Rider(pace=1.1), BikeFigures(), swiss.RULE}) == 5
