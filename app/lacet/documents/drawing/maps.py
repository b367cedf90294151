"""Maps of a whole variant, of one day, and of one leg for its route notes."""

from collections.abc import Iterable, Iterator, Sequence

import numpy as np

from lacet.documents.drawing.alt import day_map_alt, leg_map_alt, trip_map_alt
from lacet.documents.drawing.frame import Frame, frame_around
from lacet.documents.drawing.labels import Box
from lacet.documents.drawing.laying import (
    Layers,
    Line,
    Stop,
    corners,
    house_spots,
    laid,
    stop_boxes,
    ways_of,
)
from lacet.documents.drawing.leg_marks import leg_layers
from lacet.documents.drawing.look import Look
from lacet.documents.drawing.marks import badge, badge_box
from lacet.documents.drawing.scene import Manner, Scene, SceneLeg
from lacet.documents.drawing.svg import drawn
from lacet.documents.drawing.ways import MapLine, line_in, ride_line, straight_in
from lacet.documents.material.values import Drawn
from lacet.figures.leg_line import LegLine
from lacet.figures.route import At, position_of
from lacet.figures.values import LegFigures
from lacet.trip.catalogue import Catalogue
from lacet.trip.library import Lodging, Place
from lacet.trip.words import Way

WHOLE_MM = (174.0, 98.0)
DAY_MM = (174.0, 84.0)
LEG_MM = (174.0, 118.0)
MARGIN_MM = 10.0
# Half the side of the square around a stop that day numbers leave to its name.
NAME_ROOM_MM = 6.0
# A day's map shows some of what lies around it.
DAY_LEAST_M = 6_000.0
STOP_WEIGHT, PASSED_WEIGHT = 100.0, 50.0
# Where along a day's line its number may stand, best first.
BADGE_SHARES = (0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82, 0.1, 0.9)


def trip_map(scene: Scene, manner: Manner, size_mm: tuple[float, float] = WHOLE_MM) -> Drawn:
    """Return the overview: every day's way with its number, and every place a day ends at."""
    frame = frame_around(_positions(scene, scene.legs), size_mm, MARGIN_MM)
    lines = [Line(line_in(frame, leg.track), leg.way, False) for leg in scene.legs]
    look = manner.look
    numbers, boxes = _day_numbers(frame, scene, lines, look)
    rides = [ride_line(straight_in(frame, ride.ends), look) for ride in scene.rides]
    stops = list(_stops(scene))
    layers = Layers(frame=frame, lines=lines, stops=stops, rides=rides, marks=numbers, boxes=boxes)
    alt = trip_map_alt(scene.figures, scene.catalogue, manner.speech)
    return drawn(laid(layers, scene.catalogue, manner), size_mm, look.family, alt)


def day_map(
    scene: Scene, manner: Manner, day: int, group: int = 0, size_mm: tuple[float, float] = DAY_MM
) -> Drawn:
    """Return a group's own map of a day (both counted from 0): its way, other ways faint beside it.

    Raises
    ------
    ValueError
        When the group travels no leg that day.
    """
    figures = scene.group(day, group)
    if not figures.legs:
        raise ValueError(f"On day {day + 1} this group travels no stage, so there is no map of it.")
    own = scene.legs_of(day, group)
    places = [each for end in _places_of(figures.steps) if (each := scene.catalogue.place(end)) is not None]
    positions = [at for leg in own for at in _outline(leg)] + [position_of(each) for each in places]
    frame = frame_around(positions or _positions(scene, scene.legs), size_mm, MARGIN_MM, DAY_LEAST_M)
    others = [leg for leg in scene.legs if leg not in own]
    lines = [Line(line_in(frame, leg.track), leg.way, True) for leg in others]
    lines += [Line(line_in(frame, leg.track), leg.way, False) for leg in own]
    rides = [
        ride_line(straight_in(frame, ride.ends), manner.look)
        for ride in scene.rides
        if ride.day == day and group in ride.groups
    ]
    stops = _day_stops(scene, figures.start_place, figures.end_place, places)
    taken = [
        *corners(frame, ways_of(lines), manner).boxes,
        *stop_boxes(frame, (stop.place for stop in stops)),
    ]
    houses = house_spots(frame, scene.houses_of(day, group), taken)
    layers = Layers(frame=frame, lines=lines, stops=stops, rides=rides, houses=houses)
    alt = day_map_alt(day + 1, figures, scene.catalogue, manner.speech)
    return drawn(laid(layers, scene.catalogue, manner), size_mm, manner.look.family, alt)


