"""A whole variant: everybody's days, one after the other, with batteries carried from day to day."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from datetime import date, datetime

from lacet.days.sun import Sun, sun
from lacet.figures.day import GroupDay, total
from lacet.figures.leg import Batteries, LegMaker
from lacet.figures.values import (
    AlternativeFigures,
    DayFigures,
    GroupFigures,
    TravellerTotals,
    VariantFigures,
    VariantTotals,
)
from lacet.trip.catalogue import Catalogue
from lacet.trip.house_rules import HouseRules
from lacet.trip.itinerary import (
    Ends,
    ItineraryDay,
    days_of_arrival,
    days_of_departure,
    groups_on,
    itinerary,
    night_of,
)
from lacet.trip.library import Lodging, Place, Ref, Stage
from lacet.trip.trip import Leg, Ride, Trip, Variant
from lacet.trip.words import Way


def follow(trip: Trip, variant: Variant, catalogue: Catalogue) -> tuple[ItineraryDay, ...]:
    """The itinerary, with stages and lodgings looked up in the catalogue."""
    return itinerary(trip, variant, leg_ends(catalogue), lodging_places(catalogue))


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


def variant_figures(
    trip: Trip,
    variant: Variant,
    planned: tuple[ItineraryDay, ...],
    catalogue: Catalogue,
    rules: HouseRules,
) -> VariantFigures:
    """All figures of a variant whose itinerary is `planned`."""
    maker = LegMaker(trip, variant, catalogue, rules)
    batteries = Batteries()
    days = []
    for each in planned:
        alternatives = _alternatives(trip, each, rules, maker, batteries)
        reckoner = GroupDay(trip, each.day, each.number, rules, maker)
        groups = tuple(reckoner.figures(group, batteries) for group in each.groups)
        days.append(_day(trip, variant, each, groups, alternatives, catalogue))
        _charge_overnight(each, catalogue, batteries)
    return VariantFigures(
        days=tuple(days), totals=_totals(days, variant), travellers=_traveller_totals(trip, days)
    )


def _alternatives(
    trip: Trip, planned: ItineraryDay, rules: HouseRules, maker: LegMaker, batteries: Batteries
) -> tuple[AlternativeFigures, ...]:
    """Each alternative as if it were taken instead; the batteries of the day proper stay as they are."""
    where = {
        who: at for group in planned.groups for who, at in zip(group.travellers, group.woke_at, strict=True)
    }
    ends, beds = leg_ends(maker.catalogue), lodging_places(maker.catalogue)
    told = []
    for alternative in planned.day.alternatives:
        day = replace(planned.day, items=alternative.items)
        reckoner = GroupDay(trip, day, planned.number, rules, maker)
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
    trip: Trip,
    variant: Variant,
    planned: ItineraryDay,
    groups: tuple[GroupFigures, ...],
    alternatives: tuple[AlternativeFigures, ...],
    catalogue: Catalogue,
) -> DayFigures:
    on = trip.date_of(planned.number)
    lit = on or _mid_month(trip.month)
    daylight = _daylight(lit, groups, catalogue)
    lead = max(range(len(groups)), key=lambda index: groups[index].moving_s, default=0)
    return DayFigures(
        number=planned.number,
        id=planned.day.id,
        on=on,
        groups=groups,
        lead=lead,
        rest=_is_rest(trip, variant, planned),
        sunrise_s=_on_the_clock(daylight.sunrise, lit) if daylight else None,
        sunset_s=_on_the_clock(daylight.sunset, lit) if daylight else None,
        civil_dusk_s=_on_the_clock(daylight.civil_dusk, lit) if daylight else None,
        polar=daylight.polar if daylight else None,
        alternatives=alternatives,
    )


def _is_rest(trip: Trip, variant: Variant, planned: ItineraryDay) -> bool:
    """A day on which nobody moves on, arrives or leaves."""
    comes = (days_of_arrival(trip, each) for each in trip.arrivals)
    goes = (days_of_departure(trip, each, len(variant.days)) for each in trip.departures)
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


def _totals(days: list[DayFigures], variant: Variant) -> VariantTotals:
    leads = [day.group for day in days if day.group is not None]
    known = [group for group in leads if group.known]
    return VariantTotals(
        days=len(days),
        nights=sum(1 for day in variant.days if day.nights),
        rest_days=sum(day.rest for day in days),
        walking_m=_way_m(leads, Way.WALKING),
        cycling_m=_way_m(leads, Way.CYCLING),
        distance_m=sum(group.distance_m for group in leads),
        ascent_m=sum(group.ascent_m or 0.0 for group in known),
        descent_m=sum(group.descent_m or 0.0 for group in known),
        moving_s=sum(group.moving_s for group in known),
        unknown_days=len(leads) - len(known),
    )


def _way_m(groups: list[GroupFigures], way: Way) -> float:
    return sum(leg.distance_m for group in groups for leg in group.legs if leg.leg.way is way)


def _traveller_totals(trip: Trip, days: list[DayFigures]) -> tuple[TravellerTotals, ...]:
    told = []
    for guest in trip.party.travellers:
        own = [group for day in days for group in day.groups if guest.id in group.travellers]
        told.append(
            TravellerTotals(
                traveller=guest.id,
                walking_m=_way_m(own, Way.WALKING),
                cycling_m=_way_m(own, Way.CYCLING),
                ascent_m=total(group.ascent_m for group in own),
                moving_s=sum(dict(leg.moving_s_of)[guest.id] for group in own for leg in group.legs),
            )
        )
    return tuple(told)
