"""Seasons and closures written as text."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lacet.days.seasons import SeasonRefused, covers, season

DAYS = st.dates(date(2000, 1, 1), date(2050, 12, 31))


@pytest.mark.parametrize(
    ("text", "inside", "outside"),
    [
        (
            "11-01..03-15",
            ["2026-11-01", "2026-12-31", "2027-01-01", "2027-03-15"],
            ["2027-10-31", "2027-03-16"],
        ),
        ("04-15..10-15", ["2027-04-15", "2035-10-15"], ["2027-04-14", "2027-10-16"]),
        ("2027-04-10..2027-05-02", ["2027-04-10", "2027-05-02"], ["2027-04-09", "2028-04-10"]),
        ("2027-12-20..2028-01-10", ["2027-12-20", "2028-01-10"], ["2028-01-11", "2028-12-20"]),
        ("12-24", ["2027-12-24", "2028-12-24"], ["2027-12-25"]),
        ("2027-06-12", ["2027-06-12"], ["2028-06-12"]),
        ("Mo", ["2027-05-03"], ["2027-05-04"]),
        ("Sa-Mo,We", ["2027-05-01", "2027-05-02", "2027-05-03", "2027-05-05"], ["2027-05-04", "2027-05-06"]),
        ("07-01..08-31 Mo", ["2027-07-05"], ["2027-07-06", "2027-06-28"]),
        ("05 Mo[1]", ["2027-05-03", "2028-05-01"], ["2027-05-10"]),
        ("05 Mo[1]..10 Su[-1]", ["2027-05-03", "2027-10-31"], ["2027-05-02", "2027-11-01"]),
        ("easter-2..easter+1", ["2027-03-26", "2027-03-29"], ["2027-03-25", "2027-03-30"]),
        ("12-24; Tu", ["2027-12-24", "2027-05-04"], ["2027-05-05"]),
        ("12-01..02-29", ["2027-02-28", "2028-02-29"], ["2027-03-01"]),
        ("02-29", ["2028-02-29"], ["2027-02-28", "2027-03-01"]),
    ],
)
def test_a_season_covers_its_days_alone(text: str, inside: list[str], outside: list[str]) -> None:
    assert all(season(text).covers(date.fromisoformat(day)) for day in inside)
    assert not any(season(text).covers(date.fromisoformat(day)) for day in outside)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("", "it is empty"),
        ("  ", "it is empty"),
        ("12-24;", "a part between ';' is empty"),
        ("11-01..", "an end is missing"),
        ("13-01..14-01", "'13-01' is no day"),
        ("02-30", "'02-30' is no day"),
        ("2027-05-02..2027-04-10", "it ends before it begins"),
        ("2027-05-02..06-01", "one end has a year and the other has none"),
        ("in winter", "'in winter' is no day"),
        ("Mo-", "'Mo-' is no day"),
    ],
)
def test_nonsense_is_refused_in_a_sentence(text: str, why: str) -> None:
    with pytest.raises(SeasonRefused) as refused:
        season(text)
    assert f"The season '{text}' can't be read: {why}. Write it like" in str(refused.value)


def test_a_stay_overlaps_a_season_that_it_touches() -> None:
    winter = season("11-01..03-15")
    assert winter.overlaps(date(2027, 3, 10), date(2027, 3, 20))
    assert winter.overlaps(date(2027, 3, 15), date(2027, 3, 15))
    assert not winter.overlaps(date(2027, 3, 16), date(2027, 10, 31))


def test_the_days_of_a_season_come_in_order() -> None:
    found = list(season("Mo").days(date(2027, 5, 1), date(2027, 5, 31)))
    assert [day.day for day in found] == [3, 10, 17, 24, 31]


@given(DAYS, DAYS, DAYS)
def test_a_yearly_season_and_the_rest_of_the_year_share_no_day(first: date, last: date, day: date) -> None:
    after, before = last + timedelta(days=1), first - timedelta(days=1)
    if {(2, 28), (2, 29), (3, 1)} & {(end.month, end.day) for end in (first, last, after, before)}:
        return
    if (after.month, after.day) == (first.month, first.day):
        return
    inside = covers(f"{first:%m-%d}..{last:%m-%d}", day)
    assert inside != covers(f"{after:%m-%d}..{before:%m-%d}", day)


@given(DAYS, st.integers(0, 500), DAYS)
def test_a_dated_season_is_the_days_between_its_ends(first: date, length: int, day: date) -> None:
    last = first + timedelta(days=length)
    assert covers(f"{first}..{last}", day) == (first <= day <= last)
