"""The days of a trip as GPX 1.1 documents: lines as travelled, what stands along them, figures in words.

A parted day gives one document a group. Figures are the assessment's own, said as everywhere else. Each
document says its revision and when it was made.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime

from lacet.documents.pack.companions import Companions, companions, said
from lacet.documents.pack.leg_line import LegLine, leg_line
from lacet.documents.pack.names import all_different, day_name, part_of_name
from lacet.figures.values import DayFigures, GroupFigures, LegFigures
from lacet.tracks.edit import position_at
from lacet.tracks.gpx_document import GpxLine, Waypoint
from lacet.tracks.gpx_write import GpxDocument, write_gpx
from lacet.trip.catalogue import Catalogue
from lacet.trip.itinerary import night_of
from lacet.trip.library import Lodging, Restaurant
from lacet.trip.trip import Day, Trip, Variant
from lacet.wording import ENGLISH, listed

ALTERNATIVE = "Alternative: "
ESTIMATE = "Times are estimates for planning; local authorities and conditions come first."


@dataclass(frozen=True, slots=True, kw_only=True)
class Making:
    """What all files of a pack are made from; `made_at` is aware."""

    trip: Trip
    variant: Variant
    days: tuple[DayFigures, ...]
    catalogue: Catalogue
    revision: int
    made_at: datetime

    def day_of(self, figures: DayFigures) -> Day:
        """The planned day of a day's figures."""
        return self.variant.days[figures.number - 1]

    @property
    def groups(self) -> tuple[Companions, ...]:
        """Who goes together throughout."""
        return companions(self.trip.party, self.days)


@dataclass(frozen=True, slots=True)
class GpxFileText:
    """One file of the pack: its name with ending, and its bytes."""

    name: str
    content: bytes


def day_files(making: Making) -> tuple[GpxFileText, ...]:
    """Return one GPX file for each day and group with a leg, planned or in another way, in day order."""
    made = [
        (day_name(figures.number, len(making.days), _title(making, figures, group)),
         _document(making, figures, group))
        for figures in making.days
        for group in figures.groups
        if group.legs or _other_legs(figures, group)
    ]  # fmt: skip
    names = all_different([name for name, _ in made])
    return tuple(
        GpxFileText(f"{name}.gpx", write_gpx(document))
        for name, (_, document) in zip(names, made, strict=True)
    )


def trip_file(making: Making) -> GpxFileText:
    """Return all days and groups in one GPX file, without alternatives; each place stands in it once."""
    documents = [
        _document(making, replace(figures, alternatives=()), group)
        for figures in making.days
        for group in figures.groups
        if group.legs
    ]
    whole = GpxDocument(
        name=making.trip.name,
        time=making.made_at,
        description=_about(making),
        lines=tuple(
            replace(line, name=f"{document.name}: {line.name}")
            for document in documents
            for line in document.lines
        ),
        waypoints=tuple(dict.fromkeys(place for document in documents for place in document.waypoints)),
    )
    return GpxFileText(f"00 {part_of_name(making.trip.name, 'trip')}.gpx", write_gpx(whole))


def figures_said(leg: LegFigures) -> str:
    """Return a leg's figures in words: '9.0 km, up 300 m, down 0 m, 2 h 40 moving.'."""
    says = ENGLISH
    return (
        f"{says.length(leg.distance_m)}, up {says.height(leg.ascent_m)}, down {says.height(leg.descent_m)},"
        f" {says.duration(leg.moving_s)} moving."
    )


def _about(making: Making) -> str:
    return f"{ESTIMATE} Revision {making.revision}."


def _title(making: Making, figures: DayFigures, group: GroupFigures) -> str:
    legs = group.legs or _other_legs(figures, group)
    ends = [
        place.name
        for place_id in (legs[0].from_place, legs[-1].to_place)
        if place_id is not None and (place := making.catalogue.place(place_id)) is not None
    ]
    title = " to ".join(ends) if len(ends) == 2 else legs[0].stage_name
    if not group.legs:
        title = f"{ALTERNATIVE}{title}"
    if len(figures.groups) == 1:
        return title
    return f"{title} ({said(making.groups, group.travellers)})"


def _document(making: Making, figures: DayFigures, group: GroupFigures) -> GpxDocument:
    catalogue = making.catalogue
    lines = [(leg, line) for leg in group.legs if (line := leg_line(catalogue, leg.leg)) is not None]
    tracks = [_track(leg, line, "") for leg, line in lines]
    tracks += [
        _track(leg, line, ALTERNATIVE)
        for leg in _other_legs(figures, group)
        if (line := leg_line(catalogue, leg.leg)) is not None
    ]
    points = [point for _, line in lines for point in _along(line)]
    return GpxDocument(
        name=f"Day {figures.number}",
        time=making.made_at,
        description=" ".join(filter(None, (_for_whom(making, figures, group), _about(making)))),
        lines=tuple(tracks),
        waypoints=(*points, *_houses(making.day_of(figures), group, catalogue)),
    )


def _other_legs(figures: DayFigures, group: GroupFigures) -> tuple[LegFigures, ...]:
    """Legs of other ways to spend the day, for any of a group."""
    return tuple(
        leg
        for alternative in figures.alternatives
        for other in alternative.groups
        if set(other.travellers) & set(group.travellers)
        for leg in other.legs
    )


def _for_whom(making: Making, figures: DayFigures, group: GroupFigures) -> str:
    """On a parted day: whose file it is."""
    if len(figures.groups) == 1:
        return ""
    return f"For {listed([making.trip.party.name_of(who) for who in group.travellers])}."


def _track(leg: LegFigures, line: LegLine, before: str) -> GpxLine:
    return GpxLine(f"{before}{leg.stage_name}", figures_said(leg), "track", line.track)


def _along(line: LegLine) -> Iterator[Waypoint]:
    for point in line.points():
        at = position_at(line.track, point.at_m)
        kind = point.kind.value.replace("_", " ")
        yield Waypoint(at.latitude_deg, at.longitude_deg, at.height_m, f"{kind.capitalize()}: {point.name}",
                       point.note, kind=kind)  # fmt: skip


def _houses(day: Day, group: GroupFigures, catalogue: Catalogue) -> Iterator[Waypoint]:
    nights = dict.fromkeys(
        night.lodging for who in group.travellers if (night := night_of(day, who)) is not None
    )
    for lodging in nights:
        if (house := catalogue.get(Lodging, lodging)) is not None:
            yield Waypoint(house.latitude_deg, house.longitude_deg, None, f"Lodging: {house.name}",
                           house.address, kind="lodging")  # fmt: skip
    for meal in day.meals:
        theirs = meal.travellers is None or set(meal.travellers) & set(group.travellers)
        if theirs and meal.restaurant and (place := catalogue.get(Restaurant, meal.restaurant)):
            name = f"{meal.kind.value.replace('_', ' ').capitalize()}: {place.name}"
            yield Waypoint(place.latitude_deg, place.longitude_deg, None, name, kind="meal")