def leg_map(
    line: LegLine,
    leg: LegFigures,
    catalogue: Catalogue,
    manner: Manner,
    numbered: Sequence[tuple[int, float]] = (),
    size_mm: tuple[float, float] = LEG_MM,
    houses: Sequence[Lodging] = (),
) -> Drawn:
    """Return the map of one leg: its line, its numbered directions, what stands along it.

    Parameters
    ----------
    numbered
        Number and distance from the leg's start [m] of each direction.
    houses
        Where guests come from or sleep; shown where the map is large enough to tell them from the place.
    """
    track = line.track
    frame = frame_around(np.column_stack((track.latitude_deg, track.longitude_deg)), size_mm, MARGIN_MM)
    ends = [catalogue.place(end) for end in (leg.from_place, leg.to_place) if end]
    stops = [Stop(each, STOP_WEIGHT, ends=each.id == leg.to_place) for each in ends if each is not None]
    layers = leg_layers(frame, line, leg.leg.way, stops, manner, numbered, houses)
    alt = leg_map_alt(leg, catalogue, manner.speech, len(numbered))
    return drawn(laid(layers, catalogue, manner), size_mm, manner.look.family, alt)


def _outline(leg: SceneLeg) -> list[At]:
    return list(zip(leg.track.latitude_deg.tolist(), leg.track.longitude_deg.tolist(), strict=True))


def _positions(scene: Scene, legs: Sequence[SceneLeg]) -> list[At]:
    """Everything an overview has to show; of an empty variant, the whole library."""
    found = [at for leg in legs for at in _outline(leg)]
    found += [at for ride in scene.rides for at in ride.ends]
    found += [position_of(each) for end in scene.ends if (each := scene.catalogue.place(end)) is not None]
    return found or [position_of(each) for each in scene.catalogue.current(Place)] or [(0.0, 0.0)]


def _places_of(steps: Iterable[object]) -> dict[str, None]:
    ends = ((getattr(step, "from_place", None), getattr(step, "to_place", None)) for step in steps)
    return dict.fromkeys(end for pair in ends for end in pair if end)


def _stops(scene: Scene) -> Iterator[Stop]:
    for end in scene.ends:
        item = scene.catalogue.place(end)
        if item is not None:
            yield Stop(item, STOP_WEIGHT)
    passed = _places_of(step for day in scene.figures.days for group in day.groups for step in group.steps)
    for end in passed:
        item = scene.catalogue.place(end)
        if item is not None and end not in scene.ends:
            yield Stop(item, PASSED_WEIGHT)


def _day_stops(scene: Scene, begins: str | None, ends: str | None, places: Sequence[Place]) -> list[Stop]:
    found = [
        Stop(each, STOP_WEIGHT if each.id in {begins, ends} else PASSED_WEIGHT, each.id == ends)
        for each in places
    ]
    named = {each.id for each in places}
    rest = [scene.catalogue.place(end) for end in scene.ends if end not in named]
    return found + [Stop(each, PASSED_WEIGHT / 2) for each in rest if each is not None]


def _day_numbers(
    frame: Frame, scene: Scene, lines: Sequence[Line], look: Look
) -> tuple[list[str], list[Box]]:
    """A numbered disc on the longest leg of each day and group, where no other disc is."""
    boxes: list[Box] = []
    marks: list[str] = []
    ends = [each for end in scene.ends if (each := scene.catalogue.place(end)) is not None]
    near_stops = [badge_box(*frame.at_mm(*position_of(each)), NAME_ROOM_MM) for each in ends]
    for index, day in enumerate(scene.figures.days):
        for group in range(len(day.groups)):
            own = [(leg, line) for leg, line in zip(scene.legs, lines, strict=True)
                   if leg.day == index and leg.groups[0] == group]  # fmt: skip
            if not own:
                continue
            leg, line = max(own, key=lambda each: each[0].figures.distance_m)
            at = _free_spot(line.drawn, boxes, near_stops)
            if at is not None:
                colour = look.bike if leg.way is Way.CYCLING else look.foot
                marks.append(badge(str(day.number), *at, look, colour))
                boxes.append(badge_box(*at))
    return marks, boxes


def _free_spot(line: MapLine, boxes: Sequence[Box], near_stops: Sequence[Box]) -> tuple[float, float] | None:
    """Where a line's number touches no other, and leaves the names of stops their room where it can."""
    dots = list(line.dots_mm())
    if not dots:
        return None
    along = np.concatenate(dots)
    spots = [along[round(share * (len(along) - 1))].tolist() for share in BADGE_SHARES]
    free = [(x, y) for x, y in spots if not any(badge_box(x, y).meets(box) for box in boxes)]
    clear = [(x, y) for x, y in free if not any(badge_box(x, y).meets(box) for box in near_stops)]
    return next(iter(clear or free), None)
