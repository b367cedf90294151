"""The hiking difficulty number of the US National Park Service at Shenandoah."""

from enum import StrEnum

from lacet.effort.quantity import METRES_PER_FOOT, METRES_PER_MILE, EffortError

SOURCE = "US National Park Service, Shenandoah, How to Determine Hiking Difficulty"


class ShenandoahClass(StrEnum):
    """The five classes, easiest first."""

    EASIEST = "easiest"
    MODERATE = "moderate"
    MODERATELY_STRENUOUS = "moderately strenuous"
    STRENUOUS = "strenuous"
    VERY_STRENUOUS = "very strenuous"


UPPER_EDGES = (50.0, 100.0, 150.0, 200.0)


def shenandoah_rating(distance_m: float, ascent_m: float) -> float:
    """The number of a walk [-].

    Notes
    -----
    sqrt(2 * gain[ft] * distance[mi]), for the whole walk. A third-party copy leaves the 2 out.
    """
    if distance_m < 0.0 or ascent_m < 0.0:
        raise EffortError("A walk's length and climb are not below 0 m.")
    return float((2.0 * (ascent_m / METRES_PER_FOOT) * (distance_m / METRES_PER_MILE)) ** 0.5)


def shenandoah_class(rating: float) -> ShenandoahClass:
    """The class of a number; one exactly on an edge takes the lower class, where the text names both.

    The park overrides the class by hand where a trail is steep or rough, as an office does with its own
    grade.
    """
    passed = sum(rating > edge for edge in UPPER_EDGES)
    return tuple(ShenandoahClass)[passed]
