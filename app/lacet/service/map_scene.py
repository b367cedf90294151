"""What the map shows of one variant: lines, stops with their day numbers, houses.

Days, groups and legs are counted from 0 as in `Spot` and `Selection`; the numbers written on the map are
those of the sheet's columns. A line's geometry is told apart from its use by a key, so that the page is
sent each line only once.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import TypeAlias

from lacet.figures.leg_line import LegLine, leg_line
from lacet.figures.route import At, RouteLeg, position_of, route_legs, route_rides
from lacet.figures.values import DayFigures, GroupFigures
from lacet.service.sheet.reasons import said_as
from lacet.service.shown import Shown
from lacet.tracks.edit import nearest, position_at, simplify
from lacet.tracks.geodesy import length_m
from lacet.tracks.track import Track
from lacet.trip.catalogue import Catalogue
from lacet.trip.itinerary import takes
from lacet.trip.library import Lodging, Place
from lacet.trip.trip import Day, Leg

TOLERANCE_M = 5.0
# A hundred-thousandth of a degree is about a metre.
DECIMALS = 5
KEPT_LINES = 512

Line: TypeAlias = tuple[tuple[At, ...], ...]


@dataclass(frozen=True, slots=True)
class DrawnLeg:
    """A leg on the map; `line` is the key of its geometry."""

    line: str
    day: int
    group: int
    leg: int
    way: str
    name: str


@dataclass(frozen=True, slots=True)
class DrawnRide:
    """A transfer, drawn straight from place to place."""

    day: int
    ends: tuple[At, At]


@dataclass(frozen=True, slots=True)
class DrawnOther:
    """A leg of another way to spend a day, thin beside the plan; `mark` is where its sign stands."""

    line: str
    day: int
    way: str
    name: str
    mark: At


@dataclass(frozen=True, slots=True)
class Stop:
    """Where days end, each by its index; `name` is the place's, empty on the way."""

    at: At
    days: tuple[int, ...]
    name: str


@dataclass(frozen=True, slots=True)
class Mark:
    """A place or a house with its name."""

    at: At
    name: str


@dataclass(frozen=True, slots=True)
class Scene:
    """Everything drawn of a variant. `bounds` are (south, west) and (north, east), None where nothing is."""

    selected: int | None
    lines: dict[str, Line]
    legs: tuple[DrawnLeg, ...]
    rides: tuple[DrawnRide, ...]
    others: tuple[DrawnOther, ...]
    stops: tuple[Stop, ...]
    waypoints: tuple[Mark, ...]
    houses: tuple[Mark, ...]
    bounds: tuple[At, At] | None


def scene(shown: Shown, catalogue: Catalogue, selected_day: int | None) -> Scene:
    """Everything to draw of a variant, be it kept or only tried out."""
    lines: dict[str, Line] = {}
    legs: list[DrawnLeg] = []
    for routed in route_legs(shown.assessment.figures, catalogue):
        key = _key(routed.figures.leg)
        lines[key] = drawn_line(routed.line.track)
        legs.append(_drawn(routed, key))
    others = tuple(_others(shown, catalogue, lines))
    stops = _stops(shown, catalogue)
    rides = tuple(DrawnRide(each.day, each.ends) for each in route_rides(shown.assessment.figures, catalogue))
    waypoints = _waypoints(shown, catalogue, stops)
    houses = tuple(_houses(shown, catalogue))
    positions = [at for line in lines.values() for segment in line for at in segment]
    positions += [at for ride in rides for at in ride.ends]
    positions += [stop.at for stop in stops] + [mark.at for mark in waypoints]
    return Scene(
        selected_day, lines, tuple(legs), rides, others, stops, waypoints, houses, bounds_of(positions)
    )


def ground_places(catalogue: Catalogue) -> tuple[Mark, ...]:
    """All places of the library, for the map's ground."""
    return tuple(
        Mark((place.latitude_deg, place.longitude_deg), place.name) for place in catalogue.located(Place)
    )


def bounds_of(positions: Iterable[At]) -> tuple[At, At] | None:
    """(south, west) and (north, east) around positions, or None around none."""
    known = list(positions)
    if not known:
        return None
    latitudes, longitudes = zip(*known, strict=True)
    return (min(latitudes), min(longitudes)), (max(latitudes), max(longitudes))


def spot_position(
    shown: Shown, catalogue: Catalogue, day: int, group: int, leg: int, along_m: float
) -> At | None:
    """Where a spot of the profile lies, or None when the variant has no such leg any more."""
    line = _line_at(shown, catalogue, day, group, leg)
    if line is None:
        return None
    found = position_at(line.track, along_m)
    return found.latitude_deg, found.longitude_deg


