"""Profiles for tests of effort: hills a reader can reckon by hand, and drawn ones."""

import numpy as np
from hypothesis import strategies as st

from lacet.effort.quantity import Array

Profile = tuple[Array, Array]


def even_slope(slope_ratio: float, length_m: float = 1000.0, nodes: int = 101) -> Profile:
    """One slope all the way, starting at 500 m."""
    distance_m = np.linspace(0.0, length_m, nodes)
    return distance_m, 500.0 + slope_ratio * distance_m


def up_and_down(length_m: float = 5000.0, slope_ratio: float = 0.1, nodes: int = 201) -> Profile:
    """So far up one slope, and the same down again."""
    distance_m = np.linspace(0.0, 2.0 * length_m, nodes)
    return distance_m, np.interp(
        distance_m, [0.0, length_m, 2.0 * length_m], [0.0, slope_ratio * length_m, 0.0]
    )


@st.composite
def drawn(draw: st.DrawFn) -> Profile:
    """Two to forty nodes, steps of 0 to 500 m, heights of 0 to 3000 m."""
    steps = draw(st.lists(st.floats(0.0, 500.0, allow_subnormal=False), min_size=1, max_size=39))
    heights = draw(st.lists(st.floats(0.0, 3000.0), min_size=len(steps) + 1, max_size=len(steps) + 1))
    return np.concatenate(([0.0], np.cumsum(steps))), np.array(heights)


def reversed_profile(profile: Profile) -> Profile:
    """The same ground from the other end."""
    distance_m, height_m = profile
    return distance_m[-1] - distance_m[::-1], height_m[::-1].copy()


def rolling_profile(climb_m_per_km: float) -> Profile:
    """20 km of even hills, 2 km from top to top, climbing so much a kilometre."""
    distance_m = np.arange(0.0, 20_050.0, 50.0)
    hill_m = climb_m_per_km * 2.0
    return distance_m, hill_m / 2.0 * (1.0 - np.cos(2.0 * np.pi * distance_m / 2_000.0))
