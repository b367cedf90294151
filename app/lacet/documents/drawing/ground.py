"""The ground of a map: relief shaded from elevation rasters over the frame, as a picture within the drawing.

A picture is kept in memory as long as its raster, frame and look stay the same, so that a second document of
a trip costs nothing. What has no height is drawn as sea; without a raster the ground is plain.
"""

import base64
import io
from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from lacet.documents.drawing.frame import Frame
from lacet.documents.drawing.heights import Stamps, heights_over, opened, stamps_of
from lacet.documents.drawing.look import Look
from lacet.documents.drawing.svg import element
from lacet.tracks.raster import ElevationRaster, RasterRefused
from lacet.tracks.relief import picture_of, top_of

PIXELS_PER_MM = 5.0
JPEG_QUALITY = 80
KEPT_PICTURES = 64
SAMPLES_FOR_TOP = 120
LEAST_SHOWN_SHARE = 0.02


def ground(frame: Frame, rasters: Sequence[ElevationRaster], look: Look) -> str:
    """Sea and land under a map."""
    stamps = stamps_of(rasters)
    picture = _picture(frame, stamps, look) if stamps else ""
    under = element("rect", width=frame.width_mm, height=frame.height_mm, fill=look.ground)
    if not picture:
        return under
    return element(
        "image", width=frame.width_mm, height=frame.height_mm, href=picture, preserveAspectRatio="none"
    )


@lru_cache(maxsize=KEPT_PICTURES)
def _picture(frame: Frame, stamps: Stamps, look: Look) -> str:
    """A data URI, or '' where no raster knows the ground."""
    from PIL import Image

    columns, rows = round(frame.width_mm * PIXELS_PER_MM), round(frame.height_mm * PIXELS_PER_MM)
    try:
        height_m = heights_over(frame, opened(stamps), columns, rows)
        top_m = _top_m(stamps)
    except RasterRefused:
        return ""
    if np.isfinite(height_m).mean() < LEAST_SHOWN_SHARE:
        return ""
    cell_m = np.full(rows, frame.metres_per_mm * frame.width_mm / columns)
    pixels = picture_of(height_m, cell_m, look.tint, top_m)
    share = pixels[..., 3:].astype(np.float32) / 255.0
    sea = np.array([int(look.sea[at : at + 2], 16) for at in (1, 3, 5)], dtype=np.float32)
    flat = (pixels[..., :3] * share + sea * (1 - share)).round().astype(np.uint8)
    packed = io.BytesIO()
    Image.fromarray(flat).save(packed, format="JPEG", quality=JPEG_QUALITY)
    return "data:image/jpeg;base64," + base64.b64encode(packed.getvalue()).decode("ascii")


@lru_cache(maxsize=KEPT_PICTURES)
def _top_m(stamps: Stamps) -> float:
    """The height of the last tint on all maps of these rasters: the same colour is the same height."""
    known = []
    for raster in opened(stamps):
        outline = np.array(raster.coverage())
        (south, west), (north, east) = outline.min(axis=0), outline.max(axis=0)
        latitude, longitude = np.meshgrid(
            np.linspace(south, north, SAMPLES_FOR_TOP), np.linspace(west, east, SAMPLES_FOR_TOP)
        )
        height = raster.heights_m(latitude.ravel(), longitude.ravel())
        known.append(height[np.isfinite(height) & (height > 0)])
    return top_of(np.concatenate(known) if known else np.empty(0))
