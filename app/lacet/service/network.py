"""Which places connect, by which ways, within one day for a party; and where there is no way on.

Each stage is put on a day by itself, in each way and direction, and assessed like any other day: no figure
and no limit is worked out here.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from lacet.assess import assess
from lacet.inputs import Inputs
from lacet.trip.catalogue import Catalogue
from lacet.trip.finding import Finding, Level
from lacet.trip.house_rules import HouseRules
from lacet.trip.library import Place, Ref, Stage
from lacet.trip.party import Party
from lacet.trip.trip import Day, Leg, Trip, Variant
from lacet.trip.words import Way

# What a day by itself can be judged by; the rest needs lodgings, dinners and dates.
JUDGED_BY = frozenset(
    {"day_within_limits", "heights_known", "way_described", "ground_wished", "busy_road", "battery", "minors"}
)
Verdict = Literal["in a day", "long", "too much", "not proved"]
Step = Callable[[int, int], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Connection:
    """One stage, one way, one direction. Lengths and climbs [m], time [s]; None = unknown."""

    id: str
    stage_id: str
    name: str
    from_place: str
    to_place: str
    from_name: str
    to_name: str
    way: Way
    backward: bool
    distance_m: float | None
    ascent_m: float | None
    moving_s: float | None
    verdict: Verdict
    says: str

    @property
    def open(self) -> bool:
        """Whether the party can go it within a day, for all that is known."""
        return self.verdict in ("in a day", "long")


@dataclass(frozen=True, slots=True, kw_only=True)
class Junction:
    """A place with the places one can go on to within a day."""

    id: str
    name: str
    at: tuple[float, float]
    on_foot: tuple[str, ...] = ()
    by_bike: tuple[str, ...] = ()

    @property
    def reaches(self) -> frozenset[str]:
        return frozenset(self.on_foot) | frozenset(self.by_bike)

    @property
    def says(self) -> str:
        """What is to be said about it: nothing where there are two ways on or more."""
        if not self.reaches:
            return "no way within a day"
        return "dead end" if len(self.reaches) == 1 else ""


@dataclass(frozen=True, slots=True)
class Network:
    """Connections and places as one party finds them."""

    connections: tuple[Connection, ...] = ()
    junctions: tuple[Junction, ...] = field(default=())


def network(
    catalogue: Catalogue, rules: HouseRules, party: Party, bike: Ref | None, as_of: date, step: Step
) -> Network:
    """Assess every stage for a party.

    Parameters
    ----------
    bike
        What is ridden; None = the guests' own bikes.
    step
        Told (stages done, stages in all); what it raises ends the work.
    """
    stages = catalogue.current(Stage)
    found: list[Connection] = []
    for number, stage in enumerate(stages):
        step(number, len(stages))
        found += _connections(stage, catalogue, rules, party, bike, as_of)
    return Network(tuple(found), _junctions(catalogue, found))


def _connections(
    stage: Stage, catalogue: Catalogue, rules: HouseRules, party: Party, bike: Ref | None, as_of: date
) -> Iterator[Connection]:
    round_trip = stage.from_place == stage.to_place
    for facts in stage.ways:
        for backward in (False,) if round_trip else (False, True):
            ends = (stage.from_place, stage.to_place)
            first, last = reversed(ends) if backward else ends
            leg = Leg(
                id="leg",
                stage=Ref(stage.id, stage.version),
                way=facts.way,
                backward=backward,
                bike=bike if facts.way is Way.CYCLING else None,
            )
            day = Variant(id="v", name="", days=(Day(id="d", items=(leg,)),))
            trip = Trip(id="network", name="", party=party, variants=(day,))
            found = assess(Inputs(trip, day.id, catalogue, rules, as_of=as_of))
            judged = [each for each in found.findings if each.check in JUDGED_BY]
            group = found.figures.days[0].group
            leg_figures = group.legs[0] if group is not None and group.legs else None
            verdict, says = _verdict(judged, leg_figures is not None)
            yield Connection(
                id=f"{stage.id} {facts.way} {backward}",
                stage_id=stage.id,
                name=stage.name,
                from_place=first,
                to_place=last,
                from_name=catalogue.place_name(first),
                to_name=catalogue.place_name(last),
                way=facts.way,
                backward=backward,
                distance_m=None if leg_figures is None else leg_figures.distance_m,
                ascent_m=None if leg_figures is None else leg_figures.ascent_m,
                moving_s=None if leg_figures is None else leg_figures.moving_s,
                verdict=verdict,
                says=says,
            )


def _verdict(judged: list[Finding], has_line: bool) -> tuple[Verdict, str]:
    stops = [each for each in judged if each.level is Level.STOP and not each.unknown]
    if stops:
        return "too much", str(stops[0].says)
    unknown = [each for each in judged if each.unknown]
    if unknown or not has_line:
        return "not proved", str(unknown[0].says) if unknown else "It has no line, so nobody can tell."
    warnings = [each for each in judged if each.level is Level.WARN]
    return ("long", str(warnings[0].says)) if warnings else ("in a day", "")


def _junctions(catalogue: Catalogue, found: list[Connection]) -> tuple[Junction, ...]:
    onward: dict[tuple[str, Way], dict[str, None]] = {}
    for each in found:
        if each.open and each.from_place != each.to_place:
            onward.setdefault((each.from_place, each.way), {})[each.to_name] = None
    return tuple(
        Junction(
            id=place.id,
            name=place.name,
            at=(place.latitude_deg, place.longitude_deg),
            on_foot=tuple(sorted(onward.get((place.id, Way.WALKING), {}))),
            by_bike=tuple(sorted(onward.get((place.id, Way.CYCLING), {}))),
        )
        for place in catalogue.current(Place)
    )
