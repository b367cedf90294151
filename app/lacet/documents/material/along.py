"""What is good to know along a group's way: water, food, hazards, traffic, telephone, closures."""

from collections.abc import Iterator, Sequence

from lacet.days.seasons import season
from lacet.documents.material.telling import Telling
from lacet.figures.leg_line import LegLine, leg_line
from lacet.figures.values import DayFigures, GroupFigures
from lacet.language import marked
from lacet.trip.errors import LacetError
from lacet.trip.library import Closure
from lacet.trip.words import PointKind, Signal, Traffic

AT_THE_START_M = 100.0
ALONG = {
    PointKind.WATER: marked("Water at {where}."),
    PointKind.FOOD: marked("Food at {where}."),
    PointKind.SHELTER: marked("Shelter at {where}."),
    PointKind.CHARGING: marked("Charging at {where}."),
}


def good_to_know(telling: Telling, day: DayFigures, group: GroupFigures) -> Iterator[str]:
    """Sentences, the ones that matter most first."""
    lines = _lines(telling, group)
    yield from _hazards(telling, lines)
    yield from _closures(telling, day, lines)
    yield from _traffic(telling, lines)
    if any(line.stage.signal is Signal.NONE for _, line in lines):
        yield telling.speech.say("No mobile signal on parts of the route.")
    elif any(line.stage.signal is Signal.PATCHY for _, line in lines):
        yield telling.speech.say("Mobile signal is patchy.")
    yield from _points(telling, lines)


def pickups(telling: Telling, group: GroupFigures) -> tuple[str, ...]:
    """Where a taxi can stop along the way, with the distance."""
    return _where(telling, _lines(telling, group), PointKind.TAXI_PICKUP)


def _lines(telling: Telling, group: GroupFigures) -> list[tuple[float, LegLine]]:
    """Each leg's line with the distance walked before it [m]."""
    found, before_m = [], 0.0
    for leg in group.legs:
        line = leg_line(telling.catalogue, leg.leg)
        if line is not None:
            found.append((before_m, line))
        before_m += leg.distance_m
    return found


def _hazards(telling: Telling, lines: Sequence[tuple[float, LegLine]]) -> Iterator[str]:
    for before_m, line in lines:
        for point in line.points():
            if point.kind is PointKind.HAZARD:
                at = telling.speech.wording.length(before_m + point.at_m)
                said = telling.speech.say("Take care at {at}: {name}.", at=at, name=point.name)
                yield f"{said} {point.note}".strip()


def _closures(telling: Telling, day: DayFigures, lines: Sequence[tuple[float, LegLine]]) -> Iterator[str]:
    for _, line in lines:
        for closure in line.stage.closures:
            if closure.says and _holds(closure, day):
                yield closure.says


def _holds(closure: Closure, day: DayFigures) -> bool:
    """Whether it holds that day; without a date every closure is told."""
    if day.on is None:
        return True
    try:
        return season(closure.season).covers(day.on)
    except LacetError:
        return True


def _traffic(telling: Telling, lines: Sequence[tuple[float, LegLine]]) -> Iterator[str]:
    busy_m = 0.0
    for _, line in lines:
        facts = line.stage.on(line.leg.way)
        for stretch in facts.traffic if facts is not None else ():
            if stretch.traffic is Traffic.BUSY:
                inside = min(stretch.to_m, line.end_m) - max(stretch.from_m, line.begin_m)
                busy_m += max(inside, 0.0)
    if busy_m >= 100.0:
        yield telling.speech.say("{length} on a busy road.", length=telling.speech.wording.length(busy_m))


def _points(telling: Telling, lines: Sequence[tuple[float, LegLine]]) -> Iterator[str]:
    for kind, pattern in ALONG.items():
        where = _where(telling, lines, kind)
        if where:
            yield telling.speech.say(pattern, where=telling.speech.listed(where))


def _where(telling: Telling, lines: Sequence[tuple[float, LegLine]], kind: PointKind) -> tuple[str, ...]:
    """'Oster (7.2 km)', each name once."""
    found: dict[str, str] = {}
    for before_m, line in lines:
        for point in line.points():
            if point.kind is kind:
                at_m = before_m + point.at_m
                at = f" ({telling.speech.wording.length(at_m)})" if at_m >= AT_THE_START_M else ""
                found.setdefault(point.name, f"{point.name}{at}")
    return tuple(found.values())
