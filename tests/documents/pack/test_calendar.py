"""The pack's calendar, read back by icalendar."""

from dataclasses import replace
from datetime import UTC, date, datetime, time

from icalendar import Calendar

from lacet.documents.pack.calendar import write_calendar
from lacet.trip.library import Lodging, Ref
from lacet.trip.trip import Meal
from lacet.trip.words import MealKind
from tests.small_library import day, small_catalogue, small_trip, walk

MADE_AT = datetime(2027, 1, 4, tzinfo=UTC)


def calendar(zone: str = "VRT1VRST,M3.5.0/0,M10.5.0/1", address: str = "") -> bytes:
    house = small_catalogue().need(Lodging, Ref("birch-house"))
    catalogue = small_catalogue(replace(house, address=address))
    catalogue = replace(catalogue, region=replace(catalogue.region, zone=zone))
    dinner = Meal(kind=MealKind.DINNER, restaurant=Ref("net-loft"), at=time(19, 0))
    trip = small_trip(
        day("d1", walk("i1"), lodging="birch-house", meals=(dinner,), briefing=True),
        day("d2", lodging="birch-house"),
    )
    return write_calendar(trip, trip.variants[0], catalogue, 3, MADE_AT)


def test_a_stay_ends_on_the_day_after_its_last_night() -> None:
    # RFC 5545, 3.6.1: the end of whole days is exclusive.
    stay = Calendar.from_ical(calendar()).walk("VEVENT")[0]
    assert (stay.decoded("dtstart"), stay.decoded("dtend")) == (date(2027, 5, 8), date(2027, 5, 10))
    assert "TZID" not in stay["dtstart"].params


def test_clock_times_are_utc_in_regions_that_state_their_own_zone() -> None:
    events = {str(event["summary"]): event for event in Calendar.from_ical(calendar()).walk("VEVENT")}
    # One hour behind Greenwich in winter, so level with it in May.
    assert events["Dinner: Net Loft"].decoded("dtstart") == datetime(2027, 5, 8, 19, tzinfo=UTC)
    assert events["Arrival: Alder, ferry"].decoded("dtstart") == datetime(2027, 5, 8, 9, tzinfo=UTC)


def test_lines_are_folded_escaped_and_the_same_each_time() -> None:
    address = "Ä" * 90 + "; 1, Quay\nBEGIN:VEVENT"
    written = calendar(address=address)
    assert written == calendar(address=address)
    assert written.count(b"\n") == written.count(b"\r\n")
    assert max(map(len, written.split(b"\r\n"))) <= 75
    stay = Calendar.from_ical(written).walk("VEVENT")[0]
    assert str(stay["location"]) == address
