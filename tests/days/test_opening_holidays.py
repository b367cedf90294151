"""Public holidays in opening hours: a list of ours stands in for `PH`, on its days and nowhere else."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from opening_hours import OpeningHours, State

from lacet.days.holidays import NO_HOLIDAYS, Holidays, holidays_for
from lacet.days.hours import DAY_MINUTES, pieces
from lacet.days.opening import intervals, opening, sentence, state
from tests.days.hours_strategy import EXPRESSIONS, PUZZLING_EXPRESSIONS

WHIT_MONDAY = date(2027, 5, 17)
HOLIDAYS = holidays_for({"2027-05-17": "Whit Monday", "2027-05-30": "A Sunday", "2027-05-26": "A Wednesday"})
DAYS_2027 = st.dates(date(2027, 1, 3), date(2027, 12, 29))
STATES = {State.OPEN: True, State.CLOSED: False, State.UNKNOWN: None}


def hours_on(expression: str, day: date, holidays: Holidays = HOLIDAYS) -> str:
    """Return the open hours that touch a day, as text: '10:00-18:00' (past midnight beyond 24:00)."""
    found = intervals(opening(expression), day, holidays)
    midnight = datetime.combine(day, time())

    def clock(moment: datetime) -> str:
        minutes = round((moment - midnight).total_seconds() / 60)
        return f"{minutes // 60:02}:{minutes % 60:02}"

    return " ".join(f"{clock(start)}-{clock(end)}" for start, end, is_open in found if is_open)


# Worked out by hand from the specification 0.7.2: expression, hours on Whit Monday (a holiday), on the Monday
# after.
BY_HAND = [
    ("Mo-Fr 10:00-18:00", "10:00-18:00", "10:00-18:00"),
    ("PH off", "", ""),
    ("Mo-Fr 10:00-18:00; PH off", "", "10:00-18:00"),
    ("Mo-Fr 10:00-18:00; PH 11:00-14:00", "11:00-14:00", "10:00-18:00"),
    ("Mo-Fr 10:00-12:00, PH 14:00-15:00", "10:00-12:00 14:00-15:00", "10:00-12:00"),
    ("Sa-Su,PH 10:00-12:00", "10:00-12:00", ""),
    ("PH,Sa-Su 10:00-12:00", "10:00-12:00", ""),
    ("Mo-Su,PH 10:00-12:00", "10:00-12:00", "10:00-12:00"),
    ("Mo-Su 10:00-18:00; PH,Su off", "", "10:00-18:00"),
    ("Mo-Su 10:00-18:00; Su,PH off", "", "10:00-18:00"),
    ("Mo-Su 10:00-18:00; Su PH off", "", "10:00-18:00"),
    ("PH off; Mo-Fr 10:00-18:00", "10:00-18:00", "10:00-18:00"),
    ("PH Mo-Fr 10:00-11:00", "10:00-11:00", ""),
    ("PH Sa-Su 10:00-11:00", "", ""),
    ("Tu-Fr 10:00-12:00; PH -1 day off; PH 09:00-10:00", "09:00-10:00", ""),
    ("May PH off, Mo 10:00-12:00", "10:00-12:00", "10:00-12:00"),
    ("Mo 10:00-12:00; May PH off", "", "10:00-12:00"),
    ("Mo 10:00-12:00; Dec PH off", "10:00-12:00", "10:00-12:00"),
    ("Mo 10:00-12:00; week 20 PH off", "", "10:00-12:00"),
    ("Tu 10:00-12:00 || PH 14:00-15:00", "14:00-15:00", ""),
    ("Mo 10:00-12:00; PH off || 14:00-15:00", "", "10:00-12:00 14:00-15:00"),
    ('Mo 10:00-12:00 "not on PH"', "10:00-12:00", "10:00-12:00"),
    ("PH 22:00-02:00", "22:00-26:00", ""),
]


@pytest.mark.parametrize(("expression", "on_the_holiday", "a_week_later"), BY_HAND)
def test_a_holiday_has_the_hours_worked_out_by_hand(
    expression: str, on_the_holiday: str, a_week_later: str
) -> None:
    assert hours_on(expression, WHIT_MONDAY) == on_the_holiday
    assert hours_on(expression, WHIT_MONDAY + timedelta(days=7)) == a_week_later


def test_the_day_after_a_holiday_can_be_named() -> None:
    expression = "Mo-Su 10:00-18:00; PH +1 day off"
    assert hours_on(expression, WHIT_MONDAY) == "10:00-18:00"
    assert hours_on(expression, WHIT_MONDAY + timedelta(days=1)) == ""


def test_a_holiday_s_late_hours_run_into_the_next_day_and_no_other() -> None:
    expression = "Tu-Su 22:00-01:00, PH 20:00-03:00"
    assert hours_on(expression, WHIT_MONDAY) == "00:00-01:00 20:00-27:00"
    assert hours_on(expression, WHIT_MONDAY + timedelta(days=1)) == "00:00-03:00 22:00-25:00"
    assert hours_on(expression, WHIT_MONDAY + timedelta(days=8)) == "22:00-25:00"


def test_without_a_list_nothing_is_a_holiday() -> None:
    for day in (date(2027, 1, 1), date(2027, 12, 25)):
        assert hours_on("PH 10:00-12:00", day, NO_HOLIDAYS) == ""


def test_the_evaluator_is_given_no_country_of_its_own() -> None:
    # Within Austria, on a holiday of Austria that our list doesn't hold.
    hours = opening("Mo-Su 10:00-12:00; PH off", 47.8, 13.05, "Europe/Vienna")
    assert state(hours, datetime(2027, 10, 26, 11), NO_HOLIDAYS) is True


AUSTRIAN = OpeningHours("PH", country="AT", auto_timezone=False)
AUSTRIAN_LIST = holidays_for(
    [
        (day.isoformat(), "holiday")
        for day in (date(2027, 1, 1) + timedelta(days=number) for number in range(365))
        if AUSTRIAN.is_open(datetime.combine(day, time(12)))
    ]
)


@given(EXPRESSIONS, DAYS_2027, st.times())
def test_a_substituted_list_agrees_with_the_evaluator_s_own(expression: str, day: date, clock: time) -> None:
    # The one place where the evaluator gets a country: as the reference for a list that holds the same days.
    reference = OpeningHours(expression, country="AT", auto_timezone=False)
    near = min(AUSTRIAN_LIST.in_year(2027), key=lambda holiday: abs(holiday - day))
    for on in (day, near, near + timedelta(days=1)):
        moment = datetime.combine(on, clock.replace(second=0, microsecond=0))
        if on.year == 2027 and on.month * on.day > 1:
            assert state(opening(expression), moment, AUSTRIAN_LIST) is STATES[reference.state(moment)[0]]


@given(EXPRESSIONS, DAYS_2027)
def test_a_list_changes_hours_on_and_after_its_days_alone(expression: str, day: date) -> None:
    ours = holidays_for(
        {(day + timedelta(days=2)).isoformat(): "later", (day - timedelta(days=3)).isoformat(): "before"}
    )
    hours = opening(expression.replace("PH +1 day", "PH"))
    assert pieces(hours, day, ours) == pieces(hours, day, NO_HOLIDAYS)


@given(PUZZLING_EXPRESSIONS, DAYS_2027, st.times())
def test_the_intervals_of_a_day_cover_it_and_agree_with_the_state(
    expression: str, day: date, clock: time
) -> None:
    hours = opening(expression, 44.2, -24.6, "VRT1VRST,M3.5.0/0,M10.5.0/1")
    found = intervals(hours, day, AUSTRIAN_LIST)
    midnight = datetime.combine(day, time())
    assert found[0][0] == midnight
    assert all(first[1] == second[0] for first, second in pairwise(found))
    assert all(start < end for start, end, _ in found)
    assert midnight + timedelta(days=1) <= found[-1][1] < midnight + timedelta(days=2)
    moment = datetime.combine(day, clock)
    assert next(is_open for start, end, is_open in found if start <= moment < end) is state(
        hours, moment, AUSTRIAN_LIST
    )


@given(PUZZLING_EXPRESSIONS, DAYS_2027)
def test_pieces_have_no_gap_and_no_equal_neighbours(expression: str, day: date) -> None:
    found = pieces(opening(expression), day, AUSTRIAN_LIST)
    assert (found[0].start, found[-1].end) == (0, DAY_MINUTES)
    for first, second in pairwise(found):
        assert first.end == second.start
        assert first.state is not second.state


@given(PUZZLING_EXPRESSIONS)
def test_every_readable_text_can_be_said(expression: str) -> None:
    assert sentence(opening(expression))
