"""Maps of a whole variant, of one day, and of one leg for its route notes."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from lacet.documents.drawing.alt import WAYS, day_map_alt, leg_map_alt, trip_map_alt
from lacet.documents.drawing.frame import Frame, frame_around
from lacet.documents.drawing.ground import ground
from lacet.documents.drawing.labels import Box, Name, name_drawn, place
from lacet.documents.drawing.look import Look
from lacet.documents.drawing.marks import (
    DIRECTION_MM,
    STOP_MM,
    badge,
    badge_box,
    key_of_ways,
    north_mark,
    pin,
    place_mark,
    scale_bar,
    stop_mark,
)
from lacet.documents.drawing.points import REACH_MM, point_box, point_mark
from lacet.documents.drawing.scene import PLACE_WEIGHT, At, Manner, Scene, SceneLeg, position_of
from lacet.documents.drawing.svg import drawn
from lacet.documents.drawing.ways import MapLine, bed, line_in, ride_line, straight_in, way_line
from lacet.documents.material.values import Drawn
from lacet.documents.pack.leg_line import LegLine, LegPoint
from lacet.figures.values import LegFigures
from lacet.tracks.edit import positions_at
from lacet.tracks.track import Floats, Track
from lacet.trip.catalogue import Catalogue
from lacet.trip.library import Place
from lacet.trip.words import Way

WHOLE_MM = (174.0, 98.0)
DAY_MM = (174.0, 84.0)
LEG_MM = (174.0, 118.0)
NAME_MM, MINOR_NAME_MM = 3.2, 2.6
MARGIN_MM = 10.0
NAME_ROOM_MM = 6.0
# A day's map shows some of what lies around it.
DAY_LEAST_M = 6_000.0
STOP_WEIGHT, PASSED_WEIGHT, POINT_WEIGHT = 100.0, 50.0, 30.0
MOST_MINOR_PLACES = 24
# Where along a day's line its number may stand, best first.
BADGE_SHARES = (0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82, 0.1, 0.9)


@dataclass(frozen=True, slots=True, eq=False)
class Line:
    """A line of the map, and whether it belongs to another day."""

    drawn: MapLine
    way: Way
    faint: bool


@dataclass(frozen=True, slots=True)
class Stop:
    """A place that matters on this map: where a day begins or ends, or that is passed."""

    place: Place
    weight: float
    ends: bool = False


def trip_map(scene: Scene, manner: Manner, size_mm: tuple[float, float] = WHOLE_MM) -> Drawn:
    """Return the overview: every day's way with its number, and every place a day ends at."""
    frame = frame_around(_positions(scene, scene.legs), size_mm, MARGIN_MM)
    lines = [Line(line_in(frame, leg.track), leg.way, False) for leg in scene.legs]
    look = manner.look
    numbers, boxes = _day_numbers(frame, scene, lines, look)
    rides = [ride_line(straight_in(frame, ride.ends), look) for ride in scene.rides]
    stops = list(_stops(scene))
    parts = _drawn_map(frame, manner, lines, rides, numbers, boxes, stops, scene.catalogue)
    return drawn(
        parts, size_mm, manner.look.family, trip_map_alt(scene.figures, scene.catalogue, manner.speech)
    )


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
    parts = _drawn_map(frame, manner, lines, rides, [], [], stops, scene.catalogue)
    return drawn(
        parts, size_mm, manner.look.family, day_map_alt(day + 1, figures, scene.catalogue, manner.speech)
    )


def leg_map(
    line: LegLine,
    leg: LegFigures,
    catalogue: Catalogue,
    manner: Manner,
    numbered: Sequence[tuple[int, float]] = (),
    size_mm: tuple[float, float] = LEG_MM,
) -> Drawn:
    """Return the map of one leg: its line, its numbered directions, what stands along it.

    Parameters
    ----------
    numbered
        Number and distance from the leg's start [m] of each direction.
    """
    track = line.track
    frame = frame_around(np.column_stack((track.latitude_deg, track.longitude_deg)), size_mm, MARGIN_MM)
    drawn_line = Line(line_in(frame, track), leg.leg.way, False)
    numbers, boxes = _directions(frame, track, numbered, manner.look)
    points = line.points()
    at = _along(frame, track, [point.at_m for point in points])
    marks = [point_mark(point.kind, x, y, manner.look) for point, (x, y) in zip(points, at, strict=True)]
    ends = [
        each for end in (leg.from_place, leg.to_place) if end and (each := catalogue.place(end)) is not None
    ]
    stops = [Stop(each, STOP_WEIGHT, ends=each.id == leg.to_place) for each in ends]
    said = {stop.place.name for stop in stops}
    names = [
        _point_name(point, x, y) for point, (x, y) in zip(points, at, strict=True) if point.name not in said
    ]
    boxes += [point_box(x, y) for x, y in at]
    parts = _drawn_map(
        frame, manner, [drawn_line], [], [*marks, *numbers], boxes, stops, catalogue, names
    )  # fmt: skip
    return drawn(
        parts, size_mm, manner.look.family, leg_map_alt(leg, catalogue, manner.speech, len(numbered))
    )


