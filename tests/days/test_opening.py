"""Opening hours against the specification, two evaluators, and cases worked out by hand."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta

import pytest

from lacet.days.holidays import holidays_for
from lacet.days.opening import (
    OpeningRefused,
    intervals,
    next_change,
    next_two_weeks,
    open_overlaps,
    open_throughout,
    opening,
    state,
)
from lacet.days.sun import sun

STATES = {"open": True, "closed": False, "unknown": None}
SIX_YEARS_DAYS = 2200

# Expression, local time, country of the holidays, state, next change (none: no more; None: not compared).
# Grammar: OpenStreetMap wiki, Key:opening_hours/specification 0.7.2. Values computed with opening_hours_py
# 2.1.4 and opening_hours.js 3.15.0, which agree; on the two rows with '||' they don't, and the second is
# followed: the rule that is only a comment is disputed.
PUBLISHED = [
    ("Mo-Fr 09:00-18:00; PH off", "2021-04-09T20:00", "DE", "closed", "2021-04-12T09:00"),
    ("Mo-Fr 10:00-18:00; Sa-Su 10:00-12:00", "2027-05-03T09:59", "", "closed", "2027-05-03T10:00"),
    ("Mo-Fr 10:00-18:00; Sa-Su 10:00-12:00", "2027-05-08T11:59", "", "open", "2027-05-08T12:00"),
    ("Mo-Su 08:00-18:00; We off", "2027-06-09T12:00", "", "closed", "2027-06-10T08:00"),
    ("Tu-Su 11:30-14:00,18:30-22:00", "2027-07-13T15:00", "", "closed", "2027-07-13T18:30"),
    ("Fr-Sa 18:00-02:00", "2027-07-17T01:59", "", "open", "2027-07-17T02:00"),
    ("24/7", "2027-06-12T03:00", "", "open", "none"),
    ("Mo-Fr 08:00-12:00, We 14:00-18:00", "2027-06-09T09:00", "", "open", "2027-06-09T12:00"),
    ("Mo-Fr 09:00-17:00 || unknown", "2027-06-12T12:00", "", "unknown", "2027-06-14T09:00"),
    ('Mo-Fr 09:00-17:00 || "by appointment"', "2027-06-12T12:00", "", "unknown", None),
    ("Mo-Fr 08:00-17:00; PH off", "2027-05-17T12:00", "DE", "closed", "2027-05-18T08:00"),
    ("Mo-Sa 08:00-17:00; PH 10:00-12:00", "2027-05-17T13:00", "FR", "closed", "2027-05-18T08:00"),
    ("PH,Su 10:00-16:00", "2027-10-26T11:00", "AT", "open", "2027-10-26T16:00"),
    ("Mo-Sa 09:00-18:00; Su off; PH off", "2027-08-16T12:00", "IT", "open", "2027-08-16T18:00"),
    ("week 1-53/2 Fr 09:00-12:00", "2027-01-01T10:00", "", "open", "2027-01-01T12:00"),
    ("week 1-53/2 Fr 09:00-12:00", "2027-01-15T10:00", "", "closed", "2027-01-22T09:00"),
    ("week 20-40 10:00-18:00", "2027-05-16T12:00", "", "closed", "2027-05-17T10:00"),
    ("week 53 Mo 10:00-12:00", "2027-12-27T11:00", "", "closed", "2032-12-27T10:00"),
    ("Apr 15-Oct 15 09:00-17:00", "2027-04-14T12:00", "", "closed", "2027-04-15T09:00"),
    (
        "Apr-Oct: Mo-Sa 09:00-18:00; Nov-Mar: Sa 10:00-15:00",
        "2027-10-31T12:00",
        "",
        "closed",
        "2027-11-06T10:00",
    ),
    ("Mo-Su 10:00-18:00; Dec 20-Jan 10 off", "2028-01-10T12:00", "", "closed", "2028-01-11T10:00"),
    ("easter -2 days-easter +1 day 10:00-14:00", "2027-03-30T11:00", "", "closed", "2028-04-14T10:00"),
    ("Th[1] 14:00-16:00", "2027-06-10T15:00", "", "closed", "2027-07-01T14:00"),
    ("2027 Jun 01-2027 Sep 15 10:00-18:00", "2028-06-15T12:00", "", "closed", "none"),
]

# The same for hours that hang on the sun, with position and zone; the first is printed in the documentation
# of opening_hours_py 2.1.4. The next change may be 120 s off.
PUBLISHED_WITH_SUN = [
    (
        "sunrise-sunset ; PH off",
        "2024-07-14T15:00",
        (48.8535, 2.34839, "Europe/Paris"),
        "closed",
        "2024-07-15T06:03",
    ),
    ("sunrise-sunset", "2027-07-15T05:45", (46.0207, 7.7491, "Europe/Zurich"), "closed", "2027-07-15T05:52"),
    (
        "(sunset-02:00)-sunset",
        "2027-07-15T20:00",
        (46.0207, 7.7491, "Europe/Zurich"),
        "open",
        "2027-07-15T21:17",
    ),
    (
        "(sunrise+01:00)-(sunset-01:00)",
        "2027-07-15T06:30",
        (46.0207, 7.7491, "Europe/Zurich"),
        "closed",
        "2027-07-15T06:52",
    ),
]

MONDAY = date(2027, 5, 3)
WHIT_MONDAY = date(2027, 5, 17)


def at(clock: str, day: date = MONDAY) -> datetime:
    return datetime.combine(day, time.fromisoformat(clock))


@pytest.mark.parametrize(("expression", "local", "country", "expected", "change"), PUBLISHED)
def test_state_and_next_change_agree_with_published_values(
    expression: str, local: str, country: str, expected: str, change: str | None
) -> None:
    hours, holidays = opening(expression), holidays_for((), country)
    moment = datetime.fromisoformat(local)
    assert state(hours, moment, holidays) is STATES[expected]
    if change is not None:
        found = next_change(hours, moment, holidays, SIX_YEARS_DAYS)
        assert found == (None if change == "none" else datetime.fromisoformat(change))


@pytest.mark.parametrize(("expression", "local", "place", "expected", "change"), PUBLISHED_WITH_SUN)
def test_hours_that_hang_on_the_sun_agree_with_published_values(
    expression: str, local: str, place: tuple[float, float, str], expected: str, change: str
) -> None:
    # 14 July, on which the printed example falls, is a holiday in France and none in Switzerland.
    hours, holidays = opening(expression, *place), holidays_for((), "FR" if "PH" in expression else "")
    moment = datetime.fromisoformat(local)
    assert state(hours, moment, holidays) is STATES[expected]
    found = next_change(hours, moment, holidays)
    assert found is not None
    assert abs(found - datetime.fromisoformat(change)) <= timedelta(seconds=120)


@pytest.mark.parametrize(
    ("text", "place", "why"),
    [
        ("", 1, "nothing is written"),
        (" ; ", 1, "nothing is written"),
        ("24/24", 1, "'24/24' from character 1 on is not understood"),
        ("Mo-Fr 25:00-99:00", 7, "'25:00-99:00' from character 7 on is not understood"),
        ("Mo 10:00-12:00 || Zu", 19, "'Zu' from character 19 on is not understood"),
        ("Mo || || Tu", 3, "a part beside '||' is empty"),
        ("Mo 10:00-", 10, "the end is missing"),
        ("by appointment", 1, "'by appointment' from character 1 on is not understood"),
        ("Mo;" * 400, 1001, "it is longer than 1000 characters"),
    ],
)
def test_unreadable_hours_are_refused_with_the_place(text: str, place: int, why: str) -> None:
    with pytest.raises(OpeningRefused) as refused:
        opening(text)
    assert why in str(refused.value)
    assert refused.value.place == place
    assert "Write them in the OpenStreetMap form" in str(refused.value)


def test_signs_of_a_word_processor_are_taken_as_meant() -> None:
    assert opening("Mo–Fr 10:00–18:00 “ring”;").text == 'Mo-Fr 10:00-18:00 "ring"'


def test_hours_past_midnight_belong_to_the_day_they_begin_on() -> None:
    hours = opening("Fr-Sa 18:00-02:00")
    friday, saturday = date(2027, 7, 16), date(2027, 7, 17)
    assert intervals(hours, friday)[-1] == (at("18:00", friday), at("02:00", saturday), True)
    assert intervals(hours, saturday)[0] == (at("00:00", saturday), at("02:00", saturday), True)


def test_a_rule_that_replaces_a_day_cuts_the_late_hours_before_it_and_that_is_told() -> None:
    # The specification and both evaluators have it so; ',' keeps the late hours.
    saturday = date(2027, 7, 17)
    cut, kept = opening("Fr-Sa 18:00-02:00; Su 12:00-20:00"), opening("Fr-Sa 18:00-02:00, Su 12:00-20:00")
    assert intervals(cut, saturday)[-1][1] == at("00:00", date(2027, 7, 18))
    assert intervals(kept, saturday)[-1][1] == at("02:00", date(2027, 7, 18))
    assert "join rules with ','" in cut.notes[0]
    assert kept.notes == ()


def test_hours_that_never_end_are_cut_at_midnight() -> None:
    midnight = at("00:00")
    assert intervals(opening("24/7"), MONDAY) == ((midnight, midnight + timedelta(days=1), True),)


def test_a_fallback_counts_by_the_hour_and_lifts_no_closing() -> None:
    hours = opening('Mo-Fr 09:00-17:00; We off || "by appointment"')
    assert state(hours, at("08:00")) is None
    assert state(hours, at("10:00")) is True
    assert state(hours, at("10:00", MONDAY + timedelta(days=2))) is False
    assert state(hours, at("10:00", MONDAY + timedelta(days=5))) is None
    assert hours.notes == ("The house says: by appointment.",)


def test_school_holidays_are_unknown_and_told() -> None:
    hours = opening("Mo-Fr 10:00-12:00; SH off")
    assert state(hours, at("11:00")) is None
    assert state(hours, at("13:00")) is False
    assert hours.notes == ("School holidays are not known; where the hours depend on them they are unknown.",)


def test_school_holidays_don_t_matter_where_both_ways_agree() -> None:
    hours = opening("Mo-Sa 10:00-18:00; SH 09:00-18:00")
    assert state(hours, at("09:30")) is None
    assert state(hours, at("10:30")) is True


def test_weekdays_in_school_holidays_are_both_at_once() -> None:
    # Specification: with a space, 'SH Mo-Fr' means Monday to Friday while there are school holidays.
    hours = opening("SH Mo-Fr 10:00-12:00")
    assert state(hours, at("11:00")) is None
    assert state(hours, at("11:00", MONDAY + timedelta(days=5))) is False


def test_an_unstated_closing_time_is_unknown_and_told() -> None:
    hours = opening("11:00-14:00,18:00-22:00+")
    assert state(hours, at("21:00")) is True
    assert state(hours, at("22:30")) is None
    assert state(hours, at("15:00")) is False
    assert state(opening("18:00+"), at("18:00")) is True
    assert state(opening("18:00+"), at("19:00")) is None
    assert hours.notes == ("A closing time is not stated; from then on the hours are unknown.",)


def test_hours_by_the_sun_without_a_position_are_unknown_near_sunset() -> None:
    hours = opening("10:00-sunset")
    assert state(hours, at("14:00")) is True
    assert state(hours, at("19:00")) is None
    assert state(hours, at("23:30")) is False
    assert "the place has no position" in hours.notes[0]


def test_the_sun_of_a_place_with_a_zone_of_its_own_is_used() -> None:
    hours = opening("10:00-sunset", 44.2, -24.6, "VRT1VRST,M3.5.0/0,M10.5.0/1")
    assert hours.notes == ()
    midsummer = date(2027, 6, 21)
    sunset = sun(44.2, -24.6, midsummer, "VRT1VRST,M3.5.0/0,M10.5.0/1").sunset
    change = next_change(hours, at("12:00", midsummer))
    assert sunset is not None
    assert change is not None
    assert abs(change - sunset.replace(tzinfo=None)) <= timedelta(seconds=30)


def test_a_span_that_the_sun_leaves_no_room_for_is_closed() -> None:
    # Without care it would be read as running until the next day's sunset.
    hours = opening("11:00-13:00,18:00-sunset", 44.2, -24.6, "VRT1")
    winter = date(2027, 12, 21)
    assert [piece[2] for piece in intervals(hours, winter)] == [False, True, False]
    assert state(opening("18:00-sunset", 44.2, -24.6, "VRT1"), at("20:00", winter)) is False
    assert state(opening("sunset-02:00", 44.2, -24.6, "VRT1"), at("01:00", winter)) is True


def test_hours_by_the_sun_are_unknown_on_a_polar_day() -> None:
    hours = opening("10:00-sunset", 69.6492, 18.9553, "Europe/Oslo")
    assert state(hours, at("22:00", date(2027, 6, 21))) is None


def test_a_moment_with_a_zone_is_taken_to_the_zone_of_the_place() -> None:
    here = opening("10:00-12:00", 47.8, 13.05, "Europe/Vienna")
    moment = datetime.fromisoformat("2027-05-03T08:30:00+00:00")
    assert state(here, moment) is True
    assert next_change(here, moment) == at("12:00")
    assert state(opening("10:00-12:00"), moment) is False


@pytest.mark.parametrize(
    ("start", "end", "overlaps", "throughout"),
    [
        ("12:00", "13:00", True, True),
        ("13:00", "15:00", True, False),
        ("14:00", "18:00", False, False),
        ("22:00", "23:00", None, None),
        ("20:00", "23:00", True, None),
        ("23:30", "12:30", True, False),
        ("14:00", "14:00", False, False),
        ("13:59", "13:59", True, True),
    ],
)
def test_a_window_of_time_is_held_against_the_hours(
    start: str, end: str, overlaps: bool | None, throughout: bool | None
) -> None:
    hours = opening("11:30-14:00,18:00-22:00+")
    window = (time.fromisoformat(start), time.fromisoformat(end))
    assert open_overlaps(hours, MONDAY, *window) is overlaps
    assert open_throughout(hours, MONDAY, *window) is throughout


def test_two_weeks_are_told_day_by_day_with_their_holidays() -> None:
    hours = opening("Tu-Su 11:30-14:00,18:00-22:00; PH off")
    days = next_two_weeks(hours, date(2027, 5, 10), holidays_for({"2027-05-16": "Whit Sunday"}))
    assert [day.day for day in days] == [date(2027, 5, 10) + timedelta(days=number) for number in range(14)]
    assert [day.says for day in days[:2]] == ["closed", "11:30 to 14:00 and 18:00 to 22:00"]
    assert (days[6].holiday, days[6].says, days[6].intervals) == ("Whit Sunday", "closed", ())
    assert days[13].holiday is None


def test_equal_hours_are_equal_values_and_read_once() -> None:
    assert opening("Mo 10:00-12:00") is opening("Mo 10:00-12:00")
    assert hash(opening("Mo 10:00-12:00")) == hash(opening("Mo 10:00-12:00", None, None, ""))
