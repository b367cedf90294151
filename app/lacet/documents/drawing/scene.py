"""What of a variant stands on its maps: each leg once with its line, rides, and where days end."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from lacet.documents.drawing.look import COLOUR, Look
from lacet.documents.language import language
from lacet.figures.route import RouteRide, route_legs, route_rides
from lacet.figures.values import GroupFigures, LegFigures, VariantFigures
from lacet.language import Language
from lacet.tracks.edit import simplify
from lacet.tracks.raster import ElevationRaster
from lacet.tracks.track import Track
from lacet.trip.catalogue import Catalogue
from lacet.trip.itinerary import takes
from lacet.trip.library import Lodging
from lacet.trip.trip import Day
from lacet.trip.words import PlaceKind, Way

# No map here shows less.
TOLERANCE_M = 3.0

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
class Scene:
    """All that maps of a variant show. `ends` maps a place's id to the numbers of the days that end there."""

    figures: VariantFigures
    catalogue: Catalogue
    legs: tuple[SceneLeg, ...]
    rides: tuple[RouteRide, ...]
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
    legs = tuple(
        SceneLeg(each.day, each.groups, each.figures, simplify(each.line.track, TOLERANCE_M))
        for each in route_legs(figures, catalogue)
    )
    return Scene(figures, catalogue, legs, tuple(route_rides(figures, catalogue)), _ends(figures), days)


def _ends(figures: VariantFigures) -> dict[str, tuple[int, ...]]:
    found: dict[str, list[int]] = {}
    for day in figures.days:
        for place_id in dict.fromkeys(group.end_place for group in day.groups if group.end_place):
            found.setdefault(place_id, []).append(day.number)
    return {place_id: tuple(numbers) for place_id, numbers in found.items()}