def _drawn_map(
    frame: Frame, manner: Manner, lines: Sequence[Line], rides: Sequence[str], numbers: Sequence[str],
    boxes: Sequence[Box], stops: Sequence[Stop], catalogue: Catalogue, names: Sequence[Name] = (),
) -> Iterator[str]:  # fmt: skip
    """Every map from the ground up: beds, lines, marks, names, and what stands in the corners."""
    look, speech = manner.look, manner.speech
    bar, bar_box = scale_bar(frame, speech, look)
    north, north_box = north_mark(frame, look, speech.say("N"))
    ways = dict.fromkeys(line.way for line in lines if line.drawn.pieces)
    key, key_box = key_of_ways(frame, [(way, speech.word(WAYS[way])) for way in ways], bar_box, look)
    yield ground(frame, manner.rasters, look)
    yield from rides
    for line in lines:
        yield bed(line.drawn, look)
    for line in lines:
        yield way_line(line.drawn, line.way, look, faint=line.faint)
    minor = _minor_places(catalogue, frame, {stop.place.id for stop in stops})
    marked = [(stop, *frame.at_mm(*position_of(stop.place))) for stop in stops]
    for stop, x, y in marked:
        yield stop_mark(x, y, look, ends=stop.ends)
    yield from numbers
    taken = [bar_box, north_box, *([key_box] if key else []), *boxes]
    taken += [badge_box(x, y, STOP_MM) for _, x, y in marked]
    wanted = [_stop_name(stop, x, y) for stop, x, y in marked if frame.holds(x, y)]
    wanted += [_minor_name(item, weight, frame) for item, weight in minor]
    area = Box(0.0, 0.0, frame.width_mm, frame.height_mm)
    for placed in place([*wanted, *names], area, taken, _dots(lines)):
        if placed.name.quiet:
            yield place_mark(placed.name.x_mm, placed.name.y_mm, look)
        yield name_drawn(placed, look)
    yield bar + key + north


def _stop_name(stop: Stop, x: float, y: float) -> Name:
    return Name(
        text=stop.place.name, x_mm=x, y_mm=y, clear_mm=STOP_MM + 0.25, size_mm=NAME_MM, weight=stop.weight
    )


def _minor_name(item: Place, weight: float, frame: Frame) -> Name:
    x, y = frame.at_mm(*position_of(item))
    return Name(
        text=item.name, x_mm=x, y_mm=y, clear_mm=0.7, size_mm=MINOR_NAME_MM, weight=weight, quiet=True
    )


def _point_name(point: LegPoint, x: float, y: float) -> Name:
    return Name(
        text=point.name, x_mm=x, y_mm=y, clear_mm=REACH_MM, size_mm=MINOR_NAME_MM, weight=POINT_WEIGHT
    )


def _minor_places(catalogue: Catalogue, frame: Frame, named: set[str]) -> list[tuple[Place, float]]:
    """Places of the library within the frame that the map isn't about."""
    found = [
        (item, PLACE_WEIGHT[item.kind])
        for item in catalogue.current(Place)
        if item.id not in named and frame.holds(*frame.at_mm(*position_of(item)))
    ]
    return sorted(found, key=lambda each: (-each[1], each[0].id))[:MOST_MINOR_PLACES]


def _dots(lines: Iterable[Line]) -> Floats:
    parts = [dots for line in lines for dots in line.drawn.dots_mm()]
    return np.concatenate(parts) if parts else np.empty((0, 2))


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


def _along(frame: Frame, track: Track, at_m: Sequence[float]) -> list[tuple[float, float]]:
    if not at_m:
        return []
    latitude, longitude, _ = positions_at(track, np.asarray(at_m, dtype=np.float64))
    x, y = frame.to_mm(latitude, longitude)
    return list(zip(x.tolist(), y.tolist(), strict=True))


def _directions(
    frame: Frame, track: Track, numbered: Sequence[tuple[int, float]], look: Look
) -> tuple[list[str], list[Box]]:
    """Numbered discs beside the line where each direction is meant, joined to it by a short stroke."""
    spots = _along(frame, track, [at_m for _, at_m in numbered])
    boxes: list[Box] = []
    marks: list[str] = []
    for (number, _), (x, y) in zip(numbered, spots, strict=True):
        at = _beside(x, y, boxes, frame)
        if at is None:
            continue
        marks.append(pin(x, y, at, str(number), look))
        boxes.append(badge_box(*at, DIRECTION_MM))
    return marks, boxes


def _beside(x: float, y: float, boxes: Sequence[Box], frame: Frame) -> tuple[float, float] | None:
    """A free place for a disc near its spot, the nearest first; None where the map is too full."""
    inside = Box(0.5, 0.5, frame.width_mm - 0.5, frame.height_mm - 0.5)
    for reach in (2.6, 4.2, 6.0):
        for turn in range(8):
            angle = np.pi / 4 * turn - np.pi / 2
            at = (x + reach * float(np.cos(angle)), y + reach * float(np.sin(angle)))
            box = badge_box(*at, DIRECTION_MM)
            if box.within(inside) and not any(box.meets(other) for other in boxes):
                return at
    return None
