"""Springs, huts, views and steep places: each belongs to a strand of the net, so all stages agree."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from character import Surveyor
from grid import Array
from journeys import Piece
from network import Network, Strand
from places import Place
from routing import Cell
from stages import Stage

SPRINGS = (
    "Larkspout", "Thorn Well", "Cold Trough", "Widow's Pump", "Ferny Spout", "Salter's Well",
    "Cuckoo Spring", "Hob's Trough", "Long Drink", "Slate Spout", "Otter Well", "Marigold Spring",
    "Tin Cup Spring", "Nun's Tap", "Badger Spout", "Rowan Well", "Quern Spring", "Shearers' Trough",
    "Bell Spout", "Elder Well", "Clay Pipe Spring", "Whin Well", "Curlew Spring", "Drover's Cup",
    "Moss Spout", "Stone Bowl", "Heron Well", "Smith's Trough", "Lamb Spring", "Pail Spout",
    "Oxeye Well", "Brock Spring", "Twin Spouts", "Barley Well", "Kite Spring", "Hazel Trough",
    "Pewter Well", "Hare Spout", "Saddle Spring", "Kettle Well", "Penny Spout", "Sparrow Well",
    "Warm Trough", "Gorse Spring", "Cinder Well", "Mint Spout", "Haywain Trough", "Plover Spring",
    "Lichen Well", "Boundary Spout", "Grey Mare Well", "Sorrel Spring", "Maslin Trough", "Finch Well",
    "Tansy Spout", "Yarrow Spout", "Burdock Trough", "Cartway Spring", "Lintel Well", "Mallow Spring",
    "Fennel Spout", "Anvil Well", "Wren Spring", "Barrel Trough", "Candle Well",
    "Rushy Spout", "Teasel Spring",
)  # fmt: skip
SHELTERS = (
    "Shepherd's Fold", "Windbreak Hut", "Turf House", "Crook Bothy", "Beacon Hut", "Snow Fence Hut",
    "Peat Shed", "Raven Shelter", "Lambing Hut", "Cairn House", "Long Wall Shelter", "Ash Hut",
    "Plover Hut", "Old Toll Shed", "Herd's Rest", "Lookout Shed", "Stack Hut", "Cloud Hut",
    "Kestrel Shelter", "Stone Tent", "Grouse Butt", "Bield", "Drovers' Hut",
    "Gorse Hut", "Carters' Stop", "Heather Shed", "Wether Hut", "Sundial Shelter", "Mist Hut",
)  # fmt: skip
VIEWS = {
    "rim-north": "North Rim",
    "rim-north-east": "Byre Crag",
    "rim-east": "East Rim",
    "rim-south": "South Rim",
    "rim-south-east": "Mere Step",
    "rim-south-west": "Barrow Rim",
    "range-west": "Westmost Top",
    "range-middle": "Middle Top",
    "range-bend": "The Elbow",
    "range-high": "High Seat",
    "range-north": "North Seat",
    "light-down": "Light Down",
    "gull-knap": "Gull Knap",
    "south-spur": "Haymaker's Seat",
    "north-spur": "Ash Seat",
    "usher-head": "Ushers Head",
    "brim-head": "Brim Head",
    "pans-point": "Pans Point",
}
_SPRING_EVERY_M = 3000.0
_STEEP_RATIO, _STEEP_RUN_M = 0.64, 130.0


@dataclass(frozen=True, slots=True)
class Point:
    """Something to know about, at a kilometre of a stage."""

    stage: str
    km: float
    kind: str
    name: str
    note: str


@dataclass(frozen=True, slots=True)
class Feature:
    """The same on a strand, in metres from the strand's start."""

    at_m: float
    kind: str
    name: str
    note: str


