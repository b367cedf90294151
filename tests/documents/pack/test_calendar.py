"""The pack's calendar, read back by icalendar."""

from dataclasses import replace
from datetime import UTC, date, datetime, time

from icalendar import Calendar

from lacet.assess import assess
from lacet.documents.language import language
from lacet.documents.material.gather import telling_of
from lacet.documents.material.telling import Telling
from lacet.documents.pack.calendar import write_calendar
from lacet.inputs import Inputs
from lacet.trip.catalogue import Catalogue
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import Lodging, Ref
from lacet.trip.trip import Meal, Trip
from lacet.trip.words import Board, MealKind
from tests.small_library import day, small_catalogue, small_trip, walk

MADE_AT = datetime(2027, 1, 4, tzinfo=UTC)


def told(trip: Trip, catalogue: Catalogue, tag: str = "en") -> Telling:
    inputs = Inputs(trip, "v1", catalogue, HouseRules(), as_of=MADE_AT.date())
    return telling_of(inputs, assess(inputs), language(tag), revision=3, made_at=MADE_AT)


def calendar(zone: str = "VRT1VRST,M3.5.0/0,M10.5.0/1", address: str = "") -> bytes:
    house = small_catalogue().need(Lodging, Ref("birch-house"))
    catalogue = small_catalogue(replace(house, address=address))
    catalogue = replace(catalogue, region=replace(catalogue.region, zone=zone))
    dinner = Meal(kind=MealKind.DINNER, restaurant=Ref("net-loft"), at=time(19, 0))
    trip = small_trip(
        day("d1", walk("i1"), lodging="birch-house", meals=(dinner,), briefing=True),
        day("d2", lodging="birch-house"),
    )
    return write_calendar(told(trip, catalogue))


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


def test_names_with_line_ends_controls_and_commas_stay_one_line_of_text() -> None:
    name = "Coast,\r\nX-MINE: y;\x07 crater\\"
    trip = replace(small_trip(day("d1", walk("i1"), lodging="birch-house")), name=name)
    written = write_calendar(told(trip, small_catalogue()))
    # RFC 5545, 3.3.11: commas, semicolons and backslashes of a text are escaped; RFC 7986, 5.1: NAME is one.
    assert b"NAME:Coast\\, X-MINE: y\\; crater\\\\\r\n" in written


def test_who_parts_has_a_calendar_without_what_the_others_do() -> None:
    catalogue = small_catalogue()
    dinner = Meal(kind=MealKind.DINNER, restaurant=Ref("net-loft"), at=time(19, 0), travellers=("t1",))
    trip = small_trip(day("d1", walk("i1"), lodging="birch-house", meals=(dinner,)))

    def said(guests: tuple[str, ...] | None) -> set[str]:
        written = write_calendar(told(trip, catalogue), guests)
        return {str(event["summary"]) for event in Calendar.from_ical(written).walk("VEVENT")}

    assert "Dinner: Net Loft" in said(None)
    assert "Dinner: Net Loft" in said(("t1",))
    assert "Dinner: Net Loft" not in said(("t2",))
    assert "Stay: Birch House" in said(("t2",))


def test_dinner_in_the_house_stands_in_the_calendar_planned_or_by_board() -> None:
    catalogue = small_catalogue()
    at_the_house = Meal(kind=MealKind.DINNER, at_lodging=True, at=time(18, 30))
    first = day("d1", walk("i1"), lodging="birch-house", meals=(at_the_house,))
    second = day("d2", lodging="birch-house")
    half_board = replace(second, nights=tuple(replace(n, board=Board.HALF_BOARD) for n in second.nights))
    trip = small_trip(first, half_board)
    written = write_calendar(told(trip, catalogue))
    dinners = [e for e in Calendar.from_ical(written).walk("VEVENT") if "Dinner" in str(e["summary"])]
    assert [str(each["summary"]) for each in dinners] == ["Dinner: Birch House"] * 2
    assert [each.decoded("dtstart").date() for each in dinners] == [date(2027, 5, 8), date(2027, 5, 9)]


def test_a_german_calendar_says_the_same_in_german_under_the_same_numbers() -> None:
    catalogue = small_catalogue()
    dinner = Meal(kind=MealKind.DINNER, restaurant=Ref("net-loft"), at=time(19, 0))
    trip = small_trip(day("d1", walk("i1"), lodging="birch-house", meals=(dinner,), briefing=True))
    english, german = (
        {
            str(event["uid"]): str(event["summary"])
            for event in Calendar.from_ical(write_calendar(told(trip, catalogue, tag))).walk("VEVENT")
        }
        for tag in ("en", "de")
    )
    assert list(english) == list(german)
    assert {"Abendessen: Net Loft", "Ankunft: Alder, Fähre"} <= set(german.values())
