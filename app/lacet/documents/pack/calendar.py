"""Stays, dinners, rides, briefings and crossings as an iCalendar object (RFC 5545).

Its rule: moments are written in UTC, which needs no table of zones and is right for regions that state their
own clock; nights are whole days, which have no zone. What nobody timed is a whole day as well.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta

from icalendar import Calendar, Event

from lacet.days.zones import local
from lacet.trip.catalogue import Catalogue
from lacet.trip.library import Lodging, Restaurant
from lacet.trip.stays import stays
from lacet.trip.trip import Crossing, Ride, Trip, Variant

DINNER = timedelta(hours=2)
CROSSING = timedelta(minutes=30)
BRIEFING_SAYS = "Briefing with the representative"


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One entry: `at` None = whole days from `on` to `until`, which no longer belongs to it."""

    key: str
    says: str
    on: date
    until: date | None = None
    at: time | None = None
    lasts: timedelta = CROSSING
    where: str = ""


def write_calendar(
    trip: Trip, variant: Variant, catalogue: Catalogue, revision: int, made_at: datetime
) -> bytes:
    """Return a variant's calendar; without a start date it has no entries.

    Parameters
    ----------
    made_at
        When it was made, aware: the stamp of each entry. Entries keep their UID from revision to revision.
    """
    calendar = Calendar()
    calendar.add("prodid", "-//Lacet//Travel pack//EN")
    calendar.add("version", "2.0")
    for entry in entries(trip, variant, catalogue):
        calendar.add_component(_event(entry, trip, variant, catalogue.region.zone, revision, made_at))
    return bytes(calendar.to_ical())


def entries(trip: Trip, variant: Variant, catalogue: Catalogue) -> Iterator[Entry]:
    """Yield what goes into the calendar, kind by kind."""
    start = trip.start
    if start is None:
        return
    for stay in stays(variant):
        house = catalogue.get(Lodging, stay.lodging)
        if house is not None:
            first = start + timedelta(days=stay.first)
            yield Entry(key=f"stay-{variant.days[stay.first].id}-{house.id}", says=f"Stay: {house.name}",
                        on=first, until=first + timedelta(days=stay.nights), where=house.address)  # fmt: skip
    for index, day in enumerate(variant.days):
        on = start + timedelta(days=index)
        if day.briefing:
            yield Entry(key=f"briefing-{day.id}", says=BRIEFING_SAYS, on=on)
        for number, meal in enumerate(day.meals, start=1):
            place = catalogue.get(Restaurant, meal.restaurant) if meal.restaurant else None
            if place is not None:
                yield Entry(key=f"meal-{day.id}-{number}", says=f"{meal.kind.capitalize()}: {place.name}",
                            on=on, at=meal.at, lasts=DINNER)  # fmt: skip
        for item in day.items:
            if isinstance(item, Ride):
                yield _ride(item, on, catalogue)
    yield from _crossings("Arrival", trip.arrivals, start, 1, catalogue)
    yield from _crossings("Departure", trip.departures, start, len(variant.days), catalogue)


def _ride(ride: Ride, on: date, catalogue: Catalogue) -> Entry:
    ends = " to ".join(catalogue.place_name(place_id) for place_id in (ride.from_place, ride.to_place))
    lasts = CROSSING if ride.minutes is None else timedelta(minutes=ride.minutes)
    return Entry(key=f"ride-{ride.id}", says=f"Transfer: {ends}", on=on, at=ride.departs, lasts=lasts)


def _crossings(
    says: str, crossings: tuple[Crossing, ...], start: date, usual_day: int, catalogue: Catalogue
) -> Iterator[Entry]:
    for number, each in enumerate(crossings, start=1):
        on = start + timedelta(days=(each.day or usual_day) - 1)
        how = f"{each.means.value} {each.number}".strip()
        yield Entry(key=f"{says.lower()}-{number}", says=f"{says}: {catalogue.place_name(each.hub)}, {how}",
                    on=on, at=each.at)  # fmt: skip


def _event(entry: Entry, trip: Trip, variant: Variant, zone: str, revision: int, made_at: datetime) -> Event:
    event = Event()
    event.add("uid", f"{trip.id}-{variant.id}-{entry.key}@lacet.invalid")
    event.add("dtstamp", made_at.astimezone(UTC))
    event.add("sequence", revision)
    event.add("summary", entry.says)
    if entry.where:
        event.add("location", entry.where)
    if entry.at is None:
        event.add("dtstart", entry.on)
        event.add("dtend", entry.until or entry.on + timedelta(days=1))
    else:
        begins = local(entry.on, entry.at, zone).astimezone(UTC)
        event.add("dtstart", begins)
        event.add("dtend", begins + entry.lasts)
    return event
