"""How hard a day is: the office's own grade, what decided it, and a sentence.

Rule of this module: the hardest criterion decides, never a mean. What nobody has said stays unsaid: an
unknown ground or exposure raises nothing, and the sentence tells that it is unknown. The thresholds are
parameters; their defaults are common practice without a source.
"""

from dataclasses import dataclass
from types import MappingProxyType

from lacet.effort.quantity import SECONDS_PER_HOUR
from lacet.trip.words import Exposure, Footing, Grade, Way


@dataclass(frozen=True, slots=True)
class Band:
    """Up to here a day belongs to a grade: moving time [s], distance [m], ascent [m]."""

    moving_s: float
    distance_m: float
    ascent_m: float


@dataclass(frozen=True, slots=True)
class Bands:
    """The upper ends of 'easy' and 'moderate'; beyond is 'demanding'."""

    easy: Band
    moderate: Band


WALKING_BANDS = Bands(
    easy=Band(4.0 * SECONDS_PER_HOUR, 14_000.0, 350.0), moderate=Band(6.0 * SECONDS_PER_HOUR, 20_000.0, 800.0)
)
CYCLING_BANDS = Bands(
    easy=Band(3.5 * SECONDS_PER_HOUR, 45_000.0, 350.0), moderate=Band(5.5 * SECONDS_PER_HOUR, 70_000.0, 900.0)
)
BANDS = MappingProxyType({Way.WALKING: WALKING_BANDS, Way.CYCLING: CYCLING_BANDS})

FOOTING_GRADES = MappingProxyType(
    {
        Footing.EVEN: Grade.EASY,
        Footing.UNEVEN: Grade.EASY,
        Footing.ROUGH: Grade.MODERATE,
        Footing.ROCKY: Grade.DEMANDING,
    }
)
EXPOSURE_GRADES = MappingProxyType(
    {Exposure.NONE: Grade.EASY, Exposure.SOME: Grade.MODERATE, Exposure.EXPOSED: Grade.DEMANDING}
)

_EFFORT_WORDS = MappingProxyType(
    {Grade.EASY: "An easy day", Grade.MODERATE: "A moderate day", Grade.DEMANDING: "A demanding day"}
)
_FOOTING_WORDS: MappingProxyType[Footing | None, str] = MappingProxyType(
    {
        None: "on ground nobody has described",
        Footing.EVEN: "on even ground",
        Footing.UNEVEN: "on uneven ground",
        Footing.ROUGH: "on rough ground",
        Footing.ROCKY: "over rock",
    }
)
_EXPOSURE_WORDS: MappingProxyType[Exposure | None, str] = MappingProxyType(
    {
        None: "nobody has said whether there are steep drops",
        Exposure.NONE: "no steep drops",
        Exposure.SOME: "steep drops in places",
        Exposure.EXPOSED: "exposed, only with a head for heights",
    }
)


@dataclass(frozen=True, slots=True)
class Graded:
    """A grade, and what asked for it (all of 'time', 'distance', 'climb', 'ground', 'exposure' that did)."""

    grade: Grade
    decided_by: tuple[str, ...]


def effort_grade(moving_s: float, distance_m: float, ascent_m: float, bands: Bands) -> Graded:
    """The grade by effort alone; a figure exactly on a threshold still belongs to the easier grade."""
    return _hardest(
        {
            "time": _grade_of(moving_s, bands.easy.moving_s, bands.moderate.moving_s),
            "distance": _grade_of(distance_m, bands.easy.distance_m, bands.moderate.distance_m),
            "climb": _grade_of(ascent_m, bands.easy.ascent_m, bands.moderate.ascent_m),
        }
    )


def office_grade(
    way: Way,
    moving_s: float,
    distance_m: float,
    ascent_m: float,
    footing: Footing | None = None,
    exposure: Exposure | None = None,
    bands: Bands | None = None,
) -> Graded:
    """The office's grade of a day or stage.

    Parameters
    ----------
    moving_s, distance_m, ascent_m : moving time without stops [s], length and climb [m]
    footing, exposure : None where nobody has said
    bands : the office's thresholds, None takes the defaults of the way
    """
    effort = effort_grade(moving_s, distance_m, ascent_m, BANDS[way] if bands is None else bands)
    asked = dict.fromkeys(effort.decided_by, effort.grade)
    if footing is not None:
        asked["ground"] = FOOTING_GRADES[footing]
    if exposure is not None:
        asked["exposure"] = EXPOSURE_GRADES[exposure]
    return _hardest(asked)


def grade_sentence(effort: Grade, footing: Footing | None, exposure: Exposure | None) -> str:
    """Effort, ground and exposure in one sentence."""
    return f"{_EFFORT_WORDS[effort]} {_FOOTING_WORDS[footing]}; {_EXPOSURE_WORDS[exposure]}."


def _grade_of(figure: float, easy: float, moderate: float) -> Grade:
    return Grade.EASY if figure <= easy else Grade.MODERATE if figure <= moderate else Grade.DEMANDING


def _hardest(asked: dict[str, Grade]) -> Graded:
    scale = tuple(Grade)
    grade = max(asked.values(), key=scale.index)
    return Graded(grade, tuple(name for name, asks in asked.items() if asks is grade))
