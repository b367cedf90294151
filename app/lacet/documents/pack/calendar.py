"""Stays, dinners, rides, briefings and crossings as an iCalendar object (RFC 5545), for all guests or some.

Its rule: moments are written in UTC, which needs no table of zones and is right for regions that state their
own clock; nights are whole days, which have no zone. What nobody timed is a whole day as well.
"""

from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace
from datetime import UTC, date, time, timedelta
from functools import partial

from icalendar import Calendar, Event, vText

from lacet.checks.kitchens import dinner_planned
from lacet.days.zones import local
from lacet.documents.material.safety import SET_IT, estimate
from lacet.documents.material.telling import MEANS, Telling, told
from lacet.documents.pack.words import MEALS
from lacet.language import marked
from lacet.trip.errors import LacetError
from lacet.trip.itinerary import days_of_arrival, days_of_departure, night_of, travellers_there
from lacet.trip.library import Lodging, Restaurant
from lacet.trip.printable import clean
from lacet.trip.stays import stays
from lacet.trip.trip import Crossing, Day, Ride, Travellers, Trip
from lacet.trip.words import MealKind

DINNER = timedelta(hours=2)
CROSSING = timedelta(minutes=30)
BRIEFING_SAYS = marked("Briefing with your local representative")


class NoCalendar(LacetError):
    """Moments can't be told without a clock."""


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


def write_calendar(telling: Telling, guests: Collection[str] | None = None) -> bytes:
    """Return a variant's calendar; without a start date it has no entries.

    Entries keep their UID from revision to revision and in every language.

    Parameters
    ----------
    guests
        Whose calendar it is, by id; None = everybody's.

    Raises
    ------
    NoCalendar
        While the region states no clock.
    """
    zone = telling.catalogue.region.zone
    if zone is None:
        raise NoCalendar("There is no calendar while the time zone isn't set. {set_it}", set_it=SET_IT)
    calendar = Calendar()
    calendar.add("prodid", "-//Lacet//Travel pack//EN")
    calendar.add("version", "2.0")
    # RFC 7986, 5.1: the name a calendar is shown by.
    calendar.add("name", _line(_title(telling, guests)))
    # RFC 7986, 5.2.
    calendar.add("description", _line(estimate(telling)))
    for entry in entries(telling, guests):
        calendar.add_component(_event(entry, telling, zone))
    return bytes(calendar.to_ical())


def _line(text: str) -> vText:
    """One line with nothing in it that a calendar can't hold (RFC 5545, 3.3.11)."""
    return vText(" ".join(clean(text).split()))


def _title(telling: Telling, guests: Collection[str] | None) -> str:
    if guests is None:
        return telling.trip.name
    theirs = [guest.id for guest in telling.trip.party.travellers if guest.id in guests]
    return f"{telling.trip.name}: {telling.names(theirs)}"


def entries(telling: Telling, guests: Collection[str] | None = None) -> Iterator[Entry]:
    """Yield what goes into the calendar, kind by kind."""
    trip, variant, catalogue, say = telling.trip, telling.variant, telling.catalogue, telling.speech.say
    start = trip.start
    if start is None:
        return
    for stay in stays(variant):
        house = catalogue.get(Lodging, stay.lodging)
        if house is not None and _theirs(stay.travellers, guests):
            first = start + timedelta(days=stay.first)
            yield Entry(
                key=f"stay-{variant.days[stay.first].id}-{house.id}",
                says=say("Stay: {house}", house=house.name),
                on=first,
                until=first + timedelta(days=stay.nights),
                where=house.address,
            )
    for index, day in enumerate(variant.days):
        on = start + timedelta(days=index)
        if day.briefing:
            yield Entry(key=f"briefing-{day.id}", says=say(BRIEFING_SAYS), on=on)
        there = tuple(who for who in travellers_there(trip, index + 1) if guests is None or who in guests)
        yield from _dinners(telling, day, on, there)
        for item in day.items:
            if isinstance(item, Ride) and _theirs(item.travellers, guests):
                yield _ride(telling, item, on)
    for key, says, crossings, numbers in (
        ("arrival", say("Arrival"), trip.arrivals, partial(days_of_arrival, trip)),
        (
            "departure",
            say("Departure"),
            trip.departures,
            partial(days_of_departure, trip, days=len(variant.days)),
        ),
    ):
        theirs = (_for_guests(trip, each, guests) for each in crossings if _theirs(each.travellers, guests))
        days = [(day, each) for each in theirs for day in sorted(numbers(each))]
        for number, (day_number, each) in enumerate(days, start=1):
            on = start + timedelta(days=day_number - 1)
            yield _crossing(telling, f"{key}-{number}", says, each, on)


def _theirs(travellers: Travellers, guests: Collection[str] | None) -> bool:
    return travellers is None or guests is None or not set(travellers).isdisjoint(guests)


def _for_guests(trip: Trip, crossing: Crossing, guests: Collection[str] | None) -> Crossing:
    if guests is None:
        return crossing
    among = crossing.travellers or tuple(guest.id for guest in trip.party.travellers)
    return replace(crossing, travellers=tuple(who for who in among if who in guests))


def _dinners(telling: Telling, day: Day, on: date, guests: tuple[str, ...]) -> Iterator[Entry]:
    """Each table of the evening once: at a restaurant, or in the house the guest sleeps in."""
    catalogue, dinner = telling.catalogue, telling.speech.word(MEALS[MealKind.DINNER])
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
        yield Entry(key=f"dinner-{day.id}-{place_id}", says=f"{dinner}: {name}", on=on, at=at, lasts=DINNER)


def _ride(telling: Telling, ride: Ride, on: date) -> Entry:
    says = telling.speech.say(
        "Transfer: {begins} to {ends}",
        begins=telling.place(ride.from_place),
        ends=telling.place(ride.to_place),
    )
    lasts = CROSSING if ride.minutes is None else timedelta(minutes=ride.minutes)
    return Entry(key=f"ride-{ride.id}", says=says, on=on, at=ride.departs, lasts=lasts)


def _crossing(telling: Telling, key: str, says: str, each: Crossing, on: date) -> Entry:
    how = " ".join(told(telling.speech.word(MEANS[each.means]), each.number))
    where = ", ".join(told(telling.place(each.hub), how))
    return Entry(key=key, says=f"{says}: {where}", on=on, at=each.at)


def _event(entry: Entry, telling: Telling, zone: str) -> Event:
    made_at = telling.made_at
    event = Event()
    event.add("uid", f"{telling.trip.id}-{telling.variant.id}-{entry.key}@lacet.invalid")
    event.add("dtstamp", made_at.astimezone(UTC))
    event.add("sequence", telling.revision)
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
