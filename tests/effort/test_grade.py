"""Grades against the examples of their sources, and the office's own bands."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lacet.effort.australian import Gradient, TrackPath, TrackSigns, TrackSteps, australian_grade
from lacet.effort.grade import (
    BANDS,
    WALKING_BANDS,
    Band,
    Bands,
    effort_grade,
    grade_sentence,
    office_grade,
)
from lacet.effort.mide import mide_effort
from lacet.effort.quantity import METRES_PER_FOOT, METRES_PER_MILE, EffortError
from lacet.effort.sac import Sac
from lacet.effort.shenandoah import ShenandoahClass, shenandoah_class, shenandoah_rating
from lacet.trip.words import Exposure, Footing, Grade, Way

# US National Park Service, Shenandoah: the first is the official worked example, the next two are printed on
# pages that restate the formula, the last two are computed: feet, miles, number, tolerance, class
SHENANDOAH = [
    (2200, 10, 209.8, 0.05, ShenandoahClass.VERY_STRENUOUS),
    (400, 4, 56.5, 0.1, ShenandoahClass.MODERATE),
    (3000, 8, 219, 0.5, ShenandoahClass.VERY_STRENUOUS),
    (900, 5.5, 99.50, 0.01, ShenandoahClass.MODERATE),
    (1700, 7.2, 156.46, 0.01, ShenandoahClass.STRENUOUS),
]


@pytest.mark.parametrize(("feet", "miles", "number", "tolerance", "named"), SHENANDOAH)
def test_shenandoah_gives_the_printed_number_and_class(
    feet: float, miles: float, number: float, tolerance: float, named: ShenandoahClass
) -> None:
    rating = shenandoah_rating(miles * METRES_PER_MILE, feet * METRES_PER_FOOT)
    assert rating == pytest.approx(number, abs=tolerance)
    assert shenandoah_class(rating) is named


def test_shenandoah_cannot_know_what_the_park_overrides_by_hand() -> None:
    # Dark Hollow Falls: number 36.3, and yet the park calls it moderate for its steepness
    assert shenandoah_class(36.3) is ShenandoahClass.EASIEST


@pytest.mark.parametrize(("edge", "below", "above"), [(50, 0, 1), (100, 1, 2), (150, 2, 3), (200, 3, 4)])
def test_shenandoah_edges_belong_to_the_lower_class(edge: float, below: int, above: int) -> None:
    classes = list(ShenandoahClass)
    assert shenandoah_class(edge) is classes[below]
    assert shenandoah_class(edge + 0.01) is classes[above]


def test_shenandoah_refuses_ground_below_nothing() -> None:
    with pytest.raises(EffortError, match="below 0"):
        shenandoah_rating(-1.0, 100.0)


@pytest.mark.parametrize(
    ("hours", "effort"), [(0.9, 1), (1.0, 1), (1.5, 2), (3.0, 2), (6.0, 3), (8.0, 4), (10.0, 4), (10.5, 5)]
)
def test_mide_scores_effort_by_hours(hours: float, effort: int) -> None:
    # MIDE (2002): up to 1, 3, 6, 10 h, and beyond; read on a mountain federation's page
    assert mide_effort(hours * 3600.0) == effort


# Australian Walking Track Grading System, criteria table read on a walking page and a council's page
AUSTRALIAN = [
    (4_200, Gradient.FLAT, TrackSteps.NONE, TrackPath.WELL_FORMED, TrackSigns.CLEAR, 1),
    (
        18_000,
        Gradient.SHORT_STEEP_HILLS,
        TrackSteps.MANY,
        TrackPath.FORMED_SOME_OBSTACLES,
        TrackSigns.POSTED,
        3,
    ),
    (4_000, Gradient.VERY_STEEP, TrackSteps.MANY, TrackPath.ROUGH_MANY_OBSTACLES, TrackSigns.LIMITED, 4),
    (
        6_000,
        Gradient.VERY_STEEP_AND_DIFFICULT,
        TrackSteps.NONE,
        TrackPath.ROUGH_UNFORMED,
        TrackSigns.NONE,
        5,
    ),
]


@pytest.mark.parametrize(("distance_m", "gradient", "steps", "path", "signs", "grade"), AUSTRALIAN)
def test_the_australian_grade_is_the_hardest_criterion(
    distance_m: float, gradient: Gradient, steps: TrackSteps, path: TrackPath, signs: TrackSigns, grade: int
) -> None:
    assert australian_grade(distance_m, gradient, steps, path, signs) == grade


@pytest.mark.parametrize(("distance_m", "grade"), [(5_000, 1), (9_000, 2), (20_000, 3), (25_000, 4)])
def test_length_alone_raises_the_australian_grade(distance_m: float, grade: int) -> None:
    easy = (Gradient.FLAT, TrackSteps.NONE, TrackPath.WELL_FORMED, TrackSigns.CLEAR)
    assert australian_grade(distance_m, *easy) == grade


def test_the_swiss_scale_has_the_old_markings_and_climbing_to_the_second_grade() -> None:
    # SAC-Wanderskala 2002, old table; the revision of 2023 no longer ties markings to grades
    assert Sac.T1.grade.marking == "yellow"
    assert Sac.T3.grade.marking == "white-red-white"
    assert Sac.T4.grade.marking == Sac.T6.grade.marking == "white-blue-white"
    assert Sac.T6.grade.climbing_grade == "II"


def test_the_hardest_criterion_decides_the_office_grade() -> None:
    long_day = office_grade(Way.WALKING, 5 * 3600.0, 21_000.0, 300.0)
    assert (long_day.grade, long_day.decided_by) == (Grade.DEMANDING, ("distance",))
    rocky = office_grade(Way.WALKING, 3600.0, 4_000.0, 100.0, Footing.ROCKY, Exposure.EXPOSED)
    assert (rocky.grade, rocky.decided_by) == (Grade.DEMANDING, ("ground", "exposure"))


def test_a_figure_on_the_threshold_is_still_the_easier_grade() -> None:
    band = WALKING_BANDS.easy
    assert effort_grade(band.moving_s, band.distance_m, band.ascent_m, WALKING_BANDS).grade is Grade.EASY
    assert effort_grade(band.moving_s + 1.0, 0.0, 0.0, WALKING_BANDS).grade is Grade.MODERATE


def test_an_office_sets_its_own_thresholds() -> None:
    strict = Bands(easy=Band(3600.0, 5_000.0, 100.0), moderate=Band(7200.0, 10_000.0, 200.0))
    assert office_grade(Way.WALKING, 3 * 3600.0, 9_000.0, 150.0).grade is Grade.EASY
    assert office_grade(Way.WALKING, 3 * 3600.0, 9_000.0, 150.0, bands=strict).grade is Grade.DEMANDING


@given(
    way=st.sampled_from(Way),
    moving=st.floats(0.0, 12 * 3600.0),
    distance=st.floats(0.0, 120_000.0),
    ascent=st.floats(0.0, 3_000.0),
    more=st.floats(1.0, 3.0),
    footing=st.sampled_from([None, *Footing]),
    exposure=st.sampled_from([None, *Exposure]),
)
def test_more_of_anything_is_never_an_easier_grade(
    way: Way,
    moving: float,
    distance: float,
    ascent: float,
    more: float,
    footing: Footing | None,
    exposure: Exposure | None,
) -> None:
    scale = list(Grade)
    grade = scale.index(office_grade(way, moving, distance, ascent).grade)
    harder = office_grade(way, moving * more, distance * more, ascent * more, footing, exposure)
    assert scale.index(harder.grade) >= grade
    assert harder.decided_by


def test_bands_exist_for_every_way_and_rise() -> None:
    assert set(BANDS) == set(Way)
    for bands in BANDS.values():
        assert bands.easy.moving_s < bands.moderate.moving_s
        assert bands.easy.distance_m < bands.moderate.distance_m
        assert bands.easy.ascent_m < bands.moderate.ascent_m


def test_the_sentence_tells_effort_ground_and_exposure() -> None:
    sentence = grade_sentence(Grade.MODERATE, Footing.ROUGH, Exposure.SOME)
    assert sentence == "A moderate day on rough ground; steep drops in places."


def test_the_sentence_tells_what_nobody_has_said() -> None:
    sentence = grade_sentence(Grade.EASY, None, None)
    assert "nobody has described" in sentence
    assert "nobody has said" in sentence


@pytest.mark.parametrize("grade", list(Grade))
@pytest.mark.parametrize("footing", [None, *Footing])
@pytest.mark.parametrize("exposure", [None, *Exposure])
def test_every_combination_has_its_sentence(
    grade: Grade, footing: Footing | None, exposure: Exposure | None
) -> None:
    sentence = grade_sentence(grade, footing, exposure)
    assert sentence[0].isupper()
    assert sentence.endswith(".")
