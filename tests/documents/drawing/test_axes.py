"""Axes of profiles: round ticks that hold what is drawn, in metric and imperial units."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lacet.documents.drawing.axes import LEAST_SPAN_M, MOST_HEIGHT_TICKS, distance_axis, height_axis

heights = st.tuples(st.floats(-400, 8800), st.floats(0, 5000))


@given(heights, st.booleans())
def test_heights_lie_between_the_ends_of_their_axis(at: tuple[float, float], imperial: bool) -> None:
    lowest, highest = at[0], at[0] + at[1]
    axis = height_axis(lowest, highest, imperial=imperial)
    assert axis.low_m <= lowest + 1e-6
    assert axis.high_m >= highest - 1e-6
    assert axis.high_m - axis.low_m >= LEAST_SPAN_M - 1e-6
    assert 2 <= len(axis.ticks) <= MOST_HEIGHT_TICKS + 2
    assert (axis.ticks[0], axis.ticks[-1]) == pytest.approx((axis.low, axis.high))


@given(st.floats(10, 2_000_000), st.floats(40, 250), st.booleans())
def test_distances_have_round_even_ticks_that_do_not_crowd(
    length_m: float, width_mm: float, imperial: bool
) -> None:
    axis = distance_axis(length_m, width_mm, imperial=imperial)
    assert axis.high_m == pytest.approx(length_m)
    assert axis.ticks[0] == 0
    assert axis.ticks[-1] <= axis.high * (1 + 1e-9)
    steps = [after - before for before, after in pairwise(axis.ticks)]
    assert steps == pytest.approx([steps[0]] * len(steps) if steps else [])
    for step in steps[:1]:
        assert float(f"{step:e}".partition("e")[0]) == pytest.approx(1) or f"{step:e}"[0] in "25"
        assert step / axis.high * width_mm >= 15.9


@pytest.mark.parametrize(
    ("lowest", "highest", "ticks"),
    [
        (3.0, 780.0, (0.0, 200.0, 400.0, 600.0, 800.0)),
        (1510.0, 2340.0, (1400.0, 1600.0, 1800.0, 2000.0, 2200.0, 2400.0)),
        (2.0, 28.0, (0.0, 20.0, 40.0, 60.0, 80.0, 100.0)),
    ],
)
def test_ticks_are_those_a_hand_would_choose(lowest: float, highest: float, ticks: tuple[float, ...]) -> None:
    assert height_axis(lowest, highest, imperial=False).ticks == pytest.approx(ticks)
