"""The office's grade of a day: the hardest criterion decides, and what nobody said raises nothing."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lacet.effort.grade import (
    BANDS,
    WALKING_BANDS,
    Band,
    Bands,
    effort_grade,
    grade_sentence,
    office_grade,
)
from lacet.trip.words import Exposure, Footing, Grade, Way


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
