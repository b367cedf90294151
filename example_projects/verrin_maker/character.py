"""What a stage is like underfoot, measured on its line: surface, traffic, footing, grade and the rest.

The limits here are the maker's own, common practice without a source; the program that reads the
files judges anew.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import gaussian_filter1d, maximum_filter1d

from grid import METRES_PER_DEGREE, Array, bilinear
from journeys import Journey, ascent_m
from places import Place, steepness
from stages import Stage
from terrain import Terrain

Words = NDArray[np.str_]
SHORTEST_STRETCH_M = 300.0
BUSY_NEAR_TOWN_M = 2600.0
SIGNAL_REACH_M = 4500.0


@dataclass(frozen=True, slots=True)
class Stretch:
    """From one kilometre to another, one word holds."""

    from_km: float
    to_km: float
    word: str

    def __str__(self) -> str:
        return f"{self.from_km:.1f}-{self.to_km:.1f} {self.word}"


@dataclass(frozen=True, slots=True)
class Character:
    surface: tuple[Stretch, ...]
    traffic: tuple[Stretch, ...]
    footing: dict[str, str]
    exposure: dict[str, str]
    grade: dict[str, str]
    signal: str
    snow: str
    ascent_m: float
    descent_m: float


class Surveyor:
    """Measures stages on one terrain among one set of places."""

    def __init__(self, terrain: Terrain, places: tuple[Place, ...]) -> None:
        self._terrain = terrain
        self._steepness = steepness(terrain)
        rows, columns = (
            np.array(part, dtype=float) for part in zip(*[(p.row, p.column) for p in places], strict=True)
        )
        self._lat, self._lon = terrain.grid.position(rows, columns)
        self._town = np.array([place.kind == "town" for place in places])
        self._masts = np.array([place.kind in ("town", "village", "harbour", "airfield") for place in places])

    def survey(self, stage: Stage) -> Character:
        journey = stage.journey
        kinds = kinds_along(journey)
        surface = self._surface(journey, kinds)
        traffic = self._traffic(journey, kinds)
        ways = ("walking", "cycling") if stage.ways == "both" else (stage.ways,)
        footing = {way: _footing(way, surface, journey) for way in ways}
        exposure = {way: self._exposure(journey) for way in ways}
        up, down = ascent_m(journey.height_m), ascent_m(journey.height_m[::-1])
        return Character(
            surface,
            traffic,
            footing,
            exposure,
            {way: _grade(way, journey.length_m / 1000, up, footing[way], exposure[way]) for way in ways},
            self._signal(journey),
            _snow(float(journey.height_m.max())),
            up,
            down,
        )

    def ground_ratio(self, journey: Journey) -> Array:
        """How steep the hillside is beside each point of the line, rise over run."""
        row, column = self._terrain.grid.fraction(journey.lat, journey.lon)
        return bilinear(self._steepness, row, column)

    def path_ground_ratio(self, journey: Journey) -> Array:
        """The same, counted on paths only: a road has its wall."""
        return np.where(kinds_along(journey) == "path", self.ground_ratio(journey), 0.0)

    def _surface(self, journey: Journey, kinds: Words) -> tuple[Stretch, ...]:
        gradient = np.abs(np.gradient(journey.height_m, journey.distance_m))
        gradient = gaussian_filter1d(gradient, 10)
        rocky = (self.ground_ratio(journey) > 0.62) | (journey.height_m > 930)
        word = np.where(kinds == "path", np.where(rocky, "rock", "path"), "asphalt")
        gravel = np.where(gradient > 0.075, "loose_gravel", "compacted_gravel")
        return stretches(journey, np.where(kinds == "track", gravel, word))

    def _traffic(self, journey: Journey, kinds: Words) -> tuple[Stretch, ...]:
        town_m = self._nearest_m(journey, self._town)
        road = np.where(town_m < BUSY_NEAR_TOWN_M, "busy", "moderate")
        return stretches(journey, np.where(kinds == "road", road, np.where(kinds == "lane", "quiet", "none")))

    def _exposure(self, journey: Journey) -> str:
        beside = self.path_ground_ratio(journey)
        step_m = journey.length_m / len(beside)
        if np.sum(beside > 0.55) * step_m > 750:
            return "exposed"
        return "some" if np.sum(beside > 0.48) * step_m > 300 else "none"

    def _signal(self, journey: Journey) -> str:
        reached = float(np.mean(self._nearest_m(journey, self._masts) < SIGNAL_REACH_M))
        return "good" if reached > 0.85 else "patchy" if reached > 0.4 else "none"

    def _nearest_m(self, journey: Journey, which: NDArray[np.bool_]) -> Array:
        north = (journey.lat[:, None] - self._lat[None, which]) * METRES_PER_DEGREE
        shrink = np.cos(np.radians(journey.lat))[:, None]
        east = (journey.lon[:, None] - self._lon[None, which]) * METRES_PER_DEGREE * shrink
        return np.asarray(np.hypot(north, east).min(axis=1))


def kinds_along(journey: Journey) -> Words:
    """The kind of way at each point of the line."""
    kinds = np.empty(len(journey.distance_m), dtype="<U5")
    for piece in journey.pieces:
        kinds[(journey.distance_m >= piece.from_m) & (journey.distance_m <= piece.to_m + 1e-6)] = (
            piece.strand.kind
        )
    return kinds


def stretches(journey: Journey, words: Words) -> tuple[Stretch, ...]:
    """Runs of the same word; a run too short to tell joins the one before it."""
    along = journey.distance_m
    starts = [0, *(np.flatnonzero(words[1:] != words[:-1]) + 1).tolist()]
    runs: list[tuple[float, str]] = []
    for number, start in enumerate(starts):
        end = starts[number + 1] if number + 1 < len(starts) else len(along) - 1
        too_short = along[end] - along[start] < SHORTEST_STRETCH_M
        if runs and (too_short or runs[-1][1] == str(words[start])):
            continue
        runs.append((float(along[start]), str(words[start])))
    ends = [start for start, _ in runs[1:]] + [float(along[-1])]
    merged: list[Stretch] = []
    for (start_m, word), end_m in zip(runs, ends, strict=True):
        if merged and merged[-1].word == word:
            merged[-1] = Stretch(merged[-1].from_km, round(end_m / 1000, 1), word)
        else:
            merged.append(Stretch(round(start_m / 1000, 1), round(end_m / 1000, 1), word))
    return tuple(merged)


def _share(surface: tuple[Stretch, ...], word: str, journey: Journey) -> float:
    return sum(s.to_km - s.from_km for s in surface if s.word == word) / (journey.length_m / 1000)


def _footing(way: str, surface: tuple[Stretch, ...], journey: Journey) -> str:
    loose, rock = _share(surface, "loose_gravel", journey), _share(surface, "rock", journey)
    if way == "cycling":
        return "uneven" if loose > 0.15 else "even"
    if rock > 0.15:
        return "rocky"
    gradient = np.abs(np.gradient(journey.height_m, journey.distance_m))
    steep = float(np.mean(maximum_filter1d(gradient, 3) > 0.24))
    if rock > 0.04 or steep > 0.12:
        return "rough"
    return "uneven" if _share(surface, "path", journey) + loose > 0.3 else "even"


def _grade(way: str, length_km: float, climb_m: float, footing: str, exposure: str) -> str:
    effort = length_km + climb_m / 100 if way == "walking" else length_km / 2.5 + climb_m / 60
    if way == "cycling":
        effort *= 1.15 if footing == "uneven" else 1.0
    level = 0 if effort < 10 else 1 if effort < 22 else 2
    if exposure == "exposed" or footing == "rocky":
        level = max(level, 1)
    return ("easy", "moderate", "demanding")[level]


def _snow(highest_m: float) -> str:
    if highest_m > 850:
        return "12-01..03-31"
    return "01-05..02-28" if highest_m > 600 else ""
