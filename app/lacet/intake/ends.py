"""Which place a line begins or ends at: the nearest known one within reach, else a new one."""

import re
import unicodedata
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import product

import numpy as np

from lacet.tracks.geodesy import earth_centred_m, plane_m
from lacet.trip.library import Place

WITHIN_M = 500.0
_NOT_IN_ID = re.compile(r"[^a-z0-9]+")
_LONGEST_ID = 48

_Cell = tuple[int, int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class End:
    """Where a line begins or ends. `off_m` is how far the place lies from the line's own end [m]."""

    place: Place
    off_m: float
    is_new: bool


class Places:
    """Known places, and those that lines make on the way: two lines that meet get one place."""

    def __init__(self, known: Iterable[Place]) -> None:
        self._places = list(known)
        self._cells: dict[_Cell, list[int]] = defaultdict(list)
        for number, place in enumerate(self._places):
            self._cells[_cell(place.latitude_deg, place.longitude_deg)].append(number)
        self._new: set[str] = set()
        self._ids = {place.id for place in self._places}

    def end(self, latitude_deg: float, longitude_deg: float, height_m: float | None, called: str) -> End:
        """The place of an end; `called` names it if it has to be made."""
        nearest = self._nearest(latitude_deg, longitude_deg)
        if nearest is not None and nearest[1] <= WITHIN_M:
            return End(place=nearest[0], off_m=nearest[1], is_new=nearest[0].id in self._new)
        made = Place(
            id=free_id(called, self._ids),
            name=called,
            latitude_deg=round(latitude_deg, 6),
            longitude_deg=round(longitude_deg, 6),
            height_m=None if height_m is None else float(round(height_m)),
        )
        self._cells[_cell(made.latitude_deg, made.longitude_deg)].append(len(self._places))
        self._places.append(made)
        self._ids.add(made.id)
        self._new.add(made.id)
        return End(place=made, off_m=0.0, is_new=True)

    def _nearest(self, latitude_deg: float, longitude_deg: float) -> tuple[Place, float] | None:
        x, y, z = _cell(latitude_deg, longitude_deg)
        around = product(range(x - 1, x + 2), range(y - 1, y + 2), range(z - 1, z + 2))
        near = [self._places[n] for n in sorted(n for cell in around for n in self._cells.get(cell, ()))]
        if not near:
            return None
        east, north = plane_m(
            [place.latitude_deg for place in near],
            [place.longitude_deg for place in near],
            (latitude_deg, longitude_deg),
        )
        away = np.hypot(east, north)
        best = int(np.argmin(away))
        return near[best], float(away[best])


def _cell(latitude_deg: float, longitude_deg: float) -> _Cell:
    """The cube of the earth a place lies in; what lies within reach is in it or in one beside it."""
    x, y, z = np.floor(earth_centred_m(latitude_deg, longitude_deg) / (WITHIN_M * 1.1)).astype(int).ravel()
    return int(x), int(y), int(z)


def free_id(name: str, taken: set[str] | frozenset[str]) -> str:
    """An id made of a name that nothing has yet."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().casefold()
    stem = _NOT_IN_ID.sub("-", plain).strip("-")[:_LONGEST_ID].rstrip("-") or "stage"
    number, made = 1, stem
    while made in taken:
        number += 1
        made = f"{stem}-{number}"
    return made
