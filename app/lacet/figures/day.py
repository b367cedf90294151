"""A group's day on the clock: legs, rides and visits one after the other, with stops between.

Rules of the clock (common practice, no source): a day sets out at its own hour, else on the day of
arrival half an hour after the crossing, else at the house's usual hour; stops are spread over the legs in
proportion to moving time; a ride that names its hour waits for it.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import time

from lacet.figures.leg import Batteries, LegMaker
from lacet.figures.values import GroupFigures, LegFigures, Step
from lacet.trip.house_rules import HouseRules
from lacet.trip.itinerary import Group, arrives_on, crossing_of
from lacet.trip.library import Transfer
from lacet.trip.trip import Day, Item, Leg, Ride, Trip, Visit
from lacet.trip.words import Way

AFTER_ARRIVAL_S = 1_800.0


def clock_s(at: time) -> float:
    """Seconds after midnight."""
    return at.hour * 3600.0 + at.minute * 60.0 + at.second


@dataclass(slots=True)
class GroupDay:
    """Reckons one group's day; `missing` gathers what the library does not hold."""

    trip: Trip
    day: Day
    number: int
    rules: HouseRules
    maker: LegMaker

    def figures(self, group: Group, batteries: Batteries) -> GroupFigures:
        """The group's figures; `batteries` is carried along and changed by what is ridden."""
        drafts = {
            stretch.item.id: self.maker.draft(stretch.item, group.travellers, batteries)
            for stretch in group.stretches
            if isinstance(stretch.item, Leg)
        }
        moving_s = sum(draft.moving_s for draft in drafts.values() if draft is not None)
        clock = self._departs_s(group)
        stops_factor = 1.0 + self._stops_s(moving_s) / moving_s if moving_s else 1.0
        steps: list[Step] = []
        legs: list[LegFigures] = []
        missing: list[str] = []
        for stretch in group.stretches:
            item = stretch.item
            starts_s = clock
            if isinstance(item, Leg):
                draft = drafts[item.id]
                if draft is None:
                    missing.append(item.stage.id)
                else:
                    clock += draft.moving_s * stops_factor
                    legs.append(draft.on_the_clock(starts_s, clock, stretch.from_place, stretch.to_place))
            else:
                starts_s, clock = self._pass(item, clock)
            steps.append(Step(item=item, starts_s=starts_s, ends_s=clock, from_place=stretch.from_place,
                              to_place=stretch.to_place))  # fmt: skip
        return self._group_figures(group, tuple(steps), tuple(legs), tuple(missing))

    def _departs_s(self, group: Group) -> float:
        if self.day.departs is not None:
            return clock_s(self.day.departs)
        guest = self.trip.party.traveller(group.travellers[0]) if group.travellers else None
        arrival = None if guest is None else crossing_of(self.trip.arrivals, guest.id)
        if guest is None or arrival is None or arrival.at is None:
            return self.rules.departs_minute * 60.0
        comes = self.number == arrives_on(self.trip, arrival, guest)
        return clock_s(arrival.at) + AFTER_ARRIVAL_S if comes else self.rules.departs_minute * 60.0

    def _stops_s(self, moving_s: float) -> float:
        return self.rules.stops_share * moving_s if self.day.stops_s is None else self.day.stops_s

    def _pass(self, item: Item, clock: float) -> tuple[float, float]:
        """When an item that isn't a leg begins and ends; what nobody timed takes no time."""
        if isinstance(item, Ride):
            starts_s = clock if item.departs is None else max(clock, clock_s(item.departs))
            return starts_s, starts_s + 60.0 * (self._ride_minutes(item) or 0)
        if isinstance(item, Visit):
            return clock, clock + 60.0 * (item.minutes or 0)
        return clock, clock

    def _ride_minutes(self, ride: Ride) -> int | None:
        if ride.minutes is not None or ride.transfer is None:
            return ride.minutes
        service = self.maker.catalogue.get(Transfer, ride.transfer)
        return None if service is None else service.minutes

    def _group_figures(
        self, group: Group, steps: tuple[Step, ...], legs: tuple[LegFigures, ...], missing: tuple[str, ...]
    ) -> GroupFigures:
        travels = [step for step in steps if isinstance(step.item, Leg | Ride)]
        return GroupFigures(
            travellers=group.travellers,
            items=group.items,
            steps=steps,
            legs=legs,
            ways=tuple(way for way in Way if any(leg.leg.way is way for leg in legs)),
            start_place=group.starts_at,
            end_place=group.ends_at,
            distance_m=sum(leg.distance_m for leg in legs),
            ascent_m=total(leg.ascent_m for leg in legs),
            descent_m=total(leg.descent_m for leg in legs),
            moving_s=sum(leg.moving_s for leg in legs),
            departs_s=travels[0].starts_s if travels else None,
            done_s=travels[-1].ends_s if travels else None,
            battery_left_share=min(
                (leg.battery_left_share for leg in legs if leg.battery_left_share is not None), default=None
            ),
            missing=missing,
        )


def total(parts: Iterable[float | None]) -> float | None:
    """The sum, or None when any part is unknown."""
    summed = 0.0
    for part in parts:
        if part is None:
            return None
        summed += part
    return summed
