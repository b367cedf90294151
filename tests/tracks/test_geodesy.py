"""Lengths against published geodesics and against geographiclib, an implementation of its own."""

from __future__ import annotations

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given
from hypothesis import strategies as st

from lacet.tracks import geodesy
from lacet.tracks.track import track


def one_step_m(latitude_1: float, longitude_1: float, latitude_2: float, longitude_2: float) -> float:
    return geodesy.length_m(track([latitude_1, latitude_2], [longitude_1, longitude_2]))


def reduced(longitude: float) -> float:
    return (longitude + 180.0) % 360.0 - 180.0


PUBLISHED = [
    # Printed in test suites of several open-source Vincenty implementations: Land's End - John o' Groats.
    (50.06632, -5.71475, 58.64402, -3.07009, 969954.166, 0.001),
    # The same suites; Vincenty's own iteration does not converge here (value by geographiclib 2.1).
    (0, 0, 0.5, 179.7, 19944127.421, 0.001),
    # GeographicLib's documentation: Wellington - Salamanca, and JFK - LHR.
    (-41.32, 174.81, 40.96, -5.5, 19959679.267, 0.001),
    (40.6, -73.8, 51.6, -0.5, 5551759.4, 0.001),
    # C. F. F. Karney (2013), J. Geodesy 87:43-55; rows shipped with geographiclib 2.1.
    (35.60777, -139.44815, -11.17491, -69.95921, 8935244.5604818, 1e-6),
    (-21.97856, 142.59065, 41.84138, 98.56635, 8394328.8946577, 1e-6),
    (-66.99028, 112.2363, -12.70631, 285.90344, 11150344.231208, 1e-6),
    (-68.82867, -74.28391, -50.63005, -8.36685, 3956936.9260635, 1e-6),
    (-25.72959, -144.90758, -57.70581, -269.17879, 9413446.7452453, 1e-6),
    # Computed with geographiclib 2.1: a degree at the equator, one at the pole, the date line at Fiji.
    (0, 10, 1, 10, 110574.389, 0.001),
    (89, 0, 90, 0, 111693.865, 0.001),
    (-16.8, 179.9, -16.8, -179.9, 21319.625, 0.001),
    (54.6013, -3.1347, 54.619, -3.053, 5634.604, 0.001),
]


@pytest.mark.parametrize(
    ("latitude_1", "longitude_1", "latitude_2", "longitude_2", "metres", "within"), PUBLISHED
)
def test_published_geodesics(
    latitude_1: float, longitude_1: float, latitude_2: float, longitude_2: float, metres: float, within: float
) -> None:
    length = one_step_m(latitude_1, reduced(longitude_1), latitude_2, reduced(longitude_2))
    assert length == pytest.approx(metres, abs=within)


def degrees(degree: int, minute: int, second: float) -> float:
    return degree + minute / 60 + second / 3600


# T. Vincenty (1975), Survey Review 23(176):88-93; the line of the GDA Technical Manual (ICSM), as quoted in
# several libraries. It is on GRS80, which differs from WGS 84 by less than the last digit.
FLINDERS_PEAK = (-degrees(37, 57, 3.72030), degrees(144, 25, 29.52440))
BUNINYONG = (-degrees(37, 39, 10.15610), degrees(143, 55, 35.38390))


def test_the_line_from_flinders_peak_to_buninyong() -> None:
    assert one_step_m(*FLINDERS_PEAK, *BUNINYONG) == pytest.approx(54972.271, abs=1e-3)
    _, back, _ = geodesy.ellipsoid().inv(*FLINDERS_PEAK[::-1], *BUNINYONG[::-1])
    assert back % 360 == pytest.approx(degrees(127, 10, 25.07), abs=0.01 / 3600)


def test_the_solver_finds_ends_as_published() -> None:
    solver = geodesy.ellipsoid()
    longitude, latitude, _ = solver.fwd(*FLINDERS_PEAK[::-1], 306.8681583333, 54972.271)
    assert (latitude, longitude) == pytest.approx(BUNINYONG, abs=2e-8)
    # C. F. F. Karney, GeodTest.dat (Zenodo 10.5281/zenodo.32156), first row, from memory.
    longitude, latitude, back = solver.fwd(0.0, 36.530042355041, 176.125875162171, 9398502.0434687)
    assert latitude == pytest.approx(-48.16427077909777, abs=1e-10)
    assert longitude == pytest.approx(5.76234469467651, abs=1e-10)
    assert (back + 180) % 360 == pytest.approx(175.33430831628541, abs=1e-10)


def test_the_ellipsoid_is_wgs_84() -> None:
    # NGA.STND.0036 (a from memory; the others follow from it and 1/f).
    assert pytest.approx(6378137.0, abs=0) == geodesy.SEMI_MAJOR_M
    assert pytest.approx(6356752.3142, abs=1e-4) == geodesy.SEMI_MINOR_M
    assert pytest.approx(0.00669437999014, abs=1e-14) == geodesy.ECCENTRICITY_SQUARED


