"""The Compendium of Physical Activities: energy of an activity as a multiple of rest (MET)."""

from lacet.effort.energy import KJ_PER_KCAL
from lacet.effort.quantity import SECONDS_PER_HOUR

SOURCE = "B. E. Ainsworth et al., 2011 Compendium, Med. Sci. Sports Exerc. 43(8), 1575-1581"

HIKING_MET = 6.0
"""'Hiking, cross country'."""


def met_energy_kj(met: float, mass_kg: float, seconds: float) -> float:
    """Energy burnt [kJ]: one kilocalorie per MET, kilogram and hour; meant for adults of 19 to 59."""
    return met * mass_kg * seconds / SECONDS_PER_HOUR * KJ_PER_KCAL
