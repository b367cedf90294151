"""A stage's way through the net: the cheapest chain of strands through its nodes, by the taste it states."""

from __future__ import annotations

import heapq
import itertools
from dataclasses import dataclass

import numpy as np

from grid import Array
from network import Network, Strand
from routing import Cell

TASTES: dict[str, dict[str, float]] = {
    "wheels": {"road": 1.1, "lane": 1.0, "track": 1.2},
    "quiet-wheels": {"road": 2.2, "lane": 1.0, "track": 1.0},
    "gravel": {"road": 1.8, "lane": 1.2, "track": 0.55},
    "feet": {"road": 2.4, "lane": 1.8, "track": 1.2, "path": 1.0},
    "coast": {"road": 2.6, "lane": 2.0, "track": 1.5, "path": 1.1},
    "ridge": {"road": 2.6, "lane": 2.0, "track": 1.4, "path": 1.1},
}
AGAIN = 4.0  # walking the same ground twice within a stage


@dataclass(frozen=True, slots=True)
class Piece:
    """One strand as walked, and where it begins and ends along the stage [m]."""

    strand: Strand
    forward: bool
    from_m: float
    to_m: float

    @property
    def first(self) -> Cell:
        return self.strand.start if self.forward else self.strand.end

    @property
    def last(self) -> Cell:
        return self.strand.end if self.forward else self.strand.start


@dataclass(frozen=True, slots=True)
class Journey:
    """The pieces in order and the joined line."""

    pieces: tuple[Piece, ...]
    lat: Array
    lon: Array
    height_m: Array
    distance_m: Array

    @property
    def length_m(self) -> float:
        return float(self.distance_m[-1])


def find_journey(network: Network, stops: tuple[str, ...], taste: str) -> Journey:
    """The way through all stops in order.

    Raises
    ------
    ValueError
        if two stops are not joined by ways of that taste
    """
    chosen: list[tuple[Strand, bool]] = []
    for start, end in itertools.pairwise(stops):
        chosen += _cheapest(network, network.nodes[start], network.nodes[end], taste, [s for s, _ in chosen])
    return _joined(chosen)


def _cheapest(
    network: Network, start: Cell, end: Cell, taste: str, used: list[Strand]
) -> list[tuple[Strand, bool]]:
    exits = _exits(network)
    best: dict[Cell, float] = {start: 0.0}
    came: dict[Cell, tuple[Strand, bool]] = {}
    queue = [(0.0, start)]
    while queue:
        cost, node = heapq.heappop(queue)
        if node == end:
            return _trail(came, start, end)
        for strand, forward in exits.get(node, ()):
            factor = _dislike(strand, taste) * (AGAIN if any(strand is other for other in used) else 1.0)
            there = strand.end if forward else strand.start
            total = cost + strand.length_m * factor
            if total < best.get(there, np.inf):
                best[there], came[there] = total, (strand, forward)
                heapq.heappush(queue, (total, there))
    raise ValueError(f"Cells {start} and {end} are not joined for '{taste}'; build a way between them.")


def _exits(network: Network) -> dict[Cell, list[tuple[Strand, bool]]]:
    exits: dict[Cell, list[tuple[Strand, bool]]] = {}
    for strand in network.strands:
        exits.setdefault(strand.start, []).append((strand, True))
        exits.setdefault(strand.end, []).append((strand, False))
    return exits


def _dislike(strand: Strand, taste: str) -> float:
    factor = TASTES[taste].get(strand.kind, np.inf)
    return factor * 0.4 if taste in strand.follow else factor


def _trail(came: dict[Cell, tuple[Strand, bool]], start: Cell, end: Cell) -> list[tuple[Strand, bool]]:
    steps = []
    node = end
    while node != start:
        strand, forward = came[node]
        steps.append((strand, forward))
        node = strand.start if forward else strand.end
    return steps[::-1]


def _joined(chosen: list[tuple[Strand, bool]]) -> Journey:
    pieces, lats, lons, heights, distances = [], [], [], [], []
    travelled_m = 0.0
    for number, (strand, forward) in enumerate(chosen):
        skip = 0 if number == 0 else 1  # the joint itself belongs to the piece before
        turn = slice(None) if forward else slice(None, None, -1)
        along = strand.distance_m if forward else strand.length_m - strand.distance_m[::-1]
        lats.append(strand.lat[turn][skip:])
        lons.append(strand.lon[turn][skip:])
        heights.append(strand.height_m[turn][skip:])
        distances.append(travelled_m + along[skip:])
        pieces.append(Piece(strand, forward, travelled_m, travelled_m + strand.length_m))
        travelled_m += strand.length_m
    parts = (np.concatenate(part) for part in (lats, lons, heights, distances))
    return Journey(tuple(pieces), *parts)


def ascent_m(height_m: Array, threshold_m: float = 2.0) -> float:
    """Climb summed over rises of at least `threshold_m`, so that ripples do not count [m]."""
    total, low, high = 0.0, height_m[0], height_m[0]
    for height in height_m[1:]:
        if height > high:
            high = height
        elif high - height >= threshold_m:
            total, low, high = total + max(0.0, high - low) * (high - low >= threshold_m), height, height
        if height < low and high == low:
            low = high = height
    return float(total + (high - low if high - low >= threshold_m else 0.0))
