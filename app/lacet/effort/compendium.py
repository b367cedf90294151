"""The Compendium of Physical Activities: energy of an activity as a multiple of rest (MET)."""

from enum import Enum

from lacet.effort.quantity import SECONDS_PER_HOUR

KJ_PER_KCAL = 4.184

SOURCE = "B. E. Ainsworth et al., 2011 Compendium, Med. Sci. Sports Exerc. 43(8), 1575-1581"


class Activity(Enum):
    """Activities and their MET; those of the hills are from memory."""

    CYCLING_LEISURE_SLOW = ("cycling, leisure, 5.5 mph", 3.5)
    CYCLING_LEISURE = ("cycling, leisure, under 10 mph", 4.0)
    CYCLING_FARM_ROAD = ("cycling on dirt or farm road, moderate pace", 5.8)
    CYCLING_GENERAL = ("cycling, general", 7.5)
    CYCLING_MODERATE = ("cycling, 12 to 13.9 mph", 8.0)
    CYCLING_MOUNTAIN = ("cycling, mountain, general", 8.5)
    CYCLING_VIGOROUS = ("cycling, 14 to 15.9 mph", 10.0)
    HIKING = ("hiking, cross country", 6.0)
    CLIMBING_HILLS = ("climbing hills, no load", 6.3)
    BACKPACKING = ("backpacking", 7.0)
    CLIMBING_HILLS_LOADED = ("climbing hills, 21 to 42 lb load", 8.3)

    def __init__(self, label: str, met: float) -> None:
        self.label = label
        self.met = met


def met_energy_kj(met: float, mass_kg: float, seconds: float) -> float:
    """Energy burnt [kJ]: one kilocalorie per MET, kilogram and hour; meant for adults of 19 to 59."""
    return met * mass_kg * seconds / SECONDS_PER_HOUR * KJ_PER_KCAL
