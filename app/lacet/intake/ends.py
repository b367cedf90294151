"""Which place a line begins or ends at: the nearest known one within reach, else a new one."""

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from lacet.tracks.geodesy import plane_m
from lacet.trip.library import Place

WITHIN_M = 500.0
_NOT_IN_ID = re.compile(r"[^a-z0-9]+")
_LONGEST_ID = 48


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
        self._places.append(made)
        self._ids.add(made.id)
        self._new.add(made.id)
        return End(place=made, off_m=0.0, is_new=True)

    def _nearest(self, latitude_deg: float, longitude_deg: float) -> tuple[Place, float] | None:
        if not self._places:
            return None
        east, north = plane_m(
            [place.latitude_deg for place in self._places],
            [place.longitude_deg for place in self._places],
            (latitude_deg, longitude_deg),
        )
        away = np.hypot(east, north)
        best = int(np.argmin(away))
        return self._places[best], float(away[best])


def free_id(name: str, taken: set[str] | frozenset[str]) -> str:
    """An id made of a name that nothing has yet."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().casefold()
    stem = _NOT_IN_ID.sub("-", plain).strip("-")[:_LONGEST_ID].rstrip("-") or "stage"
    number, made = 1, stem
    while made in taken:
        number += 1
        made = f"{stem}-{number}"
    return made
