"""Scarf's equivalence: a metre climbed is worth about eight metres on the flat."""

from lacet.effort.naismith import FLAT_SPEED_M_S
from lacet.effort.quantity import Quantity
from lacet.effort.rule import Needs, WalkingRule

EQUIVALENCE = 8.0

SOURCE = "P. Scarf, J. Sports Sci. 25(6), 719-726 (2007)"


def naismith_number(flat_speed_m_s: float, climb_m_per_s: float) -> float:
    """Metres on the flat that take as long as one metre of climb [-]: the quotient of the two speeds."""
    return flat_speed_m_s / climb_m_per_s


def scarf_equivalent_m(
    distance_m: Quantity, ascent_m: Quantity, equivalence: float = EQUIVALENCE
) -> Quantity:
    """Distance on the flat that takes as long as the leg [m].

    Notes
    -----
    d_eq = d + alpha * ascent, alpha = 8 (exactly 7.92 from Naismith's 3 miles and 2000 feet an hour).

    References
    ----------
    Scarf (1998), Mathematics Today 34; Scarf (2007), J. Sports Sci. 25(6), 719-726.
    """
    return distance_m + equivalence * ascent_m


def scarf_time_s(
    distance_m: Quantity,
    ascent_m: Quantity,
    flat_speed_m_s: float = FLAT_SPEED_M_S,
    equivalence: float = EQUIVALENCE,
) -> Quantity:
    """Time for the leg at a given speed on the flat [s]; see `scarf_equivalent_m`."""
    return scarf_equivalent_m(distance_m, ascent_m, equivalence) / flat_speed_m_s


RULE = WalkingRule(
    id="scarf",
    name="Scarf",
    source=SOURCE,
    note="a metre climbed counts as 8 m of flat; 5 km/h",
    needs=frozenset({Needs.CLIMB}),
    step_s=lambda ground: scarf_time_s(ground.steps.run_m, ground.climb_m),
)
