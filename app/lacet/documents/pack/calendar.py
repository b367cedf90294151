"""Stays, dinners, rides, briefings and crossings as an iCalendar object (RFC 5545), for all guests or some.

Its rule: moments are written in UTC, which needs no table of zones and is right for regions that state their
own clock; nights are whole days, which have no zone. What nobody timed is a whole day as well.
"""

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta

from icalendar import Calendar, Event, vText

from lacet.checks.kitchens import dinner_planned
from lacet.days.zones import local
from lacet.documents.material.cleaning import clean
from lacet.trip.catalogue import Catalogue
from lacet.trip.itinerary import night_of, travellers_there
from lacet.trip.library import Lodging, Restaurant
from lacet.trip.stays import stays
from lacet.trip.trip import Crossing, Day, Ride, Travellers, Trip, Variant
from lacet.wording import listed

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
    trip: Trip,
    variant: Variant,
    catalogue: Catalogue,
    revision: int,
    made_at: datetime,
    guests: Collection[str] | None = None,
) -> bytes:
    """Return a variant's calendar; without a start date it has no entries.

    Parameters
    ----------
    guests
        Whose calendar it is, by id; None = everybody's.
    made_at
        When it was made, aware: the stamp of each entry. Entries keep their UID from revision to revision.
    """
    calendar = Calendar()
    calendar.add("prodid", "-//Lacet//Travel pack//EN")
    calendar.add("version", "2.0")
    # RFC 7986, 5.1: the name a calendar is shown by.
    calendar.add("name", _line(_title(trip, guests)))
    for entry in entries(trip, variant, catalogue, guests):
        calendar.add_component(_event(entry, trip, variant, catalogue.region.zone, revision, made_at))
    return bytes(calendar.to_ical())


def _line(text: str) -> vText:
    """One line with nothing in it that a calendar can't hold (RFC 5545, 3.3.11)."""
    return vText(" ".join(clean(text).split()))


def _title(trip: Trip, guests: Collection[str] | None) -> str:
    if guests is None:
        return trip.name
    names = [trip.party.name_of(guest.id) for guest in trip.party.travellers if guest.id in guests]
    return f"{trip.name}: {listed(names)}"


def entries(
    trip: Trip, variant: Variant, catalogue: Catalogue, guests: Collection[str] | None = None
) -> Iterator[Entry]:
    """Yield what goes into the calendar, kind by kind."""
    start = trip.start
    if start is None:
        return
    for stay in stays(variant):
        house = catalogue.get(Lodging, stay.lodging)
        if house is not None and _theirs(stay.travellers, guests):
            first = start + timedelta(days=stay.first)
            yield Entry(key=f"stay-{variant.days[stay.first].id}-{house.id}", says=f"Stay: {house.name}",
                        on=first, until=first + timedelta(days=stay.nights), where=house.address)  # fmt: skip
    for index, day in enumerate(variant.days):
        on = start + timedelta(days=index)
        if day.briefing:
            yield Entry(key=f"briefing-{day.id}", says=BRIEFING_SAYS, on=on)
        there = tuple(who for who in travellers_there(trip, index + 1) if guests is None or who in guests)
        yield from _dinners(day, on, there, catalogue)
        for item in day.items:
            if isinstance(item, Ride) and _theirs(item.travellers, guests):
                yield _ride(item, on, catalogue)
    for says, crossings, usual_day in (
        ("Arrival", trip.arrivals, 1),
        ("Departure", trip.departures, len(variant.days)),
    ):
        theirs = tuple(each for each in crossings if _theirs(each.travellers, guests))
        yield from _crossings(says, theirs, start, usual_day, catalogue)


def _theirs(travellers: Travellers, guests: Collection[str] | None) -> bool:
    return travellers is None or guests is None or not set(travellers).isdisjoint(guests)


def _dinners(day: Day, on: date, guests: tuple[str, ...], catalogue: Catalogue) -> Iterator[Entry]:
    """Each table of the evening once: at a restaurant, or in the house the guest sleeps in."""
    tables: dict[tuple[str, time | None], str] = {}
    for who in guests:
        meal = dinner_planned(day, who)
        place: Restaurant | Lodging | None = None
        if meal is not None and meal.restaurant is not None:
            place = catalogue.get(Restaurant, meal.restaurant)
        elif meal is not None and meal.at_lodging and (night := night_of(day, who)) is not None:
            place = catalogue.get(Lodging, night.lodging)
        if meal is not None and place is not None:
            tables[place.id, meal.at] = place.name
    for (place_id, at), name in tables.items():
        yield Entry(key=f"dinner-{day.id}-{place_id}", says=f"Dinner: {name}", on=on, at=at, lasts=DINNER)


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
    event.add("summary", _line(entry.says))
    if entry.where:
        event.add("location", vText(clean(entry.where)))
    if entry.at is None:
        event.add("dtstart", entry.on)
        event.add("dtend", entry.until or entry.on + timedelta(days=1))
    else:
        begins = local(entry.on, entry.at, zone).astimezone(UTC)
        event.add("dtstart", begins)
        event.add("dtend", begins + entry.lasts)
    return event
