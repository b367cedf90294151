"""Energy the body spends on a leg: the published costs applied to the ground walked and ridden.

Rule of this module: energy is what the body burns [kJ], not the work it does; a rider's work is divided by
the gross efficiency of cycling.
"""

from lacet.effort.minetti import minetti_walking_j_per_kg_m
from lacet.effort.quantity import Array, EffortError
from lacet.effort.steps import Steps

GROSS_EFFICIENCY_SHARE = 0.22
"""Work at the pedals over energy burnt (own choice within what was measured).

0.15 to 0.24 of competitive riders, 0.13 to 0.22 of others: Nickleberry & Brooks (1996), Med. Sci. Sports
Exerc. 28(11), 1396-1401. 0.198 on average: Moseley & Jeukendrup (2001), the same 33(4), 621-627.
"""

JOULES_PER_KJ = 1000.0
KJ_PER_KCAL = 4.184


def walking_energy_kj(steps: Steps, mass_kg: float) -> float:
    """Energy burnt on foot [kJ], Minetti et al. (2002); `mass_kg` is body and load."""
    return float(walking_energy_j(steps.run_m, steps.slope_ratio, mass_kg).sum()) / JOULES_PER_KJ


def walking_energy_j(run_m: Array, slope_ratio: Array, mass_kg: float) -> Array:
    """Energy burnt on each step [J]."""
    if not mass_kg > 0.0:
        raise EffortError("A walker's mass is above 0 kg, not {mass_kg}.", mass_kg=mass_kg)
    return minetti_walking_j_per_kg_m(slope_ratio) * run_m * mass_kg


def cycling_energy_kj(work_j: float, efficiency_share: float = GROSS_EFFICIENCY_SHARE) -> float:
    """Energy burnt for the work done at the pedals [kJ]."""
    if not 0.0 < efficiency_share <= 1.0:
        raise EffortError(
            "An efficiency lies between 0 and 1, not at {efficiency_share}.",
            efficiency_share=efficiency_share,
        )
    return work_j / efficiency_share / JOULES_PER_KJ
