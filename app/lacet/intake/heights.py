"""Fills heights nobody recorded from the elevation rasters beside a project."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from lacet.tracks.raster import ElevationRaster, RasterRefused, fill
from lacet.tracks.track import Track


@dataclass(frozen=True, slots=True)
class Filled:
    """Lines by id with the heights the rasters know, and what a person is told of each."""

    tracks: dict[str, Track]
    says: tuple[str, ...]


def fill_heights(tracks: dict[str, Track], rasters: Sequence[Path]) -> Filled:
    """Return lines with their unknown heights filled, by the first raster that knows them.

    Parameters
    ----------
    rasters
        Their files. One that can't be read is told and left out.
    """
    wanting = {key: track for key, track in tracks.items() if _unknown(track)}
    opened: list[ElevationRaster] = []
    says: list[str] = []
    for file in rasters if wanting else ():
        try:
            opened.append(ElevationRaster.open(file))
        except RasterRefused as refusal:
            says.append(f"Heights weren't filled: {refusal}")
    made = dict(tracks)
    for key, track in wanting.items():
        for raster in opened:
            made[key] = fill(made[key], raster)
        left = _unknown(made[key])
        if opened and left < _unknown(track):
            rest = " Some are still unknown: the rasters don't reach there." if left else ""
            says.append(f"{key}: heights nobody recorded come from the elevation raster.{rest}")
    return Filled(made, tuple(says))


def _unknown(track: Track) -> float:
    """The share of points without a height."""
    return float(np.mean(np.isnan(track.height_m))) if len(track) else 0.0
