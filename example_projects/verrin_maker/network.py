"""The net of ways: built cell by cell, then cut at junctions into strands, each drawn as one smooth line.

A strand runs between two nodes (places, waypoints, junctions) and is drawn once, so two stages that
share ground share it to the metre.
"""

from __future__ import annotations

import itertools
import tomllib
from collections import defaultdict
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from grid import Array
from lines import STEEPEST_RATIO, Line, drawn, graded
from places import Place, best_cell, ridgeness, site_scores
from routing import Builder, Cell
from terrain import Terrain

BEST_FIRST = ("road", "lane", "track", "path")


@dataclass(frozen=True, slots=True)
class Strand:
    """One unbranched piece of the net; arrays run from `start` to `end`."""

    start: Cell
    end: Cell
    kind: str
    follow: frozenset[str]
    lat: Array
    lon: Array
    height_m: Array
    distance_m: Array

    @property
    def length_m(self) -> float:
        return float(self.distance_m[-1])


@dataclass(frozen=True, slots=True)
class Network:
    nodes: dict[str, Cell]
    strands: tuple[Strand, ...]


def build_network(path: Path, terrain: Terrain, places: tuple[Place, ...]) -> Network:
    """Build all ways of the file in order and draw them."""
    plan = tomllib.loads(path.read_text(encoding="utf-8"))
    nodes = {place.id: (place.row, place.column) for place in places} | _waypoints(plan, terrain)
    builder = Builder(terrain)
    steps: dict[tuple[Cell, Cell], dict[str, set[str]]] = defaultdict(lambda: defaultdict(set))
    for way in plan["way"]:
        for start, end in way["between"]:
            follow = way.get("follow", "")
            cells = builder.build(way["kind"], follow, nodes[start], nodes[end])
            for first, second in itertools.pairwise(cells):
                steps[min(first, second), max(first, second)][way["kind"]].add(follow)
    return Network(nodes, _levelled(_strands(terrain, set(nodes.values()), steps)))


def _waypoints(plan: dict[str, Any], terrain: Terrain) -> dict[str, Cell]:
    scores = site_scores(terrain)
    scores["top"] = scores["top"] + ridgeness(terrain) / 40
    return {
        name: best_cell(terrain, scores[point["site"]], (point["near"][0], point["near"][1]))
        for name, point in plan["waypoints"].items()
    }


def _strands(
    terrain: Terrain, named: set[Cell], steps: dict[tuple[Cell, Cell], dict[str, set[str]]]
) -> tuple[Strand, ...]:
    kinds = {step: min(users, key=BEST_FIRST.index) for step, users in steps.items()}
    beside: dict[Cell, list[Cell]] = defaultdict(list)
    for first, second in steps:
        beside[first].append(second)
        beside[second].append(first)

    def is_node(cell: Cell) -> bool:
        around = beside[cell]
        return cell in named or len(around) != 2 or len({kinds[_step(cell, other)] for other in around}) > 1

    strands: list[Strand] = []
    walked: set[tuple[Cell, Cell]] = set()
    for node in sorted(cell for cell in beside if is_node(cell)):
        for neighbour in sorted(beside[node]):
            if _step(node, neighbour) in walked:
                continue
            cells = [node, neighbour]
            while not is_node(cells[-1]):
                cells.append(next(cell for cell in beside[cells[-1]] if cell != cells[-2]))
            walked.update(_step(a, b) for a, b in itertools.pairwise(cells))
            strands.append(_strand(terrain, cells, kinds[_step(node, neighbour)], steps))
    return tuple(strands)


def _strand(
    terrain: Terrain, cells: list[Cell], kind: str, steps: dict[tuple[Cell, Cell], dict[str, set[str]]]
) -> Strand:
    follow = frozenset().union(*(steps[_step(cells[0], cells[1])].values()))
    line = drawn(terrain, cells, kind)
    return Strand(cells[0], cells[-1], kind, follow, line.lat, line.lon, line.height_m, line.distance_m)


def _levelled(strands: tuple[Strand, ...]) -> tuple[Strand, ...]:
    """The same strands with gentle gradients; junctions come first, so that strands agree there."""
    junction_m = _junction_heights(strands)
    return tuple(
        replace(
            strand,
            height_m=graded(
                Line(strand.lat, strand.lon, strand.height_m, strand.distance_m),
                strand.kind,
                junction_m[strand.start],
                junction_m[strand.end],
            ),
        )
        for strand in strands
    )


def _junction_heights(strands: tuple[Strand, ...]) -> dict[Cell, float]:
    """Node heights whose differences every strand can climb: the mean of two relaxed bounds."""
    upper = {strand.start: float(strand.height_m[0]) for strand in strands}
    upper |= {strand.end: float(strand.height_m[-1]) for strand in strands}
    lower = dict(upper)
    changed = True
    while changed:
        changed = False
        for strand in strands:
            climb_m = STEEPEST_RATIO[strand.kind] * strand.length_m
            for here, there in ((strand.start, strand.end), (strand.end, strand.start)):
                if upper[here] > upper[there] + climb_m + 1e-9:
                    upper[here], changed = upper[there] + climb_m, True
                if lower[here] < lower[there] - climb_m - 1e-9:
                    lower[here], changed = lower[there] - climb_m, True
    return {node: (upper[node] + lower[node]) / 2 for node in upper}


def _step(first: Cell, second: Cell) -> tuple[Cell, Cell]:
    return min(first, second), max(first, second)