class Gazetteer:
    """All features of the net, and the services of its places."""

    def __init__(self, network: Network, places: tuple[Place, ...], surveyor: Surveyor) -> None:
        self._places = {(place.row, place.column): place for place in places}
        self._views = {network.nodes[name]: title for name, title in VIEWS.items()}
        self._features = _place_features(network)
        self._surveyor = surveyor

    def points(self, stage: Stage) -> tuple[Point, ...]:
        """Everything along the stage in order of distance."""
        found = [(0.0, self._at_node(stage.journey.pieces[0].first))]
        for piece in stage.journey.pieces:
            found += [
                (_along(piece, feature), (feature,)) for feature in self._features.get(id(piece.strand), ())
            ]
            found.append((piece.to_m, self._at_node(piece.last)))
        found += [(feature.at_m, (feature,)) for feature in self._steep_places(stage)]
        points = [
            Point(stage.id, at_m / 1000, feature.kind, feature.name, feature.note)
            for at_m, features in found
            for feature in features
        ]
        return tuple(sorted(set(points), key=lambda point: (point.km, point.kind)))

    def name_of(self, node: Cell) -> str:
        """What people call a junction, or nothing."""
        return self._places[node].name if node in self._places else self._views.get(node, "")

    def _at_node(self, node: Cell) -> tuple[Feature, ...]:
        if node in self._views:
            return (Feature(0, "viewpoint", self._views[node], "Named viewpoint; a cairn or post marks it."),)
        if node not in self._places:
            return ()
        place = self._places[node]
        served = [
            Feature(0, service, place.name, _SERVICE_NOTES[service])
            for service in ("water", "food", "shelter", "charging")
            if service in place.serves
        ]
        if place.kind == "viewpoint":
            served.append(
                Feature(0, "viewpoint", place.name, "The view is the reason to come; allow a while.")
            )
        if place.id not in ("sallow-beacon", "tern-point"):
            served.append(
                Feature(0, "taxi_pickup", place.name, "A car can wait here without blocking anyone.")
            )
        return tuple(served)

    def _steep_places(self, stage: Stage) -> list[Feature]:
        along: Array = stage.journey.distance_m
        steep = self._surveyor.path_ground_ratio(stage.journey) > _STEEP_RATIO
        edges = np.flatnonzero(np.diff(np.concatenate([[False], steep, [False]]).astype(int)))
        found = []
        for first, last in zip(edges[::2], edges[1::2] - 1, strict=True):
            run_m = float(along[last] - along[first])
            if run_m > _STEEP_RUN_M:
                note = f"Steep ground beside the path for about {round(run_m, -1):.0f} m; avoid in high wind."
                found.append(Feature(float(along[first]), "hazard", "Steep side", note))
        return found


_SERVICE_NOTES = {
    "water": "Public tap, running all year.",
    "food": "Meals or provisions in season; ask for the hours.",
    "shelter": "A roof or wall out of the wind, open at all times.",
    "charging": "Socket for e-bikes under cover; bring your own charger.",
}


_SPRING_NOTE = "Spring; usually runs until August."
_HUT_NOTE = "Stone hut, unlocked; room for eight to sit, none to sleep."


def _place_features(network: Network) -> dict[int, tuple[Feature, ...]]:
    """Springs on long ways and huts on high ones, named in the order of the net."""
    springs, shelters = iter(SPRINGS), iter(SHELTERS)
    found: dict[int, tuple[Feature, ...]] = {}
    for strand in network.strands:
        features = []
        if strand.kind in ("path", "track") and strand.length_m > _SPRING_EVERY_M:
            features.append(Feature(_lowest_third(strand), "water", _next_name(springs), _SPRING_NOTE))
        if strand.length_m > 2000 and float(strand.height_m.mean()) > 330 and strand.kind != "road":
            features.append(Feature(strand.length_m * 0.62, "shelter", _next_name(shelters), _HUT_NOTE))
        found[id(strand)] = tuple(features)
    return found


def _next_name(names: Iterator[str]) -> str:
    name = next(names, None)
    if name is None:
        raise ValueError("There are more springs or huts than names; add names to features.py.")
    return name


def _lowest_third(strand: Strand) -> float:
    """Water comes out low down, so the spring stands at the lowest point of the strand's middle part [m]."""
    count = len(strand.distance_m)
    middle = slice(count // 4, count - count // 4)
    return float(strand.distance_m[middle][int(np.argmin(strand.height_m[middle]))])


def _along(piece: Piece, feature: Feature) -> float:
    at_m = feature.at_m if piece.forward else piece.strand.length_m - feature.at_m
    return piece.from_m + at_m
