"""What of a variant stands on its maps: each leg once with its line, rides, and where days end."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

from lacet.documents.drawing.look import COLOUR, Look
from lacet.documents.language import language
from lacet.figures.leg_line import leg_line
from lacet.figures.values import GroupFigures, LegFigures, VariantFigures
from lacet.language import Language
from lacet.tracks.edit import simplify
from lacet.tracks.raster import ElevationRaster
from lacet.tracks.track import Track
from lacet.trip.catalogue import Catalogue
from lacet.trip.itinerary import takes
from lacet.trip.library import Lodging, Place
from lacet.trip.trip import Day, Ride
from lacet.trip.words import PlaceKind, Way

# No map here shows less.
TOLERANCE_M = 3.0

At = tuple[float, float]

# Which places are named first where there is room for some only.
PLACE_WEIGHT = {
    PlaceKind.TOWN: 9.0,
    PlaceKind.HARBOUR: 7.0,
    PlaceKind.VILLAGE: 6.0,
    PlaceKind.AIRFIELD: 5.0,
    PlaceKind.STATION: 5.0,
    PlaceKind.INN: 4.0,
    PlaceKind.HAMLET: 3.0,
    PlaceKind.VIEWPOINT: 2.0,
    PlaceKind.OTHER: 1.0,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Manner:
    """How all drawings of a document are made: language and units, look, and the ground they may show.

    `written` says what may be written of a name (a typesetter may lack letters); '' leaves the name out.
    """

    speech: Language = field(default_factory=language)
    look: Look = COLOUR
    rasters: Sequence[ElevationRaster] = ()
    written: Callable[[str], str] = str


@dataclass(frozen=True, slots=True, eq=False)
class SceneLeg:
    """A leg with its line; day and groups are counted from 0, groups are all that travel it."""

    day: int
    groups: tuple[int, ...]
    figures: LegFigures
    track: Track

    @property
    def way(self) -> Way:
        return self.figures.leg.way


@dataclass(frozen=True, slots=True, eq=False)
class SceneRide:
    day: int
    groups: tuple[int, ...]
    ends: tuple[At, At]


@dataclass(frozen=True, slots=True, eq=False)
class Scene:
    """All that maps of a variant show. `ends` maps a place's id to the numbers of the days that end there."""

    figures: VariantFigures
    catalogue: Catalogue
    legs: tuple[SceneLeg, ...]
    rides: tuple[SceneRide, ...]
    ends: dict[str, tuple[int, ...]]
    days: Sequence[Day] = ()

    def group(self, day: int, group: int) -> GroupFigures:
        return self.figures.days[day].groups[group]

    def houses_of(self, day: int, group: int) -> tuple[Lodging, ...]:
        """Where a group sleeps after a day; none where the days weren't given."""
        nights = self.days[day].nights if day < len(self.days) else ()
        guests = self.group(day, group).travellers
        own = [night.lodging for night in nights if any(takes(night, guest) for guest in guests)]
        found = (self.catalogue.get(Lodging, house) for house in own)
        return tuple(house for house in found if house is not None)

    def legs_of(self, day: int, group: int) -> tuple[SceneLeg, ...]:
        return tuple(leg for leg in self.legs if leg.day == day and group in leg.groups)


def scene_of(figures: VariantFigures, catalogue: Catalogue, days: Sequence[Day] = ()) -> Scene:
    """Return what the maps of a variant show; legs whose stage or track the library lacks are left out.

    `days` are the variant's own, for the houses of its nights.
    """
    legs, rides = tuple(_legs(figures, catalogue)), tuple(_rides(figures, catalogue))
    return Scene(figures, catalogue, legs, rides, _ends(figures), days)


def position_of(place: Place) -> At:
    return place.latitude_deg, place.longitude_deg


def _legs(figures: VariantFigures, catalogue: Catalogue) -> Iterator[SceneLeg]:
    for number, day in enumerate(figures.days):
        shared: dict[str, list[int]] = {}
        told: dict[str, LegFigures] = {}
        for index, group in enumerate(day.groups):
            for leg in group.legs:
                shared.setdefault(leg.leg.id, []).append(index)
                told.setdefault(leg.leg.id, leg)
        for leg_id, leg in told.items():
            line = leg_line(catalogue, leg.leg)
            if line is not None:
                yield SceneLeg(number, tuple(shared[leg_id]), leg, simplify(line.track, TOLERANCE_M))


def _rides(figures: VariantFigures, catalogue: Catalogue) -> Iterator[SceneRide]:
    for number, day in enumerate(figures.days):
        shared: dict[str, list[int]] = {}
        ends: dict[str, tuple[At, At]] = {}
        for index, group in enumerate(day.groups):
            for step in group.steps:
                places = [catalogue.place(end) for end in (step.from_place, step.to_place) if end]
                known = [position_of(place) for place in places if place is not None]
                if isinstance(step.item, Ride) and len(known) == 2 and known[0] != known[1]:
                    shared.setdefault(step.item.id, []).append(index)
                    ends[step.item.id] = (known[0], known[1])
        for ride_id, between in ends.items():
            yield SceneRide(number, tuple(shared[ride_id]), between)


def _ends(figures: VariantFigures) -> dict[str, tuple[int, ...]]:
    found: dict[str, list[int]] = {}
    for day in figures.days:
        for place_id in dict.fromkeys(group.end_place for group in day.groups if group.end_place):
            found.setdefault(place_id, []).append(day.number)
    return {place_id: tuple(numbers) for place_id, numbers in found.items()}
