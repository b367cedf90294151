"""Where positions lie on a map, held against geodesics; and the scale bar that tells lengths."""

import re

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given
from hypothesis import strategies as st

from lacet.documents.drawing.frame import Frame, frame_around
from lacet.documents.drawing.marks import figure, round_below, scale_of
from lacet.documents.language import language

SIZE_MM = (174.0, 98.0)
VERRIN = ((44.02, -25.01), (44.38, -24.19))

Corners = tuple[tuple[float, float], tuple[float, float]]


def _corners(south: float, west: float, high: float, wide: float) -> Corners:
    return (south, west), (south + high, (west + wide + 180) % 360 - 180)


corners = st.builds(
    _corners, st.floats(-80, 80), st.floats(-180, 180), st.floats(0.001, 0.5), st.floats(0.001, 0.5)
)


def between_m(frame: Frame, first: tuple[float, float], last: tuple[float, float]) -> float:
    """The geodesic between two points of the map, by Karney's algorithm (geographiclib)."""
    latitude, longitude = frame.positions_deg(np.array([first[0], last[0]]), np.array([first[1], last[1]]))
    found: float = Geodesic.WGS84.Inverse(latitude[0], longitude[0], latitude[1], longitude[1])["s12"]
    return found


@given(corners)
def test_all_positions_lie_within_the_margin(box: Corners) -> None:
    frame = frame_around(box, SIZE_MM, margin_mm=10.0)
    for position in box:
        x, y = frame.at_mm(*position)
        assert 9.999 <= x <= SIZE_MM[0] - 9.999
        assert 9.999 <= y <= SIZE_MM[1] - 9.999


@given(corners, st.floats(0, SIZE_MM[0]), st.floats(0, SIZE_MM[1]))
def test_a_point_of_the_map_leads_to_its_position_and_back(box: Corners, x: float, y: float) -> None:
    frame = frame_around(box, SIZE_MM)
    latitude, longitude = frame.positions_deg(np.array([x]), np.array([y]))
    assert frame.at_mm(float(latitude[0]), float(longitude[0])) == pytest.approx((x, y), abs=0.01)


@pytest.mark.parametrize("imperial", [False, True])
@pytest.mark.parametrize("box", [VERRIN, ((60.1, 24.8), (60.4, 25.4)), ((-0.02, 179.99), (0.03, -179.98))])
def test_the_scale_bar_is_as_long_as_it_says(box: Corners, imperial: bool) -> None:
    """In both directions, to a part in a thousand; a mile is 1 609.344 m, a foot 0.3048 m (ISO 80000-3)."""
    frame = frame_around(box, SIZE_MM)
    long_mm, says = scale_of(frame, language("en", imperial=imperial))
    value, unit = says.split(" ")
    said_m = float(value.replace(",", "")) * {"km": 1000.0, "m": 1.0, "mi": 1609.344, "ft": 0.3048}[unit]
    assert between_m(frame, (5.0, 90.0), (5.0 + long_mm, 90.0)) == pytest.approx(said_m, rel=1e-3)
    assert between_m(frame, (5.0, 50.0), (5.0, 50.0 + long_mm)) == pytest.approx(said_m, rel=1e-3)
    assert re.fullmatch(r"[125]0*|0\.[125]", value.replace(",", ""))
    assert 0.08 * SIZE_MM[0] < long_mm <= 0.22 * SIZE_MM[0] + 1e-9


def test_north_is_up_and_east_is_right() -> None:
    frame = frame_around(VERRIN, SIZE_MM)
    middle = frame.at_mm(44.2, -24.6)
    assert frame.at_mm(44.3, -24.6)[1] < middle[1]
    assert frame.at_mm(44.2, -24.5)[0] > middle[0]


def test_a_single_place_gets_a_map_of_a_village() -> None:
    frame = frame_around([(44.2, -24.6)], SIZE_MM)
    assert frame.at_mm(44.2, -24.6) == pytest.approx((87.0, 49.0))
    assert frame.metres_per_mm * SIZE_MM[0] == pytest.approx(1_500.0)


@given(st.floats(1e-3, 1e6))
def test_a_round_figure_lies_just_below(value: float) -> None:
    found = round_below(value)
    assert found <= value * (1 + 1e-9)
    assert value < found * 2.5 * (1 + 1e-9)


def test_figures_are_written_as_the_language_writes_them() -> None:
    assert figure(0.5, language("de")) == "0,5"
    assert figure(2.0, language("en")) == "2"
