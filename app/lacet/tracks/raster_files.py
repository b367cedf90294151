"""The rasters of a region by their files: those that can be read, and sentences on those that can't."""

from collections.abc import Iterable
from pathlib import Path

import numpy as np

from lacet.tracks.raster import ElevationRaster, RasterRefused


def readable(files: Iterable[Path]) -> tuple[ElevationRaster, ...]:
    """The rasters that can be read; one that can't leaves the ground plain, as on the screen."""
    found = []
    for file in files:
        try:
            found.append(ElevationRaster.open(file))
        except RasterRefused:
            continue
    return tuple(found)


def unreadable(files: Iterable[Path]) -> tuple[str, ...]:
    """Sentences on the rasters that can't be read, for who hands maps without relief out."""
    told = []
    for file in files:
        try:
            raster = ElevationRaster.open(file)
            # One that is cut off opens, but has no heights towards its end.
            raster.heights_m(*np.array(raster.coverage()).T)
        except RasterRefused as refusal:
            told.append(f"Maps have no relief from {refusal} Take the raster in again, or put it back there.")
    return tuple(told)
