"""What of a variant lies on a map, each once: legs with their lines, and rides from place to place.

The window's map and the maps of documents draw what is found here.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TypeAlias

from lacet.figures.leg_line import LegLine, leg_line
from lacet.figures.values import LegFigures, VariantFigures
from lacet.trip.catalogue import Catalogue
from lacet.trip.library import Place
from lacet.trip.trip import Ride

At: TypeAlias = tuple[float, float]
"""Latitude and longitude [degrees]."""


@dataclass(frozen=True, slots=True, eq=False)
class RouteLeg:
    """A leg with its line. From 0: its day, the groups that travel it, its number in the first of them."""

    day: int
    groups: tuple[int, ...]
    number: int
    figures: LegFigures
    line: LegLine


@dataclass(frozen=True, slots=True, eq=False)
class RouteRide:
    """A transfer from place to place; who takes it as of a leg."""

    day: int
    groups: tuple[int, ...]
    ends: tuple[At, At]


def route_legs(figures: VariantFigures, catalogue: Catalogue) -> Iterator[RouteLeg]:
    """Legs in the order of days and groups; those whose stage or track the library lacks are left out."""
    for number, day in enumerate(figures.days):
        groups: dict[str, list[int]] = {}
        first: dict[str, tuple[int, LegFigures]] = {}
        for index, group in enumerate(day.groups):
            for position, leg in enumerate(group.legs):
                groups.setdefault(leg.leg.id, []).append(index)
                first.setdefault(leg.leg.id, (position, leg))
        for leg_id, (position, leg) in first.items():
            line = leg_line(catalogue, leg.leg)
            if line is not None:
                yield RouteLeg(number, tuple(groups[leg_id]), position, leg, line)


def route_rides(figures: VariantFigures, catalogue: Catalogue) -> Iterator[RouteRide]:
    """Rides whose two ends the library knows and that lie apart."""
    for number, day in enumerate(figures.days):
        groups: dict[str, list[int]] = {}
        ends: dict[str, tuple[At, At]] = {}
        for index, group in enumerate(day.groups):
            for step in group.steps:
                places = [catalogue.place(end) for end in (step.from_place, step.to_place) if end]
                known = [position_of(place) for place in places if place is not None]
                if isinstance(step.item, Ride) and len(known) == 2 and known[0] != known[1]:
                    groups.setdefault(step.item.id, []).append(index)
                    ends[step.item.id] = (known[0], known[1])
        for ride_id, between in ends.items():
            yield RouteRide(number, tuple(groups[ride_id]), between)


def position_of(place: Place) -> At:
    return place.latitude_deg, place.longitude_deg
