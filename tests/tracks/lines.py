"""Lines and files that several tests share."""

from __future__ import annotations

import numpy as np
import pytest

from lacet.tracks.gpx_read import GpxFile, read_gpx
from lacet.tracks.problem import GpxRefused
from lacet.tracks.track import Floats, Track, track

METRES_PER_DEGREE = 111_132.95  # a degree of latitude at 45 degrees, WGS 84


def northward(along_m: Floats, height_m: Floats) -> Track:
    """Return a straight line north from 44.5 N 24.6 W (where a degree is very nearly as above)."""
    return track(44.5 + np.asarray(along_m) / METRES_PER_DEGREE, np.full(len(along_m), -24.6), height_m)


def wandering(seed: int, points: int = 500) -> Track:
    """Return an irregular line with hills, about 5 km long, in one segment."""
    rng = np.random.default_rng(seed)
    latitude = 44.2 + np.cumsum(rng.normal(0, 1e-4, points))
    longitude = -24.6 + np.cumsum(rng.random(points) * 1e-4)
    height = 300 + np.cumsum(rng.normal(0, 3.0, points))
    return track(latitude, longitude, height)


GPX_11 = 'xmlns="http://www.topografix.com/GPX/1/1"'


def gpx(body: str, *, head: str = '<?xml version="1.0" encoding="UTF-8"?>\n', root: str = GPX_11) -> bytes:
    """Return a GPX document around a body."""
    return f'{head}<gpx version="1.1" creator="test" {root}>\n{body}\n</gpx>\n'.encode()


def trk(points: str, name: str = "Ridge") -> str:
    """Return a track of one segment around its points."""
    return f"<trk><name>{name}</name><trkseg>\n{points}\n</trkseg></trk>"


# Eleven points, 1 175.996 m by geodesic, +100 m.
CLIMB_POINTS = "\n".join(
    f'<trkpt lat="{46.5 + 0.001 * n:.3f}" lon="{11.3 + 0.0005 * n:.4f}"><ele>{1000 + 10 * n}</ele>'
    f"<time>2024-06-01T08:{n:02d}:00Z</time></trkpt>"
    for n in range(11)
)
CLIMB_LENGTH_M = 1175.996


def warnings(file: GpxFile) -> str:
    return " | ".join(problem.says for problem in file.problems if problem.weight == "warn")


def refusal(document: bytes | str) -> GpxRefused:
    with pytest.raises(GpxRefused) as caught:
        read_gpx(document if isinstance(document, bytes) else document.encode(), "day 3.gpx")
    assert str(caught.value).startswith("day 3.gpx")
    assert str(caught.value).count("\n") == 0
    return caught.value
