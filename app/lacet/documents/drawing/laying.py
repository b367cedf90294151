"""Lays a map together, from the ground up: beds, lines, marks, names, and what stands in the corners."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from lacet.documents.drawing.alt import WAYS
from lacet.documents.drawing.contours import Contours
from lacet.documents.drawing.frame import Frame
from lacet.documents.drawing.ground import ground
from lacet.documents.drawing.labels import Box, Name, name_drawn, place
from lacet.documents.drawing.marks import (
    HOUSE_MM,
    STOP_MM,
    badge_box,
    house_mark,
    key_of_ways,
    north_mark,
    note_beside,
    place_mark,
    scale_bar,
    stop_mark,
)
from lacet.documents.drawing.scene import PLACE_WEIGHT, Manner
from lacet.documents.drawing.ways import MapLine, bed, way_line
from lacet.figures.route import position_of
from lacet.tracks.track import Floats
from lacet.trip.catalogue import Catalogue
from lacet.trip.library import Lodging, Place
from lacet.trip.words import Way

NAME_MM, MINOR_NAME_MM = 3.2, 2.6
STOP_CLEAR_MM = STOP_MM + 0.25
MOST_MINOR_PLACES = 24
HOUSE_WEIGHT = 60.0


@dataclass(frozen=True, slots=True, eq=False)
class Line:
    """A line of the map, and whether it belongs to another day."""

    drawn: MapLine
    way: Way
    faint: bool = False


@dataclass(frozen=True, slots=True)
class Stop:
    """A place that matters on this map; `ends` marks where its way ends."""

    place: Place
    weight: float
    ends: bool = False


@dataclass(frozen=True, slots=True)
class HouseSpot:
    """A house on the map [mm]."""

    name: str
    x_mm: float
    y_mm: float

    @property
    def box(self) -> Box:
        return badge_box(self.x_mm, self.y_mm, HOUSE_MM)


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Layers:
    """What a map carries above its ground. Names keep clear of `boxes`, which `marks` stand in."""

    frame: Frame
    lines: Sequence[Line]
    stops: Sequence[Stop]
    rides: Sequence[str] = ()
    marks: Sequence[str] = ()
    boxes: Sequence[Box] = ()
    names: Sequence[Name] = ()
    houses: Sequence[HouseSpot] = ()
    contours: Contours | None = None


@dataclass(frozen=True, slots=True)
class Corners:
    """Scale bar, north mark and what the lines mean, and the room they take."""

    drawn: str
    boxes: tuple[Box, ...]


def corners(frame: Frame, ways: Iterable[Way], manner: Manner, contours: Contours | None = None) -> Corners:
    """What stands in the corners of a map with these ways."""
    look, speech = manner.look, manner.speech
    bar, bar_box = scale_bar(frame, speech, look)
    north, north_box = north_mark(frame, look, speech.say("N"))
    said = [(way, speech.word(WAYS[way])) for way in dict.fromkeys(ways)]
    key, key_box = key_of_ways(frame, said, bar_box, look)
    boxes = (bar_box, north_box, key_box)
    if contours is None:
        return Corners(bar + key + north, boxes)
    says = speech.say("contour lines every {height}", height=speech.wording.height(contours.interval_m))
    told, told_box = note_beside(frame, says, key_box, look)
    return Corners(bar + key + north + told, (*boxes, told_box))


def laid(layers: Layers, catalogue: Catalogue, manner: Manner) -> Iterator[str]:
    """The elements of a map, the lowest first."""
    frame, look = layers.frame, manner.look
    yield ground(frame, manner.rasters, look)
    if layers.contours is not None:
        yield layers.contours.drawn
    yield from layers.rides
    for line in layers.lines:
        yield bed(line.drawn, look)
    for line in layers.lines:
        yield way_line(line.drawn, line.way, look, faint=line.faint)
    stops = [(stop, *frame.at_mm(*position_of(stop.place))) for stop in layers.stops]
    for stop, x, y in stops:
        yield stop_mark(x, y, look, ends=stop.ends)
    for house in layers.houses:
        yield house_mark(house.x_mm, house.y_mm, look)
    yield from layers.marks
    around = corners(frame, ways_of(layers.lines), manner, layers.contours)
    taken = [*around.boxes, *layers.boxes, *stop_boxes(frame, (stop.place for stop in layers.stops))]
    taken += [house.box for house in layers.houses]
    names = [*stop_names(frame, layers.stops), *layers.names, *_house_names(layers)]
    names += _minor_names(layers, catalogue)
    names = [replace(name, text=manner.written(name.text)) for name in names]
    area = Box(0.0, 0.0, frame.width_mm, frame.height_mm)
    for placed in place(names, area, taken, dots_of(layers.lines)):
        if placed.name.quiet:
            yield place_mark(placed.name.x_mm, placed.name.y_mm, look)
        yield name_drawn(placed, look)
    yield around.drawn


def house_spots(frame: Frame, houses: Iterable[Lodging], taken: Sequence[Box]) -> list[HouseSpot]:
    """Houses within the frame, but for those whose mark would hide another; they lie where that stands."""
    found: list[HouseSpot] = []
    for house in houses:
        x, y = frame.at_mm(house.latitude_deg, house.longitude_deg)
        spot = HouseSpot(house.name, x, y)
        boxes = [*taken, *(other.box for other in found)]
        if frame.holds(x, y) and not any(spot.box.meets(box) for box in boxes):
            found.append(spot)
    return found


def stop_boxes(frame: Frame, places: Iterable[Place]) -> list[Box]:
    """The room that the marks of stops take."""
    return [badge_box(*frame.at_mm(*position_of(each)), STOP_MM) for each in places]


def ways_of(lines: Iterable[Line]) -> list[Way]:
    """The ways that a map is about and shows, for its key."""
    return [line.way for line in lines if line.drawn.pieces and not line.faint]


def stop_names(frame: Frame, stops: Iterable[Stop]) -> list[Name]:
    """The names of the stops within the frame, to be placed."""
    spots = [(stop, *frame.at_mm(*position_of(stop.place))) for stop in stops]
    return [
        Name(
            text=stop.place.name, x_mm=x, y_mm=y, clear_mm=STOP_CLEAR_MM, size_mm=NAME_MM, weight=stop.weight
        )
        for stop, x, y in spots
        if frame.holds(x, y)
    ]


def dots_of(lines: Iterable[Line]) -> Floats:
    """Points along all lines [mm]."""
    parts = [dots for line in lines for dots in line.drawn.dots_mm()]
    return np.concatenate(parts) if parts else np.empty((0, 2))


def _house_names(layers: Layers) -> Iterator[Name]:
    for house in layers.houses:
        yield Name(
            text=house.name, x_mm=house.x_mm, y_mm=house.y_mm, clear_mm=HOUSE_MM + 0.25,
            size_mm=MINOR_NAME_MM, weight=HOUSE_WEIGHT,
        )  # fmt: skip


def _minor_names(layers: Layers, catalogue: Catalogue) -> list[Name]:
    """Places of the library within the frame that the map isn't about."""
    named = {stop.place.id for stop in layers.stops}
    found = []
    every = catalogue.located(Place)
    at_deg = np.array([each[2:] for each in every], dtype=np.float64).reshape(-1, 2)
    across, down = layers.frame.to_mm(*at_deg.T)
    for each, x, y in zip(every, across.tolist(), down.tolist(), strict=True):
        # Only those within the frame are read: a library may hold places of half the world.
        item = catalogue.place(each.id) if layers.frame.holds(x, y) and each.id not in named else None
        if item is not None:
            found.append(
                Name(text=item.name, x_mm=x, y_mm=y, clear_mm=0.7, size_mm=MINOR_NAME_MM,
                     weight=PLACE_WEIGHT[item.kind], quiet=True)
            )  # fmt: skip
    return sorted(found, key=lambda name: (-name.weight, name.text))[:MOST_MINOR_PLACES]
