"""Public holidays: published lists, a library's own, Easter, and what is refused."""

from __future__ import annotations

from datetime import date, timedelta
from importlib.metadata import version

import holidays as published
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lacet.days.holidays import (
    HOLIDAYS_UNSET,
    HolidaysRefused,
    easter,
    holidays_for,
    holidays_of,
    nth_weekday,
    rule_of,
)
from lacet.trip.region import Region

# Computed with the package holidays 0.109 for 2027. These lists are what the package says, not always what
# people go by: IT 7 November is no day off, ES lacks regional replacements for 15 August, SI and PT hold
# Sundays, and CH, DE and GB need a subdivision.
PUBLISHED_2027 = [
    ("DE", "", "01-01 03-26 03-29 05-01 05-06 05-17 10-03 12-25 12-26"),
    ("IT", "", "01-01 01-06 03-28 03-29 04-25 05-01 06-02 08-15 10-04 11-01 11-07 12-08 12-25 12-26"),
    ("ES", "", "01-01 01-06 03-26 05-01 10-12 11-01 12-06 12-08 12-25"),
    ("CH", "", "01-01 05-06 08-01 12-25"),
    ("SI", "", "01-01 01-02 02-08 03-28 03-29 04-27 05-01 05-02 05-16 06-25 08-15 10-31 11-01 12-25 12-26"),
    ("PT", "", "01-01 03-26 03-28 04-25 05-01 05-27 06-10 08-15 10-05 11-01 12-01 12-08 12-25"),
    ("DE", "BY", "01-01 01-06 03-26 03-29 05-01 05-06 05-17 05-27 10-03 11-01 12-25 12-26"),
    ("CH", "GR", "01-01 03-29 05-06 05-17 08-01 12-25 12-26"),
    ("GB", "SCT", "01-01 01-02 01-04 03-26 05-03 05-31 08-02 11-30 12-25 12-26 12-27 12-28"),
    ("IT", "BZ", "01-01 01-06 03-28 03-29 04-25 05-01 05-17 06-02 08-15 10-04 11-01 11-07 12-08 12-25 12-26"),
    ("ES", "GA", "01-01 01-06 03-25 03-26 05-01 05-17 10-12 11-01 12-06 12-08 12-25"),
    ("PT", "30", "01-01 03-26 03-28 04-25 05-01 05-27 06-10 07-01 08-15 10-05 11-01 12-01 12-08 12-25 12-26"),
]


@pytest.mark.parametrize(("country", "subdivision", "days"), PUBLISHED_2027)
def test_published_lists_come_by_country_and_subdivision(country: str, subdivision: str, days: str) -> None:
    found = holidays_for((), country, subdivision).in_year(2027)
    assert " ".join(f"{day:%m-%d}" for day in found) == days


@pytest.mark.parametrize(
    ("year", "day"), [(2027, "03-28"), (2024, "03-31"), (1818, "03-22"), (1943, "04-25"), (2038, "04-25")]
)
def test_easter_agrees_with_published_dates(year: int, day: str) -> None:
    # 2027: python-dateutil 2.9; the earliest (1818) and latest (1943, 2038) dates there are: from memory.
    assert easter(year) == date.fromisoformat(f"{year}-{day}")


def test_easter_agrees_with_the_good_fridays_of_a_century() -> None:
    good_fridays = published.country_holidays("GB", subdiv="ENG", years=range(1975, 2076), language="en_GB")
    found = {day for day, name in good_fridays.items() if name == "Good Friday"}
    assert found == {easter(year) - timedelta(days=2) for year in range(1975, 2076)}


