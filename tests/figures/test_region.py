"""What the region says, and what can't be reckoned while nobody has said it."""

from dataclasses import replace
from datetime import UTC, date, datetime, time
from decimal import Decimal

import pytest

from lacet.assess import Assessment, assess
from lacet.days.holidays import holidays_of
from lacet.days.opening import opening, state
from lacet.documents.language import language
from lacet.documents.material.gather import telling_of
from lacet.documents.material.safety import NO_NUMBER, emergency, estimate
from lacet.documents.material.telling import Telling
from lacet.documents.missing import missing
from lacet.documents.pack.calendar import NoCalendar, write_calendar
from lacet.documents.pack.making import prepare_pack
from lacet.inputs import Inputs
from lacet.report import plain_assessment
from lacet.trip.catalogue import Catalogue
from lacet.trip.finding import Level
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import Place, Rate, Ref, Tariff
from lacet.trip.money import Money
from lacet.trip.region import UNKIND_C, UNSET, EmergencyNumber, Region
from lacet.trip.trip import Hire, Trip
from lacet.trip.words import Service, Unit
from lacet.wording import ENGLISH, UNKNOWN
from tests.small_library import REGION, cycle, day, items, small_catalogue, small_trip, walk

MADE_AT = datetime(2026, 11, 25, 12, tzinfo=UTC)
RULES = HouseRules()

# Sunset by the ephemeris of tests/days/test_sun.py (skyfield 1.55, DE421), to the minute.
SUNSETS = [
    ("west of Greenwich", 32.6669, -16.9241, "Atlantic/Madeira", date(2027, 5, 1), "20:49"),
    ("clocks go back that day", 42.8806, -8.5449, "Europe/Madrid", date(2027, 10, 31), "18:28"),
    ("clocks go forward that day", 47.7981, 13.0465, "Europe/Vienna", date(2027, 3, 28), "19:32"),
    ("a bright night", 67.8558, 20.2253, "Europe/Stockholm", date(2027, 5, 25), "23:58"),
    ("polar day", 69.6492, 18.9553, "Europe/Oslo", date(2027, 6, 21), None),
    ("polar night", 69.6492, 18.9553, "Europe/Oslo", date(2027, 12, 21), None),
]


def library(region: Region, at: tuple[float, float] | None = None) -> Catalogue:
    """The small library under another region, with its places elsewhere."""
    places = [item for item in items() if isinstance(item, Place)]
    if at is not None:
        places = [replace(item, latitude_deg=at[0], longitude_deg=at[1]) for item in places]
    return replace(small_catalogue(*places), region=region)


def on_foot(start: date | None = date(2027, 5, 8), departs: time = time(9)) -> Trip:
    return replace(small_trip(day("d1", walk("i1"), departs=departs), day("d2")), start=start)


def inputs_of(trip: Trip, catalogue: Catalogue) -> Inputs:
    return Inputs(trip, "v1", catalogue, RULES, as_of=MADE_AT.date())


def assessed(trip: Trip, catalogue: Catalogue) -> Assessment:
    return assess(inputs_of(trip, catalogue))


def told(trip: Trip, catalogue: Catalogue) -> Telling:
    inputs = inputs_of(trip, catalogue)
    return telling_of(inputs, assess(inputs), language("en"), revision=1, made_at=MADE_AT)


def by_sunset(trip: Trip, catalogue: Catalogue) -> list[tuple[Level, bool, str]]:
    findings = assessed(trip, catalogue).findings
    return [(each.level, each.unknown, str(each.says)) for each in findings if each.check == "done_by_sunset"]


def sunset_told(trip: Trip, catalogue: Catalogue) -> object:
    plain = plain_assessment(inputs_of(trip, catalogue), assessed(trip, catalogue))
    return plain["days"][0]["sunset"]


def test_a_new_library_says_nothing_of_its_own_accord() -> None:
    assert UNSET.unset() == (
        "time zone",
        "currency",
        "public holidays",
        "emergency number",
        "month temperatures",
    )


@pytest.mark.parametrize(("where", "latitude", "longitude", "zone", "on", "sunset"), SUNSETS)
def test_sunset_is_told_by_the_clock_of_the_civil_date(
    where: str, latitude: float, longitude: float, zone: str, on: date, sunset: str | None
) -> None:
    assert sunset_told(on_foot(on), library(Region(zone=zone), (latitude, longitude))) == sunset, where


@pytest.mark.parametrize(
    ("zone", "at"),
    [
        ("America/Denver", (40.34, -105.68)),
        ("Pacific/Kiritimati", (1.87, -157.4)),
        ("Atlantic/Azores", (37.74, -25.67)),
        ("Pacific/Auckland", (-44.0, -176.5)),
    ],
)
@pytest.mark.parametrize("on", [date(2027, 3, 14), date(2027, 6, 21), date(2027, 12, 21)])
def test_walking_into_the_night_is_a_stop_wherever_on_earth(
    zone: str, at: tuple[float, float], on: date
) -> None:
    found = by_sunset(on_foot(on, time(20, 30)), library(Region(zone=zone), at))
    assert [(level, unknown) for level, unknown, _ in found] == [(Level.STOP, False)]
    assert str(sunset_told(on_foot(on), library(Region(zone=zone), at))) < "22:30"


