"""Route notes, one document a leg: what guests find the way with when nothing else works.

Its rule: they must be readable in rain and bad light and without colours. Every figure is the assessment's;
directions that nobody wrote are marked as derived, each by itself.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields

from lacet.documents.drawing.look import BLACK
from lacet.documents.drawing.maps import leg_map
from lacet.documents.drawing.profiles import leg_profile
from lacet.documents.drawing.scene import Manner
from lacet.documents.material.gather import edition
from lacet.documents.material.safety import emergency, estimate
from lacet.documents.material.telling import Telling, paragraphs, told
from lacet.documents.material.values import Drawn, Fact, Section
from lacet.documents.pack.directions import Directions, Step, directions
from lacet.documents.pack.words import POINTS
from lacet.documents.typeset.setting import Paper, typeset
from lacet.documents.typeset.theme import OURS, Theme
from lacet.figures.leg_line import LegLine, LegPoint, leg_line
from lacet.figures.values import DayFigures, LegFigures
from lacet.tracks.edit import position_at
from lacet.tracks.raster import ElevationRaster
from lacet.trip.itinerary import takes
from lacet.trip.library import Lodging
from lacet.trip.words import PointKind

# Points nearer together are at one spot.
SPOT_M = 20.0
# No part of what is printed.
APART = frozenset({"drawings", "lacks"})
MAP_MM, PROFILE_MM = (174.0, 106.0), (174.0, 40.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A numbered direction, or a point along the way (no number, but a kind)."""

    number: str = ""
    at: str
    next: str = ""
    height: str
    compass: str = ""
    kind: str = ""
    says: str
    note: str = ""
    derived: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class RouteNotes:
    """What the notes of one leg say, ready to print. `lacks` is for the office: what the library lacks."""

    title: str
    line: str
    lead: str
    figures: tuple[Fact, ...]
    paragraphs: tuple[str, ...]
    care: tuple[str, ...]
    heads: tuple[str, ...]
    rows: tuple[Row, ...]
    note: str
    emergency: Section
    estimate: str
    lacks: str
    drawings: dict[str, Drawn]


def route_notes(
    telling: Telling,
    day: DayFigures,
    leg: LegFigures,
    travellers: Sequence[str],
    *,
    instead: str = "",
    rasters: tuple[ElevationRaster, ...] = (),
) -> RouteNotes | None:
    """Return what the notes of a leg say; None when the library lacks its line.

    Parameters
    ----------
    travellers
        Who travels it; named where others of the party don't.
    instead
        Why this leg would be taken in place of the day's own; empty for the day's own.
    """
    line = leg_line(telling.catalogue, leg.leg)
    if line is None:
        return None
    say = telling.speech.say
    begins, ends = telling.place(leg.from_place), telling.place(leg.to_place)
    found = directions(line, begins, ends, telling.speech)
    return RouteNotes(
        title=leg_title(telling, leg),
        line=" · ".join(told(say("Day {number}", number=day.number), telling.weekday(day.on),
                             telling.way_of(leg), _who(telling, day, travellers), instead)),
        lead=_lead(telling, leg, instead),
        figures=tuple(_figures(telling, leg)),
        paragraphs=paragraphs(line.stage.text),
        care=tuple(_care(telling, line)),
        heads=(say("No."), say("From the start"), say("To the next"), say("Height"), say("Heading"),
               say("What to do")),
        rows=tuple(_rows(telling, line, found)),
        note=_note(telling, found),
        emergency=emergency(telling),
        estimate=estimate(telling),
        lacks=found.note,
        drawings=_drawings(telling, line, leg, found, rasters, _houses(telling, day, travellers)),
    )  # fmt: skip


def write_route_notes(
    telling: Telling, notes: RouteNotes, paper: Paper = Paper.A4, theme: Theme = OURS
) -> bytes:
    """Return the notes as a PDF."""
    say = telling.speech.say
    data = {
        **{each.name: getattr(notes, each.name) for each in fields(notes) if each.name not in APART},
        "heading": notes.title,
        "operator": telling.catalogue.office.name,
        "edition": edition(telling),
        "words": {"directions": say("Directions"), "derived": say("derived"), "care": say("Take care")},
    }  # fmt: skip
    return typeset(
        "route_notes", data, title=f"{notes.title} · {telling.trip.name}", language=telling.speech.tag,
        made_at=telling.made_at, paper=paper, theme=theme, drawings=notes.drawings,
    )  # fmt: skip


def leg_title(telling: Telling, leg: LegFigures) -> str:
    """'Ciderfold to Brack Harbour', or the stage's name where both ends are one, or one is on the way."""
    if leg.from_place and leg.to_place and leg.from_place != leg.to_place:
        return telling.speech.say(
            "{begins} to {ends}", begins=telling.place(leg.from_place), ends=telling.place(leg.to_place)
        )
    return leg.stage_name


