"""The days of a trip as GPX 1.1 documents: lines as travelled, what stands along them, figures in words.

A parted day gives one document a group. Figures are the assessment's own, said as everywhere else. Each
document says its revision and when it was made.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from lacet.documents.material.gather import edition
from lacet.documents.material.safety import estimate
from lacet.documents.material.telling import Telling
from lacet.documents.names import all_different, day_name, part_of_name
from lacet.documents.pack.companions import companions, said
from lacet.documents.pack.words import MEALS, POINTS
from lacet.figures.leg_line import LegLine, leg_line
from lacet.figures.values import DayFigures, GroupFigures, LegFigures
from lacet.language import Language, marked
from lacet.tracks.edit import position_at
from lacet.tracks.gpx_document import GpxLine, Waypoint
from lacet.tracks.gpx_write import GpxDocument, write_gpx
from lacet.trip.itinerary import night_of
from lacet.trip.library import Lodging, Restaurant
from lacet.trip.trip import Day

OTHER_WAY = marked("Alternative: {title}")


@dataclass(frozen=True, slots=True)
class GpxFileText:
    """One file of the pack: its name with ending, and its bytes."""

    name: str
    content: bytes


def day_files(telling: Telling) -> tuple[GpxFileText, ...]:
    """Return one GPX file for each day and group with a leg, planned or in another way, in day order."""
    made = [
        (day_name(figures.number, len(telling.figures.days), _title(telling, figures, group)),
         _document(telling, figures, group))
        for figures in telling.figures.days
        for group in figures.groups
        if group.legs or _other_legs(figures, group)
    ]  # fmt: skip
    names = all_different([name for name, _ in made])
    return tuple(
        GpxFileText(f"{name}.gpx", write_gpx(document))
        for name, (_, document) in zip(names, made, strict=True)
    )


def trip_file(telling: Telling) -> GpxFileText:
    """Return all days and groups in one GPX file, without alternatives; each place stands in it once."""
    documents = [
        _document(telling, replace(figures, alternatives=()), group)
        for figures in telling.figures.days
        for group in figures.groups
        if group.legs
    ]
    whole = GpxDocument(
        name=telling.trip.name,
        time=telling.made_at,
        description=_about(telling),
        lines=tuple(
            replace(line, name=f"{document.name}: {line.name}")
            for document in documents
            for line in document.lines
        ),
        waypoints=tuple(dict.fromkeys(place for document in documents for place in document.waypoints)),
    )
    return GpxFileText(f"00 {part_of_name(telling.trip.name, 'trip')}.gpx", write_gpx(whole))


def figures_said(leg: LegFigures, speech: Language) -> str:
    """Return a leg's figures in words: '9.0 km, up 300 m, down 0 m, 2 h 40 moving.'."""
    says = speech.wording
    return speech.say(
        "{length}, {ascent} ascent, {descent} descent, {time} on the move.",
        length=says.length(leg.distance_m), ascent=says.height(leg.ascent_m),
        descent=says.height(leg.descent_m), time=says.duration(leg.moving_s),
    )  # fmt: skip


def _about(telling: Telling) -> str:
    return f"{estimate(telling)} {edition(telling)}."


def _title(telling: Telling, figures: DayFigures, group: GroupFigures) -> str:
    legs = group.legs or _other_legs(figures, group)
    ends = [
        place.name
        for place_id in (legs[0].from_place, legs[-1].to_place)
        if place_id is not None and (place := telling.catalogue.place(place_id)) is not None
    ]
    say = telling.speech.say
    # A round is called by its stage.
    parted = len(set(ends)) == 2
    title = say("{begins} to {ends}", begins=ends[0], ends=ends[1]) if parted else legs[0].stage_name
    if not group.legs:
        title = say("Alternative {title}", title=title)
    if len(figures.groups) == 1:
        return title
    groups = companions(telling.trip.party, telling.figures.days)
    return f"{title} ({said(groups, group.travellers, telling.speech)})"


def _document(telling: Telling, figures: DayFigures, group: GroupFigures) -> GpxDocument:
    catalogue = telling.catalogue
    lines = [(leg, line) for leg in group.legs if (line := leg_line(catalogue, leg.leg)) is not None]
    tracks = [_track(telling, leg, line, leg.stage_name) for leg, line in lines]
    tracks += [
        _track(telling, leg, line, telling.speech.say(OTHER_WAY, title=leg.stage_name))
        for leg in _other_legs(figures, group)
        if (line := leg_line(catalogue, leg.leg)) is not None
    ]
    points = [point for _, line in lines for point in _along(telling, line)]
    return GpxDocument(
        name=telling.speech.say("Day {number}", number=figures.number),
        time=telling.made_at,
        description=" ".join(filter(None, (_for_whom(telling, figures, group), _about(telling)))),
        lines=tuple(tracks),
        waypoints=(*points, *_houses(telling, telling.day_of(figures), group)),
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


def _for_whom(telling: Telling, figures: DayFigures, group: GroupFigures) -> str:
    """On a parted day: whose file it is."""
    if len(figures.groups) == 1:
        return ""
    return telling.speech.say("For {names}.", names=telling.names(group.travellers))


def _track(telling: Telling, leg: LegFigures, line: LegLine, name: str) -> GpxLine:
    return GpxLine(name, figures_said(leg, telling.speech), "track", line.track)


def _along(telling: Telling, line: LegLine) -> Iterator[Waypoint]:
    """What stands along a leg. `kind` is English in any language: devices choose a sign by it."""
    for point in line.points():
        at = position_at(line.track, point.at_m)
        name = f"{telling.speech.word(POINTS[point.kind])}: {point.name}"
        yield Waypoint(at.latitude_deg, at.longitude_deg, at.height_m, name, point.note,
                       kind=point.kind.value.replace("_", " "))  # fmt: skip


def _houses(telling: Telling, day: Day, group: GroupFigures) -> Iterator[Waypoint]:
    catalogue, speech = telling.catalogue, telling.speech
    sleeps = speech.say("Lodging")
    nights = dict.fromkeys(
        night.lodging for who in group.travellers if (night := night_of(day, who)) is not None
    )
    for lodging in nights:
        if (house := catalogue.get(Lodging, lodging)) is not None:
            name = f"{sleeps}: {house.name}"
            yield Waypoint(house.latitude_deg, house.longitude_deg, None, name, house.address, kind="lodging")
    for meal in day.meals:
        theirs = meal.travellers is None or set(meal.travellers) & set(group.travellers)
        if theirs and meal.restaurant and (place := catalogue.get(Restaurant, meal.restaurant)):
            name = f"{speech.word(MEALS[meal.kind])}: {place.name}"
            yield Waypoint(place.latitude_deg, place.longitude_deg, None, name, kind="meal")
