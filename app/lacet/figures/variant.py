"""A whole variant: everybody's days, one after the other, with batteries carried from day to day."""

from functools import partial

from lacet.figures.day import total
from lacet.figures.one_day import Plan, Shares, day_figures, leg_ends, lodging_places
from lacet.figures.values import DayFigures, GroupFigures, TravellerTotals, VariantFigures, VariantTotals
from lacet.trip.catalogue import Catalogue
from lacet.trip.frame import frame_of
from lacet.trip.hires import hires_by_day
from lacet.trip.house_rules import HouseRules
from lacet.trip.itinerary import ItineraryDay, Where, arrive, follow_day, travellers_there
from lacet.trip.kept import Kept
from lacet.trip.trip import Day, Trip, Variant
from lacet.trip.words import Way

_PLANNED: Kept[tuple[ItineraryDay, Where]] = Kept(2048)
_DAYS: Kept[tuple[DayFigures, Shares]] = Kept(1024)


def follow(trip: Trip, variant: Variant, catalogue: Catalogue) -> tuple[ItineraryDay, ...]:
    """The itinerary, with stages and lodgings looked up in the catalogue."""
    where, days = arrive(trip), []
    for number, day in enumerate(variant.days, start=1):
        values = (number, *where.values())
        make = partial(_follow_day, trip, number, day, where, catalogue)
        planned, where = _PLANNED.get(catalogue, (day, trip.party), values, make)
        days.append(planned)
    return tuple(days)


def _follow_day(
    trip: Trip, number: int, day: Day, where: Where, catalogue: Catalogue
) -> tuple[ItineraryDay, Where]:
    there = travellers_there(trip, number)
    return follow_day(day, number, there, where, leg_ends(catalogue), lodging_places(catalogue))


def variant_figures(
    trip: Trip,
    variant: Variant,
    planned: tuple[ItineraryDay, ...],
    catalogue: Catalogue,
    rules: HouseRules,
) -> VariantFigures:
    """All figures of a variant whose itinerary is `planned`."""
    frame, hires = frame_of(trip, catalogue), hires_by_day(variant)
    shares: Shares = ()
    days = []
    for each in planned:
        plan = Plan(frame, each, hires[each.number - 1], len(planned), catalogue, rules)
        rests_on, values = (frame, each, rules, *plan.hires), (len(planned), shares)
        day, shares = _DAYS.get(catalogue, rests_on, values, partial(day_figures, plan, shares))
        days.append(day)
    return VariantFigures(
        days=tuple(days), totals=_totals(days, variant), travellers=_traveller_totals(trip, days)
    )


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