def test_a_sunset_after_midnight_belongs_to_the_day_before_it() -> None:
    # Reykjavik keeps the clock of Greenwich at 22 degrees west: in June the sun sets after midnight.
    catalogue = library(Region(zone="Atlantic/Reykjavik"), (64.15, -21.94))
    assert str(sunset_told(on_foot(date(2027, 6, 21)), catalogue)).startswith("24:0")


def test_without_a_time_zone_no_daylight_is_told_and_the_day_isnt_proved() -> None:
    catalogue = library(UNSET)
    assert sunset_told(on_foot(), catalogue) is None
    ((level, unknown, says),) = by_sunset(on_foot(departs=time(23, 0)), catalogue)
    assert (level, unknown) == (Level.NOTE, True)
    assert "time zone isn't set" in says


def test_without_a_time_zone_there_is_no_calendar_and_the_office_hears_of_it() -> None:
    trip, catalogue = on_foot(), library(UNSET)
    with pytest.raises(NoCalendar, match="time zone isn't set"):
        write_calendar(told(trip, catalogue))
    pack = prepare_pack(told(trip, catalogue))
    assert not [name for name in pack.files if name.endswith(".ics")]
    assert any(line.startswith("No calendar and no sunset") for line in pack.lacks)
    assert NO_NUMBER in pack.lacks


def test_an_emergency_number_nobody_has_set_is_told_to_the_office_and_printed_nowhere() -> None:
    telling = told(on_foot(), library(UNSET))
    assert "112" not in " ".join((*emergency(telling).points, estimate(telling)))
    assert NO_NUMBER in [str(each.says) for each in missing(telling)]


def test_numbers_for_something_are_told_with_what_for() -> None:
    numbers = (EmergencyNumber("112"), EmergencyNumber("+999 140", "Mountain rescue"))
    telling = told(on_foot(), library(Region(emergency_numbers=numbers)))
    said = emergency(telling).points
    assert said[0].startswith("Call 112 ")
    assert "Mountain rescue: +999 140" in said
    assert NO_NUMBER not in [str(each.says) for each in missing(telling)]


def test_while_nobody_has_said_which_days_are_holidays_hours_that_hang_on_them_are_unknown() -> None:
    at = datetime(2027, 5, 8, 19)
    hours = opening("Mo-Su 18:00-22:00; PH off")
    assert state(hours, at, holidays_of(UNSET)) is None
    assert state(hours, at, holidays_of(Region(holidays=("01-01 New Year",)))) is True
    assert state(opening("Mo-Su 18:00-22:00"), at, holidays_of(UNSET)) is True


def test_without_a_currency_nothing_is_priced_and_one_sentence_says_why() -> None:
    trip = small_trip()
    stay = Tariff(
        id="stay", name="Stay", service=Service.LODGING, subject_id="birch-house",
        valid_from=date(2027, 1, 1), valid_to=date(2027, 12, 31),
        rates=(Rate(unit=Unit.ROOM_NIGHT, amount=Money(Decimal(90), "EUR")),),
    )  # fmt: skip
    priced, unpriced = (replace(small_catalogue(stay), region=region) for region in (REGION, UNSET))
    assert any(line.net for line in assessed(trip, priced).quote.lines)
    found = assessed(trip, unpriced)
    assert not any(line.net for line in found.quote.lines)
    assert ENGLISH.money(found.quote.total) == UNKNOWN
    says = [str(each.says) for each in found.findings if each.check == "price_known"]
    assert len(says) == 1
    assert "currency to sell in isn't set" in says[0]


def ridden(region: Region) -> Assessment:
    ride = day("d1", cycle("i1", "climb", assist="high"))
    trip = small_trip(ride, guests=1, hires=(Hire(traveller="t1", bike=Ref("e-medium")),))
    return assess(
        Inputs(trip, "v1", library(region), replace(RULES, battery_reserve_share=1.0), as_of=MADE_AT.date())
    )


def test_a_battery_bears_the_month_and_frost_while_nobody_has_said_how_warm_it_is() -> None:
    warm = Region(monthly_temperature_c=(None,) * 4 + (15.0,) + (None,) * 7)
    (known,) = ridden(warm).figures.days[0].groups[0].legs[0].batteries
    (unkind,) = ridden(UNSET).figures.days[0].groups[0].legs[0].batteries
    assert (known.temperature_c, known.temperature_known) == (15.0, True)
    assert (unkind.temperature_c, unkind.temperature_known) == (UNKIND_C, False)
    assert unkind.usable_wh < known.usable_wh
    said = [str(each.says) for each in ridden(UNSET).findings if each.check == "battery"]
    assert said
    assert "temperature isn't set" in said[0]
    assert not any("isn't set" in str(each.says) for each in ridden(warm).findings if each.check == "battery")