def test_radii_of_the_meridian() -> None:
    # Moritz (1980): 6 335 439.327 m at the equator, 6 399 593.626 m at the pole.
    for latitude, radius in ((0.0, 6335439.327), (90.0, 6399593.626)):
        small = 1e-3
        inward = latitude - small if latitude else latitude + small
        assert one_step_m(latitude, 0.0, inward, 0.0) / np.radians(small) == pytest.approx(radius, abs=0.5)


@given(st.floats(-90, 90), st.floats(-180, 179.99), st.floats(0, 360), st.floats(0.01, 30_000))
def test_every_step_is_within_a_millionth_of_the_geodesic(
    latitude: float, longitude: float, azimuth: float, metres: float
) -> None:
    # Where a position is written in degrees a step of a centimetre is only good to some 1e-9 m.
    end = Geodesic.WGS84.Direct(latitude, longitude, azimuth, metres)
    length = one_step_m(latitude, longitude, end["lat2"], reduced(end["lon2"]))
    assert length == pytest.approx(metres, rel=1e-6, abs=1e-8)


def test_chord_and_geodesic_agree_where_they_meet() -> None:
    for metres in (4_999.0, 5_001.0):
        end = Geodesic.WGS84.Direct(47.0, 11.0, 33.0, metres)
        assert one_step_m(47.0, 11.0, end["lat2"], end["lon2"]) == pytest.approx(metres, rel=1e-8)


def test_a_haversine_would_be_wrong_by_half_a_percent() -> None:
    # 'Great-circle distance' (encyclopaedia): a single sphere is only good to 0.5 %.
    radius, one_degree = 6371008.7714, np.radians(1.0)
    assert radius * one_degree / one_step_m(0, 10, 1, 10) - 1 == pytest.approx(0.005613, abs=1e-6)
    assert radius * one_degree / one_step_m(89, 0, 90, 0) - 1 == pytest.approx(-0.004466, abs=1e-6)


def test_all_longitudes_are_one_place_at_the_pole() -> None:
    line = track([90.0, 90.0, 89.999], [0.0, 120.0, 120.0])
    assert geodesy.step_lengths_m(line) == pytest.approx([0.0, 111.694], abs=1e-3)


def test_a_gap_has_no_length_but_is_reported() -> None:
    line = track([46.0, 46.001, 46.01, 46.011], [11.0] * 4, segment_start=(0, 2))
    steps = geodesy.step_lengths_m(line)
    assert steps[1] == 0.0
    assert geodesy.cumulative_m(line)[1] == geodesy.cumulative_m(line)[2]
    assert geodesy.gap_lengths_m(line) == pytest.approx([1000.4], abs=0.1)
    assert geodesy.length_m(line) == pytest.approx(222.3, abs=0.1)


def test_one_point_has_no_length() -> None:
    assert geodesy.length_m(track([46.0], [11.0])) == 0.0
    assert len(geodesy.step_lengths_m(track([46.0], [11.0]))) == 0


@given(st.floats(-90, 90), st.floats(-180, 179.999))
def test_positions_survive_earth_centred_coordinates(latitude: float, longitude: float) -> None:
    back_latitude, back_longitude = geodesy.positions_deg(geodesy.earth_centred_m([latitude], [longitude]))
    assert back_latitude[0] == pytest.approx(latitude, abs=1e-9)
    turned = abs(back_longitude[0] - longitude) % 360.0
    assert min(turned, 360.0 - turned) * np.cos(np.radians(latitude)) < 1e-9


def test_distance_between_two_places() -> None:
    assert geodesy.distance_m((50.06632, -5.71475), (58.64402, -3.07009)) == pytest.approx(
        969954.166, abs=1e-3
    )


@given(st.floats(-90, 90), st.floats(-180, 179), st.floats(0, 360), st.floats(1.0, 110_000.0))
def test_the_distance_of_neighbours_is_the_geodesic(
    latitude: float, longitude: float, azimuth: float, length_m: float
) -> None:
    # Reference: geographiclib, on both sides of the limit up to which the chord is taken.
    end = Geodesic.WGS84.Direct(latitude, longitude, azimuth, length_m)
    found = geodesy.distance_m((latitude, longitude), (end["lat2"], end["lon2"]))
    assert found == pytest.approx(length_m, rel=0.2e-6, abs=1e-6)


def test_a_plane_keeps_lengths_near_its_centre() -> None:
    end = Geodesic.WGS84.Direct(44.2, -24.6, 30.0, 10_000.0)
    east, north = geodesy.plane_m([end["lat2"]], [end["lon2"]], (44.2, -24.6))
    assert np.hypot(east[0], north[0]) == pytest.approx(10_000.0, rel=1e-6)
    assert np.degrees(np.arctan2(east[0], north[0])) == pytest.approx(30.0, abs=1e-3)
