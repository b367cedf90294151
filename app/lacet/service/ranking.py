"""What can come next from where the party stands: the order of the shelf.

First what begins (or, backwards, ends) at the place, then what needs a transfer, nearest first.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

from lacet.store import StageFilter, StageRow, box_around
from lacet.tracks.geodesy import distance_m
from lacet.trip.catalogue import Catalogue
from lacet.trip.words import Way
from lacet.wording import Wording

# How far around a place is looked for what starts there: little at first, then ever more [m].
RADII_M = (10e3, 40e3, 160e3, 640e3, 2560e3)
MOST_WITHOUT_PLACE = 200

Ask: TypeAlias = Callable[[StageFilter], Sequence[StageRow]]


@dataclass(frozen=True, slots=True)
class ShelfStage:
    """One stage as the shelf offers it, on one way in one direction; `away_m` is the transfer to it."""

    row: StageRow
    way: Way
    backward: bool
    away_m: float

    @property
    def continues(self) -> bool:
        return self.away_m == 0.0

    @property
    def title(self) -> str:
        if self.row.from_place == self.row.to_place:
            return self.row.name
        ends = (self.row.from_name, self.row.to_name)
        return " → ".join(reversed(ends) if self.backward else ends)


def continuing(
    ask: Ask,
    chosen: StageFilter,
    place_id: str | None,
    catalogue: Catalogue,
    ways: Sequence[Way] = tuple(Way),
) -> list[ShelfStage]:
    """What a filter lets through that begins or ends at the place, in the order of the shelf.

    Without a place everything continues: the first by name.
    """
    if place_id is None or catalogue.place(place_id) is None:
        return ranked(ask(replace(chosen, most=MOST_WITHOUT_PLACE)), None, catalogue, ways)[0]
    return ranked(ask(replace(chosen, at_place=place_id)), place_id, catalogue, ways)[0]


def with_transfer(
    ask: Ask,
    chosen: StageFilter,
    place_id: str | None,
    catalogue: Catalogue,
    ways: Sequence[Way] = tuple(Way),
    *,
    most: int,
) -> list[ShelfStage]:
    """The nearest of what a filter lets through that starts elsewhere; none without a place.

    The library is asked for what starts within a circle, and again within a larger one until there is enough.
    """
    here = catalogue.place(place_id) if place_id else None
    if here is None:
        return []
    for radius_m in RADII_M:
        box = box_around(here.latitude_deg, here.longitude_deg, radius_m)
        _, far = ranked(ask(replace(chosen, starts_in=box)), place_id, catalogue, ways)
        # The corners of the box lie farther off than what may have been missed.
        if len(far) >= most and far[most - 1].away_m <= radius_m:
            return far[:most]
    return ranked(ask(chosen), place_id, catalogue, ways)[1][:most]


def ranked(
    rows: Sequence[StageRow], place_id: str | None, catalogue: Catalogue, ways: Sequence[Way] = tuple(Way)
) -> tuple[list[ShelfStage], list[ShelfStage]]:
    """(what continues from the place, what needs a transfer), each in the order of the shelf.

    Without a place everything continues, by name.
    """
    near: list[ShelfStage] = []
    far: list[ShelfStage] = []
    away = _Distances(catalogue, place_id)
    for row in rows:
        for way in row.ways:
            if way not in ways:
                continue
            for backward in _directions(row, place_id):
                start = row.to_place if backward else row.from_place
                offered = ShelfStage(row, way, backward, away.to(start))
                (near if offered.continues else far).append(offered)
    if place_id is not None:
        near.sort(key=lambda each: (each.way is not Way.WALKING, each.row.distance_m or 0.0))
    far.sort(key=lambda each: (each.away_m, each.row.name))
    return near, far


def _directions(row: StageRow, place_id: str | None) -> tuple[bool, ...]:
    """Backwards is offered only to those who stand at the far end."""
    if row.from_place != row.to_place and row.to_place == place_id:
        return (True,)
    return (False,)


class _Distances:
    """Distance from one place to others, each reckoned once."""

    def __init__(self, catalogue: Catalogue, place_id: str | None) -> None:
        self._catalogue = catalogue
        self._here = catalogue.place(place_id) if place_id else None
        self._known: dict[str, float] = {} if place_id is None else {place_id: 0.0}

    def to(self, place_id: str) -> float:
        if self._here is None:
            return 0.0
        if place_id not in self._known:
            there = self._catalogue.place(place_id)
            here = (self._here.latitude_deg, self._here.longitude_deg)
            self._known[place_id] = (
                float("inf") if there is None else distance_m(here, (there.latitude_deg, there.longitude_deg))
            )
        return self._known[place_id]


def stage_figures(offered: ShelfStage, wording: Wording) -> str:
    """'13.6 km  ↑ 540 m'; climb of the direction that is offered."""
    row = offered.row
    climb = row.descent_m if offered.backward else row.ascent_m
    return f"{wording.length(row.distance_m)}  ↑ {wording.height(climb)}"
