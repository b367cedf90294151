"""Numbered directions, worded from the turn the line really makes: left is left because the angle says so.

A junction is known by the same landmark whichever stage comes by, and from whichever side.
"""

from __future__ import annotations

import itertools
from collections import Counter
from dataclasses import dataclass

import numpy as np

from features import Gazetteer
from grid import Array
from journeys import Journey, Piece
from network import Network, Strand
from routing import Cell
from stages import Stage

LOOK_M = 45.0
NEXT_CUE_M = 120.0
FARMED_UP_TO_M = 450.0  # no barn or gate above; only stones and stiles
COMPASS = ("north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west")
LANDMARKS = {
    "path": (
        "the stone stile", "the cairn", "the leaning post", "the gap in the wall",
        "the ladder stile", "the kissing gate", "the split boulder", "the thorn tree",
        "the sheepfold corner", "the footbridge", "the marker stone",
    ),
    "track": (
        "the field gate", "the hay barn", "the cattle grid", "the ford", "the milk stand",
        "the quarry mouth", "the sheep pens", "the gravel heap",
    ),
    "lane": (
        "the chapel", "the lone house", "the stone trough", "the letter box", "the wayside bench",
        "the lime trees", "the low bridge", "the orchard gate", "the wheelwright's shed",
        "the churn stand",
    ),
    "road": (
        "the signpost", "the milestone", "the smithy", "the bus shelter", "the white railings",
        "the weighbridge",
    ),
}  # fmt: skip
WAYS_ON = {"road": "the road", "lane": "the walled lane", "track": "the gravel track", "path": "the footpath"}


@dataclass(frozen=True, slots=True)
class Cue:
    """One direction; `km` counts from the stage's own start, also on the way back."""

    stage: str
    direction: str
    number: int
    km: float
    text: str


class Guide:
    """Words directions on one net."""

    def __init__(self, network: Network, gazetteer: Gazetteer) -> None:
        self._gazetteer = gazetteer
        ends = [strand.start for strand in network.strands] + [strand.end for strand in network.strands]
        self._branches = Counter(ends)
        self._landmarks = _landmarks(network)

    def cues(self, stage: Stage) -> tuple[Cue, ...]:
        """Directions out and back, each numbered from 1."""
        out = self._worded(stage, "out", stage.journey)
        return out + self._worded(stage, "back", reversed_journey(stage.journey))

    def _worded(self, stage: Stage, direction: str, journey: Journey) -> tuple[Cue, ...]:
        pieces = journey.pieces
        told = [(0.0, self._departure(journey))]
        for before, after in itertools.pairwise(pieces):
            text = self._junction(journey, before, after)
            far_enough = (
                after.from_m - told[-1][0] > NEXT_CUE_M and journey.length_m - after.from_m > NEXT_CUE_M
            )
            if text and far_enough:
                told.append((after.from_m, text))
        arrival = f"Arrive at {self._gazetteer.name_of(pieces[-1].last)}."
        told.append((journey.length_m, arrival))

        def own_m(at_m: float) -> float:
            return at_m if direction == "out" else journey.length_m - at_m

        return tuple(
            Cue(stage.id, direction, number, own_m(at_m) / 1000, text)
            for number, (at_m, text) in enumerate(told, start=1)
        )

    def _departure(self, journey: Journey) -> str:
        heading = bearing(journey, 0.0, 150.0)
        point = COMPASS[round(heading / 45) % 8]
        name = self._gazetteer.name_of(journey.pieces[0].first)
        return f"Leave {name} heading {point} on {_way_on(journey.pieces[0].strand)}."

    def _junction(self, journey: Journey, before: Piece, after: Piece) -> str:
        """One sentence for a junction; nothing where the way is plain."""
        node = after.first
        turn = turn_degrees(journey, after.from_m)
        way = _way_on(after.strand)
        same = way == _way_on(before.strand)
        if after.strand is before.strand and after.forward != before.forward:
            return f"{self._where(node)} turn round and go back the way you came."
        if abs(turn) < 25:
            if same:
                return ""
            return f"{self._where(node)} go straight on, now on {way}."
        side = "left" if turn < 0 else "right"
        if self._branches[node] < 3 and same:
            return f"{self._where(node)} follow {way} round to the {side}."
        onward = f", staying on {way}" if same else f" on to {way}"
        if abs(turn) < 60:
            return f"{self._where(node)} keep {side}{onward}."
        if abs(turn) < 135:
            return f"{self._where(node)} turn {side}{onward}."
        return f"{self._where(node)} turn sharp {side}{onward}, almost back the way you came."

    def _where(self, node: Cell) -> str:
        name = self._gazetteer.name_of(node)
        return f"At {name}" if name else f"At {self._landmarks[node]}"


def bearing(journey: Journey, from_m: float, to_m: float) -> float:
    """Compass bearing from one point of the line to another [degree, 0..360)."""
    lat, lon = (
        np.interp([from_m, to_m], journey.distance_m, values) for values in (journey.lat, journey.lon)
    )
    east = (lon[1] - lon[0]) * np.cos(np.radians(lat.mean()))
    return float(np.degrees(np.arctan2(east, lat[1] - lat[0])) % 360)


def turn_degrees(journey: Journey, at_m: float) -> float:
    """How far the line turns at a point: positive to the right, within -180..180 [degree]."""
    before = bearing(journey, max(0.0, at_m - LOOK_M), at_m)
    after = bearing(journey, at_m, min(journey.length_m, at_m + LOOK_M))
    return (after - before + 180) % 360 - 180


def reversed_journey(journey: Journey) -> Journey:
    """The same way walked back."""
    length = journey.length_m
    pieces = tuple(
        Piece(piece.strand, not piece.forward, length - piece.to_m, length - piece.from_m)
        for piece in reversed(journey.pieces)
    )

    def turned(values: Array) -> Array:
        return values[::-1]

    return Journey(
        pieces,
        turned(journey.lat),
        turned(journey.lon),
        turned(journey.height_m),
        length - turned(journey.distance_m),
    )


def _way_on(strand: Strand) -> str:
    if strand.kind == "path" and "coast" in strand.follow:
        return "the shore path"
    if strand.kind == "path" and "ridge" in strand.follow:
        return "the ridge path"
    return WAYS_ON[strand.kind]


def _landmarks(network: Network) -> dict[Cell, str]:
    """One landmark a junction, taken in turn from those that suit the least way meeting there."""
    order = ("path", "track", "lane", "road")
    kinds: dict[Cell, set[str]] = {}
    for strand in network.strands:
        for node, height_m in ((strand.start, strand.height_m[0]), (strand.end, strand.height_m[-1])):
            kinds.setdefault(node, set()).add("path" if height_m > FARMED_UP_TO_M else strand.kind)
    counts: Counter[str] = Counter()
    found = {}
    for node in sorted(kinds):
        kind = max(kinds[node], key=order.index)
        names = LANDMARKS[kind]
        found[node] = names[counts[kind] % len(names)]
        counts[kind] += 1
    return found
