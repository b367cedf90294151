"""Seasons of tariffs: the plain reader, and that the calendar's own reader agrees and can take its place."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lacet.assess import assess
from lacet.days.seasons import covers
from lacet.inputs import Inputs
from lacet.price.lines import Unknown
from lacet.price.quote import quote
from lacet.price.season import SeasonUnread, in_plain_season
from lacet.trip.trip import Day
from lacet.trip.words import Service, Unit
from tests.price.small_library import AS_OF, RULES, VARIANT, WEIR, catalogue_with, rate, tariff, trip_of

DATES = st.dates(date(2026, 1, 1), date(2029, 12, 31))


@given(DATES, DATES, DATES, st.booleans())
def test_both_readers_agree_on_plain_stretches(first: date, last: date, day: date, yearly: bool) -> None:
    ends = (f"{first:%m-%d}", f"{last:%m-%d}") if yearly else map(str, sorted((first, last)))
    text = "..".join(ends)
    assert in_plain_season(text, day) == covers(text, day)


@pytest.mark.parametrize(
    "text", ["05-01", "05-01..", "2027-05-01..06-01", "easter..easter+7", "", "05-01..06-01;"]
)
def test_other_forms_are_refused_in_a_sentence(text: str) -> None:
    with pytest.raises(SeasonUnread, match="can't be read; write it like"):
        in_plain_season(text, date(2027, 7, 1))


def test_the_assessment_reads_seasons_with_the_calendar() -> None:
    # Ascension Day 2027 is 6 May (39 days after Easter, 28 March); the trip begins on Monday 10 May.
    spring = tariff(Service.LODGING, "weir", rate(Unit.ROOM_NIGHT, "90", season="easter+39..easter+49"))
    catalogue = catalogue_with(spring)
    variant = replace(VARIANT, days=(Day(id="d1", nights=(WEIR,)), Day(id="d2")), hires=())
    trip = trip_of(variant)
    plain = quote(trip, variant, catalogue, RULES, AS_OF)
    assert {line.unknown for line in plain.lines if line.service is Service.LODGING} == {Unknown.UNREADABLE}
    priced = assess(Inputs(trip, variant.id, catalogue, RULES, as_of=AS_OF)).quote
    assert not priced.is_from