def along_at(shown: Shown, catalogue: Catalogue, day: int, group: int, leg: int, at: At) -> float | None:
    """How far along a leg [m] it passes nearest to a position, or None when there is no such leg."""
    line = _line_at(shown, catalogue, day, group, leg)
    return None if line is None else nearest(line.track, *at)[0]


@lru_cache(maxsize=KEPT_LINES)
def drawn_line(track: Track) -> Line:
    """Few enough points of a line to draw, within 5 m of it, by segments; kept, since a drag asks often."""
    thin = simplify(track, TOLERANCE_M)
    latitude, longitude = thin.latitude_deg.round(DECIMALS), thin.longitude_deg.round(DECIMALS)
    positions = tuple(zip(latitude.tolist(), longitude.tolist(), strict=True))
    return tuple(positions[segment] for segment in thin.segments)


def _drawn(routed: RouteLeg, key: str) -> DrawnLeg:
    figures = routed.figures
    name = f"Day {routed.day + 1}: {figures.stage_name}"
    # A leg that several groups travel belongs to the first of them.
    return DrawnLeg(key, routed.day, routed.groups[0], routed.number, figures.leg.way.value, name)


def _key(leg: Leg) -> str:
    return f"{leg.stage.id}@{leg.stage.version} {leg.backward:d} {leg.cut_from_m} {leg.cut_to_m}"


def _line_at(shown: Shown, catalogue: Catalogue, day: int, group: int, leg: int) -> LegLine | None:
    days = shown.assessment.figures.days
    if not 0 <= day < len(days) or not 0 <= group < len(days[day].groups):
        return None
    legs = days[day].groups[group].legs
    return leg_line(catalogue, legs[leg].leg) if 0 <= leg < len(legs) else None


def _others(shown: Shown, catalogue: Catalogue, lines: dict[str, Line]) -> Iterator[DrawnOther]:
    """Legs of alternatives that the day doesn't run over anyway; their lines join `lines`."""
    for day, content in enumerate(shown.variant.days):
        planned = {_key(leg) for leg in content.legs()}
        for other in content.alternatives:
            for leg in other.items:
                line = leg_line(catalogue, leg) if isinstance(leg, Leg) else None
                if line is not None and isinstance(leg, Leg) and (key := _key(leg)) not in planned:
                    lines[key] = drawn_line(line.track)
                    mark = position_at(line.track, length_m(line.track) / 2)
                    yield DrawnOther(
                        key, day, leg.way.value, f"Day {day + 1}, {said_as(other)}",
                        (mark.latitude_deg, mark.longitude_deg),
                    )  # fmt: skip


def _stops(shown: Shown, catalogue: Catalogue) -> tuple[Stop, ...]:
    """Where days end; days that end at one place share its mark."""
    days_at: dict[tuple[At, str], list[int]] = {}
    for index, (day, figures) in enumerate(
        zip(shown.variant.days, shown.assessment.figures.days, strict=True)
    ):
        for stop in dict.fromkeys(_ends_of(day, figures, catalogue)):
            days_at.setdefault(stop, []).append(index)
    return tuple(Stop(at, tuple(days), name) for (at, name), days in days_at.items())


def _ends_of(day: Day, figures: DayFigures, catalogue: Catalogue) -> Iterator[tuple[At, str]]:
    for group in figures.groups:
        place = catalogue.place(_end_place(day, group, catalogue) or "")
        if place is not None:
            yield position_of(place), place.name
        elif group.legs:
            line = leg_line(catalogue, group.legs[-1].leg)
            if line is not None:
                yield drawn_line(line.track)[-1][-1], ""


def _end_place(day: Day, group: GroupFigures, catalogue: Catalogue) -> str | None:
    """Where a group sleeps, else where its day ends."""
    who = group.travellers[0] if group.travellers else ""
    night = next((night for night in day.nights if takes(night, who)), None)
    house = None if night is None else catalogue.get(Lodging, night.lodging)
    return group.end_place if house is None else house.place


def _waypoints(shown: Shown, catalogue: Catalogue, stops: tuple[Stop, ...]) -> tuple[Mark, ...]:
    """Places passed through where no day ends."""
    taken = {stop.at for stop in stops}
    ids: dict[str, None] = {}
    for day in shown.assessment.figures.days:
        for group in day.groups:
            for step in group.steps:
                ids.update(dict.fromkeys(end for end in (step.from_place, step.to_place) if end))
    places = (catalogue.place(place_id) for place_id in ids)
    marks = (Mark(position_of(place), place.name) for place in places if place is not None)
    return tuple(mark for mark in marks if mark.at not in taken)


def _houses(shown: Shown, catalogue: Catalogue) -> Iterator[Mark]:
    nights = dict.fromkeys(night.lodging for day in shown.variant.days for night in day.nights)
    for ref in nights:
        house = catalogue.get(Lodging, ref)
        if house is not None:
            yield Mark((house.latitude_deg, house.longitude_deg), house.name)
