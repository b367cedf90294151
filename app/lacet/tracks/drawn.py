"""A stage together with its line, and what lies along it: points, directions, surfaces, traffic.

Pure: each edit returns a new `Drawn`. Only edits without meaning raise; `stage_shape` has those that move the
line itself.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from lacet.tracks.edit import position_at
from lacet.tracks.geodesy import cumulative_m
from lacet.tracks.stretches import SAME_PLACE_M, overwritten
from lacet.tracks.track import Track
from lacet.trip.errors import LacetError
from lacet.trip.library import Cue, Place, Stage, StagePoint, StageWay, SurfaceStretch, TrafficStretch
from lacet.trip.words import Surface, Traffic, Way


class StageEditRefused(LacetError):
    """An edit of a stage that has no meaning."""


@dataclass(frozen=True, slots=True, eq=False)
class Drawn:
    """A stage and where it runs."""

    stage: Stage
    track: Track

    @property
    def length_m(self) -> float:
        return float(cumulative_m(self.track)[-1])


def replace_stage(drawn: Drawn, **fields: Any) -> Drawn:
    """The same line for a changed stage."""
    return Drawn(replace(drawn.stage, **fields), drawn.track)


def renamed(drawn: Drawn, name: str) -> Drawn:
    """The stage by another name."""
    if not name.strip():
        raise StageEditRefused("A stage needs a name.")
    return replace_stage(drawn, name=name.strip())


def with_point(drawn: Drawn, point: StagePoint) -> Drawn:
    """One point more, in its place."""
    _refuse_outside(drawn, point.along_m)
    return replace_stage(drawn, points=in_order((*drawn.stage.points, point)))


def without_point(drawn: Drawn, point: StagePoint) -> Drawn:
    """One point less."""
    return replace_stage(drawn, points=_less_one(drawn.stage.points, point))


def with_cue(drawn: Drawn, cue: Cue) -> Drawn:
    """One direction more, in its place."""
    _refuse_outside(drawn, cue.along_m)
    if not cue.says.strip():
        raise StageEditRefused("A direction says something; write what the guests do here.")
    return replace_stage(drawn, cues=in_order((*drawn.stage.cues, cue)))


def without_cue(drawn: Drawn, cue: Cue) -> Drawn:
    """One direction less."""
    return replace_stage(drawn, cues=_less_one(drawn.stage.cues, cue))


def with_surface(drawn: Drawn, way: Way, from_m: float, to_m: float, surface: Surface | None) -> Drawn:
    """Say what a stretch is made of for a way; None = nobody knows."""
    facts = _facts(drawn, way, from_m, to_m)
    made = None if surface is None else SurfaceStretch(from_m, to_m, surface)
    return with_way(drawn, replace(facts, surfaces=overwritten(facts.surfaces, from_m, to_m, made)))


def with_traffic(drawn: Drawn, way: Way, from_m: float, to_m: float, traffic: Traffic | None) -> Drawn:
    """Say how much traffic a stretch has for a way; None = nobody knows."""
    facts = _facts(drawn, way, from_m, to_m)
    made = None if traffic is None else TrafficStretch(from_m, to_m, traffic)
    return with_way(drawn, replace(facts, traffic=overwritten(facts.traffic, from_m, to_m, made)))


def with_way(drawn: Drawn, facts: StageWay) -> Drawn:
    """Say what the stage is like on a way, or that it is for that way too."""
    others = tuple(each for each in drawn.stage.ways if each.way is not facts.way)
    ordered = sorted((*others, facts), key=lambda each: list(Way).index(each.way))
    return replace_stage(drawn, ways=tuple(ordered))


def without_way(drawn: Drawn, way: Way) -> Drawn:
    """The stage is not for that way."""
    ways = tuple(each for each in drawn.stage.ways if each.way is not way)
    if not ways:
        raise StageEditRefused("A stage is for walking, for cycling or for both; it needs one of them.")
    return replace_stage(drawn, ways=ways)


def new_place(drawn: Drawn, at_m: float, place_id: str, name: str) -> Place:
    """A place where the line stands at a distance."""
    at = position_at(drawn.track, at_m)
    return Place(
        id=place_id,
        name=name,
        latitude_deg=round(at.latitude_deg, 6),
        longitude_deg=round(at.longitude_deg, 6),
        height_m=None if at.height_m is None else float(round(at.height_m)),
    )


def in_order(values: Iterable[Any]) -> tuple[Any, ...]:
    return tuple(sorted(values, key=lambda each: each.along_m))


def _less_one(values: Sequence[Any], value: Any) -> tuple[Any, ...]:
    index = values.index(value)
    return (*values[:index], *values[index + 1 :])


def _refuse_outside(drawn: Drawn, at_m: float) -> None:
    if not 0.0 <= at_m <= drawn.length_m + SAME_PLACE_M:
        raise StageEditRefused("That lies beyond the end of the line.")


def _facts(drawn: Drawn, way: Way, from_m: float, to_m: float) -> StageWay:
    facts = drawn.stage.on(way)
    if facts is None:
        raise StageEditRefused(
            "{stage} isn't for {value}; say so first.", stage=drawn.stage.name, value=way.value
        )
    if not -SAME_PLACE_M <= from_m < to_m <= drawn.length_m + SAME_PLACE_M:
        raise StageEditRefused("Choose a stretch of the line first: from one distance to another.")
    return facts
