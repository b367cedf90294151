"""What is written out before the evaluator sees opening hours."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from opening_hours import validate

from lacet.days import hours, osm_hours
from lacet.days.holidays import NO_HOLIDAYS
from tests.days.hours_strategy import PUZZLING_EXPRESSIONS

MONDAY = date(2027, 5, 17)
LIGHT = {"dawn": 330, "sunrise": 360, "sunset": 1200, "dusk": 1230}


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("Mo-Fr 10:00-12:00; PH off", "Mo-Fr 10:00-12:00; Mo off"),
        ("PH,Su off", "Mo,Su off"),
        ("PH +1 day off", "Tu off"),
        ("PH -1 day off", "Su off"),
        ("PH Mo-Fr 10:00-12:00", "Mo 10:00-12:00"),
        ("PH Sa-Su 10:00-12:00", "PH 10:00-12:00"),
        ('10:00-12:00 "not PH"', '10:00-12:00 "not PH"'),
    ],
)
def test_public_holidays_become_their_weekdays(text: str, written: str) -> None:
    days = [MONDAY + timedelta(days=number) for number in (-1, 0, 1)]
    assert osm_hours.with_public_holidays(text, days, lambda day: day == MONDAY) == written


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("sunrise-sunset", "06:00-20:00"),
        ("(sunrise+01:30)-(sunset-00:30)", "07:30-19:30"),
        ("Mo 17:00-sunset unknown", "Mo 17:00-20:00 unknown"),
        ("Mo 21:00-sunset unknown", "Mo off"),
        ("Mo 09:00-10:00,21:00-sunset,22:00-23:00", "Mo 09:00-10:00,22:00-23:00"),
        ("dusk-02:00", "20:30-02:00"),
        ("sunrise-05:00", "off"),
        ("22:00-02:00", "22:00-02:00"),
        ('10:00-12:00 "until sunset"', '10:00-12:00 "until sunset"'),
    ],
)
def test_the_sun_becomes_clock_times(text: str, written: str) -> None:
    assert osm_hours.with_sun_minutes(text, LIGHT) == written


@pytest.mark.parametrize(
    ("text", "shortest", "longest"),
    [
        ("18:00+", "18:00-18:01", "18:00-24:00"),
        ("18:00-22:00+", "18:00-22:00", "18:00-24:00"),
        ("20:00-02:00+", "20:00-02:00", "20:00-30:00"),
    ],
)
def test_open_ends_are_closed_both_ways(text: str, shortest: str, longest: str) -> None:
    assert osm_hours.with_open_ends(text, "shortest") == shortest
    assert osm_hours.with_open_ends(text, "longest") == longest


@pytest.mark.parametrize(
    ("text", "spelled"),
    [
        ('"by appointment"', 'unknown "by appointment"'),
        ('Mo 10:00-12:00 || "ring; twice"', 'Mo 10:00-12:00 || unknown "ring; twice"'),
        ('Mo 10:00-12:00 "ring"', 'Mo 10:00-12:00 "ring"'),
        ('Mo 10:00-12:00"ring"; Tu "x"', 'Mo 10:00-12:00 "ring"; Tu "x"'),
        ("Su PH off", "Su,PH off"),
    ],
)
def test_what_would_be_taken_otherwise_is_spelled_out(text: str, spelled: str) -> None:
    assert osm_hours.spelled_out(text) == spelled


def test_quotes_hide_separators() -> None:
    text = 'Mo 10:00-12:00 "a || b; c" || Tu "d"'
    assert osm_hours.fallback_parts(text) == ('Mo 10:00-12:00 "a || b; c"', 'Tu "d"')
    assert osm_hours.rules('Mo "a; b"; Tu off') == ('Mo "a; b"', "Tu off")
    assert osm_hours.comments(text) == ("a || b; c", "d")


@given(PUZZLING_EXPRESSIONS, st.dates(date(2027, 1, 1), date(2027, 12, 31)), st.booleans())
def test_whatever_is_written_out_can_be_read(expression: str, day: date, is_holiday: bool) -> None:
    opening = hours.opening(expression, 69.6492, 18.9553, "Europe/Oslo")
    days = (day - timedelta(days=1), day)
    text = osm_hours.with_public_holidays(osm_hours.spelled_out(opening.text), days, lambda _: is_holiday)
    for reading in hours._readings(text, opening, day):
        for part in osm_hours.fallback_parts(reading):
            assert validate(part)
            assert validate(osm_hours.closed_as_unknown(part))


@given(st.text(alphabet='",;|-+ PHSMoTuFr0123456789:()[]offé\n', max_size=40))
def test_any_text_is_read_or_refused(text: str) -> None:
    try:
        opening = hours.opening(text, 44.2, -24.6, "UTC")
    except hours.OpeningRefused:
        return
    assert hours.pieces(opening, MONDAY, NO_HOLIDAYS)[-1].end == hours.DAY_MINUTES


def test_a_text_that_can_t_be_read_written_out_is_unknown() -> None:
    assert hours._evaluated("not hours at all", MONDAY) == (hours.Piece(0, hours.DAY_MINUTES, None),)
