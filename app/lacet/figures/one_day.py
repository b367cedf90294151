"""One day of a variant: everybody's day, those that could be taken instead, and the night's charging.

A day is reckoned from what is planned for it, what holds for every day, and how full batteries begin it; from
nothing else, so that it is reckoned again only when one of these changes.
"""

from collections.abc import Callable, Iterable
from dataclasses import replace
from datetime import date, datetime
from typing import NamedTuple

from lacet.days.sun import Sun, sun
from lacet.figures.day import GroupDay
from lacet.figures.leg import Batteries, LegMaker
from lacet.figures.values import AlternativeFigures, DayFigures, GroupFigures
from lacet.trip.catalogue import Catalogue
from lacet.trip.house_rules import HouseRules
from lacet.trip.itinerary import Ends, ItineraryDay, days_of_arrival, days_of_departure, groups_on, night_of
from lacet.trip.library import Lodging, Place, Ref, Stage
from lacet.trip.trip import Hire, Leg, Ride, Trip


class Plan(NamedTuple):
    """A day as planned: `frame` is what holds for every day, `hires` cover this one of `last` days."""

    frame: Trip
    planned: ItineraryDay
    hires: tuple[Hire, ...]
    last: int
    catalogue: Catalogue
    rules: HouseRules


Shares = tuple[tuple[str, float], ...]
"""How full the batteries of guests are, by guest; full where nobody is named."""


def day_figures(plan: Plan, shares: Shares) -> tuple[DayFigures, Shares]:
    """The figures of a day that begins with batteries so full, and how full they are the morning after."""
    frame, planned, rules = plan.frame, plan.planned, plan.rules
    batteries = Batteries(dict(shares))
    maker = LegMaker(frame, plan.hires, plan.catalogue, rules)
    alternatives = _alternatives(frame, planned, rules, maker, batteries)
    reckoner = GroupDay(frame, planned.day, planned.number, rules, maker)
    groups = tuple(reckoner.figures(group, batteries) for group in planned.groups)
    _charge_overnight(planned, plan.catalogue, batteries)
    return _day(frame, plan.last, planned, groups, alternatives, plan.catalogue), batteries.shares()


def leg_ends(catalogue: Catalogue) -> Callable[[Leg], Ends]:
    """Where legs begin and end, in their own direction; a cut end is on the way (None)."""

    def ends(leg: Leg) -> Ends:
        stage = catalogue.get(Stage, leg.stage)
        if stage is None:
            return None, None
        first = stage.from_place if leg.cut_from_m is None else None
        last = stage.to_place if leg.cut_to_m is None else None
        return (last, first) if leg.backward else (first, last)

    return ends


def lodging_places(catalogue: Catalogue) -> Callable[[Ref], str | None]:
    """The place each lodging stands at."""

    def lodging_place(ref: Ref) -> str | None:
        lodging = catalogue.get(Lodging, ref)
        return None if lodging is None else lodging.place

    return lodging_place


def _alternatives(
    frame: Trip, planned: ItineraryDay, rules: HouseRules, maker: LegMaker, batteries: Batteries
) -> tuple[AlternativeFigures, ...]:
    """Each alternative as if it were taken instead; the batteries of the day proper stay as they are."""
    where = {
        who: at for group in planned.groups for who, at in zip(group.travellers, group.woke_at, strict=True)
    }
    ends, beds = leg_ends(maker.catalogue), lodging_places(maker.catalogue)
    told = []
    for alternative in planned.day.alternatives:
        day = replace(planned.day, items=alternative.items)
        reckoner = GroupDay(frame, day, planned.number, rules, maker)
        groups = groups_on(day, tuple(where), where, ends, beds)
        figures = tuple(reckoner.figures(group, batteries.copy()) for group in groups)
        told.append(AlternativeFigures(alternative.id, figures))
    return tuple(told)


def _charge_overnight(planned: ItineraryDay, catalogue: Catalogue, batteries: Batteries) -> None:
    for group in planned.groups:
        for traveller_id in group.travellers:
            night = night_of(planned.day, traveller_id)
            lodging = None if night is None else catalogue.get(Lodging, night.lodging)
            if lodging is not None and lodging.charging:
                batteries.fill(traveller_id)


def _day(
    frame: Trip,
    last: int,
    planned: ItineraryDay,
    groups: tuple[GroupFigures, ...],
    alternatives: tuple[AlternativeFigures, ...],
    catalogue: Catalogue,
) -> DayFigures:
    on = frame.date_of(planned.number)
    lit = on or _mid_month(frame.month)
    daylight = _daylight(lit, groups, catalogue)
    lead = max(range(len(groups)), key=lambda index: groups[index].moving_s, default=0)
    return DayFigures(
        number=planned.number,
        id=planned.day.id,
        on=on,
        groups=groups,
        lead=lead,
        rest=_is_rest(frame, last, planned),
        sunrise_s=_on_the_clock(daylight.sunrise, lit) if daylight else None,
        sunset_s=_on_the_clock(daylight.sunset, lit) if daylight else None,
        civil_dusk_s=_on_the_clock(daylight.civil_dusk, lit) if daylight else None,
        polar=daylight.polar if daylight else None,
        alternatives=alternatives,
    )


def _is_rest(frame: Trip, last: int, planned: ItineraryDay) -> bool:
    """A day on which nobody moves on, arrives or leaves."""
    comes = (days_of_arrival(frame, each) for each in frame.arrivals)
    goes = (days_of_departure(frame, each, last) for each in frame.departures)
    crosses = any(planned.number in days for days in (*comes, *goes))
    return not crosses and not any(isinstance(item, Leg | Ride) for item in planned.day.items)


def _daylight(on: date | None, groups: tuple[GroupFigures, ...], catalogue: Catalogue) -> Sun | None:
    """Daylight where the day ends, else where it begins; None without a date, a known place or a zone."""
    places = [
        place for group in groups for place in (group.end_place, group.start_place) if place is not None
    ]
    known: Iterable[Place] = filter(None, map(catalogue.place, places))
    where = next(iter(known), None)
    zone = catalogue.region.zone
    if on is None or where is None or zone is None:
        return None
    return sun(where.latitude_deg, where.longitude_deg, on, zone)


def _mid_month(month: int | None) -> date | None:
    """A date to reckon daylight by while only the month is known; the year changes it by seconds."""
    return None if month is None else date(2027, month, 15)


def _on_the_clock(moment: datetime | None, on: date | None) -> float | None:
    """What clocks show, in seconds after the midnight that begins a civil date.

    A sunset past midnight is over 86 400; a dawn before midnight is negative.
    """
    if moment is None or on is None:
        return None
    days_later = (moment.date() - on).days
    return days_later * 86_400.0 + moment.hour * 3600.0 + moment.minute * 60.0 + moment.second
