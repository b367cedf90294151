"""Days without a date answer that they don't know."""

from __future__ import annotations

from datetime import date

import pytest

from lacet.days.calendar import date_of, holiday_name, if_known, in_season, sun_on, weekday_name
from lacet.days.holidays import holidays_for
from lacet.days.seasons import SeasonRefused
from lacet.days.sun import sun

MAY_DAY = date(2027, 5, 1)


def test_everything_about_a_day_without_a_date_is_unknown() -> None:
    assert date_of(None, 3) is None
    assert weekday_name(None) is None
    assert in_season("11-01..03-15", None) is None
    assert holiday_name(holidays_for({"05-01": "Labour Day"}), None) is None
    assert sun_on(44.2, -24.6, None, "UTC") is None
    assert if_known(None, lambda day: day.year) is None


def test_a_day_with_a_date_is_known() -> None:
    assert date_of(MAY_DAY, 3) == date(2027, 5, 4)
    assert weekday_name(MAY_DAY) == "Saturday"
    assert in_season("11-01..03-15", MAY_DAY) is False
    assert holiday_name(holidays_for({"05-01": "Labour Day"}), MAY_DAY) == "Labour Day"
    assert sun_on(44.2, -24.6, MAY_DAY, "UTC") == sun(44.2, -24.6, MAY_DAY, "UTC")
    assert if_known(MAY_DAY, lambda day: day.year) == 2027


def test_a_bad_season_is_refused_also_without_a_date() -> None:
    with pytest.raises(SeasonRefused):
        in_season("in winter", None)
