"""Langmuir's corrections to Naismith's rule: gentle descents are quicker, steep ones slower."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lacet.effort.naismith import CLIMB_M_PER_H, FLAT_SPEED_M_S, naismith_time_s
from lacet.effort.quantity import SECONDS_PER_HOUR, Array
from lacet.effort.rule import Ground, Needs, WalkingRule
from lacet.effort.steps import SHORTEST_RUN_M, cumulative

GENTLE_SLOPE_RATIO = float(np.tan(np.radians(5.0)))
STEEP_SLOPE_RATIO = float(np.tan(np.radians(12.0)))
CORRECTION_S_PER_M = 10.0 * 60.0 / 300.0
"""Ten minutes for every 300 m of descent."""

FASTEST_DOWNHILL_M_S = 2.5
"""Cap for descents on a profile, which would ask for 12 km/h just below 12 degrees (9 km/h is own judgement).
"""

STRETCH_M = 500.0
"""On a profile the corrections go by the mean slope of stretches about this long (own judgement)."""

SOURCE = "E. Langmuir, Mountaincraft and Leadership (1984), as restated in a 2014 note on hiking speed models"


def langmuir_correction_s_per_m(slope_ratio: ArrayLike) -> Array:
    """Seconds added for each metre of descent, negative where the descent helps [s/m].

    Notes
    -----
    -10 min per 300 m of descent where the mean slope is 5 to 12 degrees down, +10 min per 300 m where it is
    steeper.
    """
    fall_ratio = -np.asarray(slope_ratio, float)
    helps = (fall_ratio >= GENTLE_SLOPE_RATIO) & (fall_ratio <= STEEP_SLOPE_RATIO)
    hinders = fall_ratio > STEEP_SLOPE_RATIO
    return np.asarray(CORRECTION_S_PER_M * (hinders.astype(float) - helps.astype(float)))


def langmuir_time_s(
    distance_m: ArrayLike,
    rise_m: ArrayLike,
    flat_speed_m_s: float = FLAT_SPEED_M_S,
    climb_m_per_h: float = CLIMB_M_PER_H,
) -> Array:
    """Walking time of stretches of one slope each [s].

    Parameters
    ----------
    distance_m, rise_m : length and signed height difference of each stretch [m]

    Notes
    -----
    Naismith's time plus `langmuir_correction_s_per_m`. Meant for whole stretches and their mean slope. Just
    below 12 degrees it asks for about 12 km/h: whoever applies it to a profile has to cap the speed.

    References
    ----------
    Langmuir (1984), *Mountaincraft and Leadership*, as restated in "Naismith, Aitken-Langmuir, Tranter and
    Tobler: modeling hiking speed" (2014).
    """
    distance, rise = np.asarray(distance_m, float), np.asarray(rise_m, float)
    slope_ratio = np.divide(
        rise, distance, out=np.zeros(np.broadcast(rise, distance).shape), where=distance > 0.0
    )
    climbing_s = np.maximum(rise, 0.0) * (SECONDS_PER_HOUR / climb_m_per_h)
    level_s = distance / flat_speed_m_s
    return np.asarray(
        level_s + climbing_s + langmuir_correction_s_per_m(slope_ratio) * np.maximum(-rise, 0.0)
    )


def _step_s(ground: Ground) -> Array:
    run_m = ground.steps.run_m
    stretch = _stretches(run_m)
    length_m = np.maximum(np.bincount(stretch, run_m), SHORTEST_RUN_M)
    slope_ratio = np.bincount(stretch, ground.steps.rise_m) / length_m
    correction_s = langmuir_correction_s_per_m(slope_ratio) * np.bincount(stretch, ground.fall_m)
    quickest_s_per_m = 1.0 / FASTEST_DOWNHILL_M_S - 1.0 / FLAT_SPEED_M_S
    level_s = naismith_time_s(run_m, ground.climb_m)
    return level_s + np.maximum(correction_s / length_m, quickest_s_per_m)[stretch] * run_m


def _stretches(run_m: Array) -> NDArray[np.intp]:
    """For each step, which stretch of about `STRETCH_M` it lies in."""
    distance_m = cumulative(run_m)
    length_m = float(distance_m[-1])
    count = max(1, round(length_m / STRETCH_M))
    middle_m = distance_m[:-1] + 0.5 * run_m
    return np.minimum(middle_m * (count / max(length_m, SHORTEST_RUN_M)), count - 1).astype(np.intp)


RULE = WalkingRule(
    id="langmuir",
    name="Langmuir",
    source=SOURCE,
    note="Naismith, quicker on 5 to 12 degrees down, slower beyond; at most 9 km/h",
    needs=frozenset({Needs.CLIMB, Needs.FALL, Needs.SLOPE}),
    step_s=_step_s,
)
