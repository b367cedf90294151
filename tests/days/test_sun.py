"""Daylight against published times, an ephemeris, and what anybody can reason out."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lacet.days.sun import Sun, sun

# Computed with skyfield 1.55 and JPL's ephemeris DE421 (upper limb at -50', civil twilight at -6 degrees,
# flat horizon at sea level), for dawn, sunrise, sunset and dusk; tolerance [s], wider where the sun grazes
# the horizon.
EPHEMERIS = [
    (
        "Zermatt CH",
        46.0207,
        7.7491,
        "Europe/Zurich",
        "2027-07-15",
        ("05:15:34", "05:52:35", "21:16:51", "21:53:44"),
        60,
    ),
    (
        "Salzburg AT",
        47.7981,
        13.0465,
        "Europe/Vienna",
        "2027-03-28",
        ("06:24:13", "06:55:16", "19:31:31", "20:02:39"),
        60,
    ),
    (
        "Santiago de Compostela ES",
        42.8806,
        -8.5449,
        "Europe/Madrid",
        "2027-10-31",
        ("07:37:23", "08:06:46", "18:28:14", "18:57:36"),
        60,
    ),
    ("Tromso NO", 69.6492, 18.9553, "Europe/Oslo", "2027-06-21", (None, None, None, None), 0),
    ("Tromso NO", 69.6492, 18.9553, "Europe/Oslo", "2027-12-21", ("09:31:04", None, None, "13:53:03"), 180),
    (
        "Edinburgh GB",
        55.9533,
        -3.1883,
        "Europe/London",
        "2027-09-22",
        ("06:20:11", "06:57:22", "19:12:31", "19:49:33"),
        60,
    ),
    (
        "Funchal PT",
        32.6669,
        -16.9241,
        "Atlantic/Madeira",
        "2027-05-01",
        ("06:54:53", "07:21:03", "20:49:03", "21:15:17"),
        60,
    ),
    (
        "Kiruna SE",
        67.8558,
        20.2253,
        "Europe/Stockholm",
        "2027-05-25",
        (None, "01:24:21", "23:57:50", None),
        180,
    ),
    (
        "Inverness GB",
        57.4778,
        -4.2247,
        "Europe/London",
        "2027-06-21",
        ("03:06:13", "04:17:53", "22:19:27", "23:31:06"),
        60,
    ),
]

# "Astronomy Answers", The Position of the Sun: Tables, table 1: sunrise on 1 January 2002 at longitude 0 in
# universal time, printed to the minute.
SUNRISE_TABLE = [
    (-60, "02:43"),
    (-40, "04:35"),
    (-20, "05:24"),
    (10, "06:17"),
    (30, "06:56"),
    (44, "07:35"),
    (46, "07:42"),
    (50, "07:59"),
]

LATITUDES = st.floats(-89, 89)
LONGITUDES = st.floats(-180, 180)
DAYS = st.dates(date(1990, 1, 1), date(2060, 12, 31))


def seconds_from(expected: str, found: datetime) -> float:
    return (
        found - datetime.combine(found.date(), time.fromisoformat(expected), found.tzinfo)
    ).total_seconds()


@pytest.mark.parametrize(
    ("place", "latitude", "longitude", "zone", "day", "expected", "tolerance_s"), EPHEMERIS
)
def test_daylight_agrees_with_an_ephemeris(
    place: str,
    latitude: float,
    longitude: float,
    zone: str,
    day: str,
    expected: tuple[str | None, ...],
    tolerance_s: float,
) -> None:
    light = sun(latitude, longitude, date.fromisoformat(day), zone)
    found = (light.civil_dawn, light.sunrise, light.sunset, light.civil_dusk)
    assert [event is None for event in found] == [event is None for event in expected], place
    for wanted, event in zip(expected, found, strict=True):
        if wanted and event:
            assert event.date() == date.fromisoformat(day)
            assert abs(seconds_from(wanted, event)) <= tolerance_s


@pytest.mark.parametrize(("latitude", "printed"), SUNRISE_TABLE)
def test_sunrise_agrees_with_a_printed_table(latitude: float, printed: str) -> None:
    sunrise = sun(latitude, 0, date(2002, 1, 1), "UTC").sunrise
    assert sunrise is not None
    assert abs(seconds_from(printed, sunrise)) <= 90


def test_sunrise_agrees_with_the_almanac_for_computers() -> None:
    # US Naval Observatory, Almanac for Computers 1990: worked answer 5:26, local time 4 h behind (from
    # memory).
    sunrise = sun(40.9, -74.3, date(1990, 6, 25), "EDT4").sunrise
    assert sunrise is not None
    assert abs(seconds_from("05:26", sunrise)) <= 60


def test_sunrise_agrees_with_an_example_to_the_second() -> None:
    # Example of the skyfield documentation, its almanac page: 11:13:13 (from memory).
    sunrise = sun(40.8939, -83.8917, date(2018, 9, 12), "UTC").sunrise
    assert sunrise is not None
    assert abs(seconds_from("11:13:13", sunrise)) <= 2


@pytest.mark.parametrize(
    ("day", "polar", "twilight_polar"),
    [("2027-06-21", "day", "day"), ("2027-12-21", "night", None), ("2027-09-22", None, None)],
)
def test_polar_days_and_nights_are_told(day: str, polar: str | None, twilight_polar: str | None) -> None:
    light = sun(69.6492, 18.9553, date.fromisoformat(day), "Europe/Oslo")
    assert (light.polar, light.twilight_polar) == (polar, twilight_polar)


def test_at_the_pole_the_sun_rises_once_a_year() -> None:
    lights = [sun(90, 0, date(2027, month, 1), "UTC") for month in range(1, 13)]
    assert [light.polar for light in lights] == ["night"] * 3 + ["day"] * 6 + ["night"] * 3
    assert all(light.sunrise is None and light.sunset is None for light in lights)


def test_a_sunset_after_midnight_ends_the_light_of_the_day_before() -> None:
    light = sun(64.15, -21.94, date(2027, 6, 21), "Atlantic/Reykjavik")
    assert light.sunrise is not None
    assert light.sunset is not None
    assert light.sunset.date() == date(2027, 6, 22)
    assert timedelta(hours=20) < light.sunset - light.sunrise < timedelta(hours=22)


def test_one_event_may_be_missing_where_the_polar_day_begins() -> None:
    days = [date(2027, 5, 1) + timedelta(days=number) for number in range(40)]
    lights = [sun(69.6492, 18.9553, day, "Europe/Oslo") for day in days]
    ended = next(number for number, light in enumerate(lights) if light.sunset is None)
    assert lights[ended - 1].sunset is not None
    assert all(light.sunset is None for light in lights[ended:])
    assert all(light.polar == "day" for light in lights[ended + 1 :])


def test_times_are_on_the_clock_of_the_zone_also_on_a_day_of_change() -> None:
    before, after = (sun(47.8, 13.05, date(2027, 3, day), "Europe/Vienna").sunset for day in (27, 28))
    assert before is not None
    assert after is not None
    assert (before.utcoffset(), after.utcoffset()) == (timedelta(hours=1), timedelta(hours=2))
    assert timedelta(minutes=60) < after.replace(tzinfo=None) - before.replace(tzinfo=None) - timedelta(
        days=1
    )


@pytest.mark.parametrize("position", [(90.1, 0), (0, 180.1), (float("nan"), 0)])
def test_a_position_off_the_earth_is_refused(position: tuple[float, float]) -> None:
    with pytest.raises(ValueError, match="no position on earth"):
        sun(*position, date(2027, 6, 1), "UTC")


@given(LATITUDES, LONGITUDES, DAYS)
def test_the_events_of_a_day_come_in_order(latitude: float, longitude: float, day: date) -> None:
    light = sun(latitude, longitude, day, "UTC")
    events = (light.civil_dawn, light.sunrise, light.sunset, light.civil_dusk)
    known = [event.astimezone(UTC) for event in events if event]
    assert known == sorted(known)
    assert not known or known[-1] - known[0] < timedelta(days=1)


@given(LATITUDES, LONGITUDES, DAYS)
def test_missing_events_have_a_reason(latitude: float, longitude: float, day: date) -> None:
    light = sun(latitude, longitude, day, "UTC")
    assert (light.polar is not None) == (light.sunrise is None and light.sunset is None)
    assert (light.twilight_polar is not None) == (light.civil_dawn is None and light.civil_dusk is None)
    if light.twilight_polar == "night":
        assert light.polar == "night"
    if light.polar == "day":
        assert light.twilight_polar == "day"


@given(st.floats(-60, 60), LONGITUDES, DAYS)
def test_the_year_turned_by_half_swaps_the_hemispheres_roughly(
    latitude: float, longitude: float, day: date
) -> None:
    north, south = sun(latitude, longitude, day, "UTC"), sun(-latitude, longitude, day, "UTC")
    assert abs(_light_h(north) + _light_h(south) - 24) < 0.75


def _light_h(light: Sun) -> float:
    assert light.sunrise is not None
    assert light.sunset is not None
    return (light.sunset - light.sunrise).total_seconds() / 3600