def test_own_rules_fall_on_their_days() -> None:
    own = {
        "05-01": "Labour Day",
        "2027-06-12": "Jubilee",
        "easter+1": "Easter Monday",
        "easter -2": "Good Friday",
        "05 Mo[1]": "First Monday",
        "09 Su[-1]": "Harvest",
    }
    found = holidays_for(own).in_year(2027)
    assert {f"{day:%m-%d}": name for day, name in found.items()} == {
        "03-26": "Good Friday",
        "03-29": "Easter Monday",
        "05-01": "Labour Day",
        "05-03": "First Monday",
        "06-12": "Jubilee",
        "09-26": "Harvest",
    }
    assert date(2028, 6, 12) not in holidays_for(own).in_year(2028)


def test_an_own_rule_renames_or_strikes_a_published_day() -> None:
    holidays = holidays_for([("11-07", ""), ("01-06", "Kings")], "IT")
    assert holidays.name_on(date(2027, 11, 7)) is None
    assert holidays.name_on(date(2027, 1, 6)) == "Kings"
    assert holidays.name_on(date(2027, 12, 25)) == "Christmas Day"


def test_29_february_comes_in_leap_years_alone() -> None:
    holidays = holidays_for({"02-29": "Leap day"})
    assert holidays.name_on(date(2028, 2, 29)) == "Leap day"
    assert not holidays.in_year(2027)


def test_lines_of_a_library_are_read() -> None:
    region = Region(
        holidays=("05-01 Labour Day", "easter+1 Easter Monday", "05 Mo[1]  May Day"), country="AT"
    )
    found = holidays_of(region).in_year(2027)
    assert list(found.values()) == ["Easter Monday", "Labour Day", "May Day"]


def test_a_library_without_own_holidays_takes_those_of_its_country() -> None:
    assert holidays_of(Region(country="at")).name_on(date(2027, 10, 26)) == "National Day"
    assert holidays_of(Region()) == HOLIDAYS_UNSET


@pytest.mark.parametrize(
    "line",
    [
        "",
        "Labour Day",
        "13-01 x",
        "02-30 x",
        "2027-02-29 x",
        "easter+1Monday",
        "05 Mo[6] x",
        "5-1 x",
        "easter+100",
    ],
)
def test_an_unreadable_line_is_refused_in_a_sentence(line: str) -> None:
    with pytest.raises(HolidaysRefused, match="can't be read: begin it with MM-DD"):
        holidays_for([rule_of(line)])


@pytest.mark.parametrize(
    ("country", "subdivision", "says"),
    [
        ("XX", "", "country 'XX' are not known"),
        ("CH", "ZZ", "region 'ZZ' of CH"),
        ("", "BY", "has no country"),
    ],
)
def test_an_unknown_country_or_region_is_refused(country: str, subdivision: str, says: str) -> None:
    with pytest.raises(HolidaysRefused, match=says):
        holidays_for((), country, subdivision)


def test_a_fifth_weekday_may_be_missing() -> None:
    assert nth_weekday(2027, 5, 0, 5) == date(2027, 5, 31)
    assert nth_weekday(2027, 6, 0, 5) is None


def test_the_data_behind_published_days_is_told_for_digests() -> None:
    assert holidays_for({"05-01": "x"}).data_version == ""
    assert holidays_for((), "DE", "BY").data_version == f"holidays {version('holidays')} DE-BY"


def test_equal_lists_are_equal_values() -> None:
    first, second = (holidays_for({"05-01": "Labour Day"}, "CH", "GR") for _ in range(2))
    assert first == second
    assert hash(first) == hash(second)


@given(st.integers(1583, 4000))
def test_easter_is_a_sunday_from_22_march_to_25_april(year: int) -> None:
    day = easter(year)
    assert day.weekday() == 6
    assert (3, 22) <= (day.month, day.day) <= (4, 25)


@given(st.dates(date(1990, 1, 1), date(2060, 1, 1)), st.integers(1, 5))
def test_the_nth_weekday_is_in_its_seventh_of_the_month(day: date, nth: int) -> None:
    found = nth_weekday(day.year, day.month, day.weekday(), nth)
    if found:
        assert found.weekday() == day.weekday()
        assert (found.day - 1) // 7 == nth - 1
