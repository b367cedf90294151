"""Naismith's rule: an hour for every 5 km, and an hour more for every 600 m climbed."""

from lacet.effort.quantity import KMH_PER_M_S, SECONDS_PER_HOUR, Quantity
from lacet.effort.rule import Needs, WalkingRule

FLAT_SPEED_M_S = 5.0 / KMH_PER_M_S
CLIMB_M_PER_H = 600.0

SOURCE = "W. W. Naismith, Scottish Mountaineering Club Journal 2 (1892), p. 136; metric form"


def naismith_time_s(
    distance_m: Quantity,
    ascent_m: Quantity,
    flat_speed_m_s: float = FLAT_SPEED_M_S,
    climb_m_per_h: float = CLIMB_M_PER_H,
) -> Quantity:
    """Walking time of a fit walker, without stops; descent is free [s].

    Notes
    -----
    t = d / v + ascent / c with v = 5 km/h and c = 600 m/h (the original: 3 miles and 2000 feet an hour).
    Meant for fit walkers on paths; it knows no slope, so it holds for any.

    References
    ----------
    Naismith (1892), "Excursions: Cruach Ardran, Stobinian, and Ben More", SMC Journal 2(3), p. 136.
    """
    return distance_m / flat_speed_m_s + ascent_m * (SECONDS_PER_HOUR / climb_m_per_h)


RULE = WalkingRule(
    id="naismith",
    name="Naismith",
    source=SOURCE,
    note="fit walkers; descent is free",
    needs=frozenset({Needs.CLIMB}),
    step_s=lambda ground: naismith_time_s(ground.steps.run_m, ground.climb_m),
)
