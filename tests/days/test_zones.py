"""Clocks: zone data of one source, zones a library states itself, hours skipped and hours that come twice."""

from __future__ import annotations

import zoneinfo
from datetime import UTC, date, datetime, time, timedelta
from importlib.resources import files
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lacet.days.zones import (
    ZoneRefused,
    clock_changes,
    clock_status,
    day_length_h,
    elapsed_h,
    local,
    zone,
    zone_data_version,
)

VERRIN = "VRT1VRST,M3.5.0/0,M10.5.0/1"

# IANA time zone database 2026f; for Europe also Directive 2000/84/EC (last Sundays of March and October,
# 01:00 UTC).
CHANGES = [
    ("Europe/Zurich", 2027, ("2027-03-28", "2027-10-31")),
    ("Europe/London", 2027, ("2027-03-28", "2027-10-31")),
    ("Europe/Lisbon", 2028, ("2028-03-26", "2028-10-29")),
    ("Atlantic/Azores", 2027, ("2027-03-28", "2027-10-31")),
    ("Pacific/Auckland", 2027, ("2027-04-04", "2027-09-26")),
    (VERRIN, 2027, ("2027-03-28", "2027-10-31")),
    ("UTC", 2027, ()),
    ("VRT1", 2027, ()),
]


@pytest.mark.parametrize(("name", "year", "days"), CHANGES)
def test_clocks_change_on_the_published_days(name: str, year: int, days: tuple[str, ...]) -> None:
    assert tuple(day.isoformat() for day in clock_changes(year, name)) == days


def test_a_stated_zone_follows_its_rule_like_the_named_zone_with_the_same_rule() -> None:
    # The Azores keep UTC-1 and the European rule.
    stated, named = zone(VERRIN), zone("Atlantic/Azores")
    start = datetime(2027, 1, 1, tzinfo=UTC)
    for hour in range(365 * 24):
        moment = start + timedelta(hours=hour)
        assert moment.astimezone(stated).utcoffset() == moment.astimezone(named).utcoffset()


def test_a_stated_zone_counts_west_of_greenwich_and_names_its_summer_time() -> None:
    winter, summer = (datetime(2027, month, 1, tzinfo=zone(VERRIN)) for month in (1, 7))
    assert (winter.utcoffset(), winter.tzname()) == (timedelta(hours=-1), "VRT")
    assert (summer.utcoffset(), summer.tzname()) == (timedelta(0), "VRST")


@pytest.mark.parametrize(
    "name",
    [
        "",
        "Europe",
        "Europe/Nowhere",
        "europe/vienna",
        "../etc/passwd",
        "zone.tab",
        "VRT",
        "VRT99",
        "VRT1VRST",
        "VRT1VRST,M13.5.0,M10.5.0",
        "VRT1VRST,M3.5.0/0,J400",
        "Zürich",
        "Europe/\0",
    ],
)
def test_an_unknown_zone_is_refused_in_a_sentence(name: str) -> None:
    with pytest.raises(ZoneRefused, match=r"is not known: give a name .* such as Europe/Vienna, or a rule"):
        zone(name)


def test_zone_data_never_comes_from_the_operating_system(tmp_path: Path) -> None:
    (tmp_path / "Europe").mkdir()
    tokyo = files("tzdata").joinpath("zoneinfo", "Asia", "Tokyo").read_bytes()
    (tmp_path / "Europe" / "Vienna").write_bytes(tokyo)
    summer = datetime(2027, 7, 1)
    zoneinfo.reset_tzpath([tmp_path])
    zone.cache_clear()
    try:
        misled = zoneinfo.ZoneInfo.no_cache("Europe/Vienna")
        assert summer.replace(tzinfo=misled).utcoffset() == timedelta(hours=9)
        assert summer.replace(tzinfo=zone("Europe/Vienna")).utcoffset() == timedelta(hours=2)
    finally:
        zoneinfo.reset_tzpath()


def test_the_version_of_the_zone_data_is_told() -> None:
    assert zone_data_version()[:4].isdigit()
    assert zone_data_version()[4:].isalpha()


def test_a_skipped_time_becomes_the_moment_after_the_gap() -> None:
    # IANA 2026f: 02:30 on 28 March 2027 does not exist in Zurich.
    day = date(2027, 3, 28)
    assert clock_status(day, time(2, 30), "Europe/Zurich") == 0
    assert local(day, time(2, 30), "Europe/Zurich").isoformat() == "2027-03-28T03:30:00+02:00"


def test_a_time_that_comes_twice_is_the_first_one() -> None:
    # IANA 2026f: 02:30 on 31 October 2027 occurs twice in Zurich, at +02:00 and at +01:00.
    day = date(2027, 10, 31)
    assert clock_status(day, time(2, 30), "Europe/Zurich") == 2
    first = local(day, time(2, 30), "Europe/Zurich")
    assert first.isoformat() == "2027-10-31T02:30:00+02:00"
    assert first.replace(fold=1).isoformat() == "2027-10-31T02:30:00+01:00"


@pytest.mark.parametrize(
    ("start", "end", "expected_h"), [("2027-03-27", "2027-03-28", 11), ("2027-10-30", "2027-10-31", 13)]
)
def test_a_night_of_change_is_an_hour_off(start: str, end: str, expected_h: float) -> None:
    # From 20:00 to 08:00 in Vienna, IANA 2026f.
    evening = local(date.fromisoformat(start), time(20), "Europe/Vienna")
    morning = local(date.fromisoformat(end), time(8), "Europe/Vienna")
    assert elapsed_h(evening, morning) == expected_h


@pytest.mark.parametrize("name", [VERRIN, "Europe/Vienna"])
def test_days_last_24_hours_but_for_two_a_year(name: str) -> None:
    lengths = [day_length_h(date(2027, 1, 1) + timedelta(days=number), name) for number in range(365)]
    assert sorted(set(lengths)) == [23, 24, 25]
    assert (lengths.count(23), lengths.count(25)) == (1, 1)


@given(
    st.dates(date(1990, 1, 1), date(2060, 12, 31)),
    st.times(),
    st.sampled_from([VERRIN, "Europe/Vienna", "Pacific/Auckland", "America/Havana", "Australia/Lord_Howe"]),
)
def test_a_local_time_is_never_impossible(day: date, clock: time, name: str) -> None:
    found = local(day, clock, name)
    assert found.astimezone(UTC).astimezone(zone(name)).replace(tzinfo=None) == found.replace(tzinfo=None)
    if clock_status(day, clock, name):
        assert found.replace(tzinfo=None, fold=0) == datetime.combine(day, clock)
    else:
        assert found.replace(tzinfo=None) > datetime.combine(day, clock)