def _who(telling: Telling, day: DayFigures, travellers: Sequence[str]) -> str:
    names = telling.some(travellers, day.number)
    return telling.speech.say("for {names}", names=names) if names else ""


def _lead(telling: Telling, leg: LegFigures, instead: str) -> str:
    if instead:
        return telling.speech.say("An alternative for the day: {stage}.", stage=leg.stage_name)
    return telling.speech.say(
        "{stage}. Set off at {departs}, arriving at about {done}.",
        stage=leg.stage_name,
        departs=telling.speech.about(leg.starts_s),
        done=telling.speech.about(leg.ends_s),
    )


def _figures(telling: Telling, leg: LegFigures) -> Iterator[Fact]:
    say, wording = telling.speech.say, telling.speech.wording
    yield Fact(say("Distance"), wording.length(leg.distance_m))
    yield Fact(say("Ascent"), wording.height(leg.ascent_m))
    yield Fact(say("Descent"), wording.height(leg.descent_m))
    yield Fact(say("Moving time"), say("about {time}", time=wording.duration(leg.moving_s)))
    if leg.highest_m is not None:
        yield Fact(say("Highest point"), wording.height(leg.highest_m))


def _care(telling: Telling, line: LegLine) -> Iterator[str]:
    """Hazards in short at the top, where they are read before setting out."""
    for point in line.points():
        if point.kind is PointKind.HAZARD:
            yield telling.speech.say(
                "{at}: {name}", at=telling.speech.wording.length(point.at_m), name=_named(point)
            )


def _named(point: LegPoint) -> str:
    return f"{point.name}. {point.note}".strip() if point.note else point.name


def _rows(telling: Telling, line: LegLine, found: Directions) -> Iterator[Row]:
    """Directions and points in the order in which they come; where both stand, the direction first."""
    rows = [(step.at_m, 0, _step(telling, step)) for step in found.steps]
    rows += [(at_m, 1, _point(telling, line, at_m, points)) for at_m, points in _together(line.points())]
    for _, _, row in sorted(rows, key=lambda each: each[:2]):
        yield row


def _step(telling: Telling, step: Step) -> Row:
    wording = telling.speech.wording
    return Row(
        number=str(step.number),
        at=wording.length(step.at_m),
        next="" if step.next_m is None else wording.away(step.next_m),
        height="" if step.height_m is None else wording.spot_height(step.height_m),
        compass=step.compass,
        says=step.says,
        derived=step.derived,
    )


def _together(points: tuple[LegPoint, ...]) -> Iterator[tuple[float, list[LegPoint]]]:
    """Points of one name at one spot: a village with water, food and a taxi is told once."""
    spots: dict[tuple[int, str], list[LegPoint]] = {}
    for point in points:
        spots.setdefault((round(point.at_m / SPOT_M), point.name), []).append(point)
    for found in spots.values():
        yield found[0].at_m, found


def _point(telling: Telling, line: LegLine, at_m: float, points: list[LegPoint]) -> Row:
    wording, word = telling.speech.wording, telling.speech.word
    height_m = position_at(line.track, at_m).height_m
    return Row(
        at=wording.length(at_m),
        height="" if height_m is None else wording.spot_height(height_m),
        kind=" · ".join(dict.fromkeys(word(POINTS[point.kind]) for point in points)),
        says=points[0].name,
        note=" ".join(dict.fromkeys(point.note for point in points if point.note)),
    )


def _note(telling: Telling, found: Directions) -> str:
    if not any(step.derived for step in found.steps):
        return ""
    return telling.speech.say(
        "Directions marked 'derived' come from the shape of the recorded line; nobody noted"
        " them on the ground,"
        " and the line knows nothing of junctions. Check the map and what you see around you."
    )


def _houses(telling: Telling, day: DayFigures, travellers: Sequence[str]) -> tuple[Lodging, ...]:
    """Where those who travel have slept and will sleep."""
    days = telling.variant.days[max(day.number - 2, 0) : day.number]
    nights = [night for each in days for night in each.nights if any(takes(night, who) for who in travellers)]
    found = (telling.catalogue.get(Lodging, night.lodging) for night in nights)
    return tuple(dict.fromkeys(house for house in found if house is not None))


def _drawings(
    telling: Telling,
    line: LegLine,
    leg: LegFigures,
    found: Directions,
    rasters: tuple[ElevationRaster, ...],
    houses: tuple[Lodging, ...],
) -> dict[str, Drawn]:
    manner = Manner(speech=telling.speech, look=BLACK, rasters=rasters)
    numbered = [(step.number, step.at_m) for step in found.steps]
    return {
        "map": leg_map(line, leg, telling.catalogue, manner, numbered, MAP_MM, houses),
        "profile": leg_profile(leg, manner, numbered, line.points(), PROFILE_MM),
    }
