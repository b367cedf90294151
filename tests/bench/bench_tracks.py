"""Speed of the tracks, as ratios of two things run in turn in one process.

gpxpy uses lxml where that is installed, which makes it slower; here it gets the standard library's parser.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parent.parent.parent / "app"))
sys.modules["lxml"] = None  # type: ignore[assignment]  # as if it were not installed

import gpxpy  # noqa: E402 - after the line that hides lxml
import gpxpy.gpx  # noqa: E402

from lacet.intake.proposals import propose  # noqa: E402
from lacet.tracks.geodesy import ellipsoid, length_m  # noqa: E402
from lacet.tracks.gpx_read import read_gpx  # noqa: E402
from lacet.tracks.packing import pack, unpack  # noqa: E402
from lacet.tracks.profile import profile  # noqa: E402
from lacet.trip.catalogue import Catalogue  # noqa: E402

POINTS = 100_000
RUNS = 5
FRAME_S = 1 / 60


def recording() -> bytes:
    """Return a recorded track of 100 000 points as recorders write it, with elevation and time."""
    rng = np.random.default_rng(1)
    latitude = 44.2 + np.cumsum(rng.normal(0, 1e-5, POINTS))
    longitude = -24.6 + np.cumsum(rng.random(POINTS) * 2e-5)
    height = 300 + np.cumsum(rng.normal(0, 0.3, POINTS))
    moment = (np.datetime64("2027-06-01T06:00:00") + np.arange(POINTS)).astype(str)
    points = "\n".join(
        f'   <trkpt lat="{north:.7f}" lon="{east:.7f}">\n    <ele>{up:.2f}</ele>\n'
        f"    <time>{when}Z</time>\n   </trkpt>"
        for north, east, up, when in zip(latitude, longitude, height, moment, strict=True)
    )
    root = '<gpx version="1.1" creator="bench" xmlns="http://www.topografix.com/GPX/1/1">'
    body = f" <trk>\n  <trkseg>\n{points}\n  </trkseg>\n </trk>"
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{root}\n{body}\n</gpx>\n'.encode()


def beside(ours: Callable[[], object], other: Callable[[], object]) -> tuple[float, float]:
    """Return the median time of each [s], run in turn."""
    times: tuple[list[float], list[float]] = ([], [])
    for _ in range(RUNS):
        for kept, call in zip(times, (ours, other), strict=True):
            began = time.perf_counter()
            call()
            kept.append(time.perf_counter() - began)
    return median(times[0]), median(times[1])


def take_in(document: bytes) -> None:
    """Read a file safely, work out its profile and pack it for the library."""
    for line in read_gpx(document).lines:
        profile(line.track)
        pack(line.track)


def longest_pause_s(document: bytes) -> float:
    """Return the longest time between two chances for other threads to run while a file is read."""
    pauses: list[float] = []
    last = time.perf_counter()

    def note(_done: int, _total: int) -> bool:
        nonlocal last
        now = time.perf_counter()
        pauses.append(now - last)
        last = now
        return True

    read_gpx(document, progress=note)
    return max(pauses)


def off_the_geodesic_ppm(document: bytes) -> float:
    """Return how far the length is off the sum of geodesics [millionths]."""
    track = read_gpx(document).lines[0].track
    latitude, longitude = track.latitude_deg, track.longitude_deg
    _, _, geodesic = ellipsoid().inv(longitude[:-1], latitude[:-1], longitude[1:], latitude[1:])
    return abs(length_m(track) / float(np.sum(geodesic)) - 1) * 1e6


def proposed(lines: int) -> int:
    """Propose stages for lines of two points, 11 m apart; returns how many."""
    tracks = (
        f'<trk><trkseg><trkpt lat="{44 + number * 1e-4:.4f}" lon="-24.40"/>'
        f'<trkpt lat="{44 + number * 1e-4:.4f}" lon="-24.39"/></trkseg></trk>'
        for number in range(lines)
    )
    with TemporaryDirectory() as folder:
        path = Path(folder) / "lines.gpx"
        path.write_text(f"<gpx>{''.join(tracks)}</gpx>")
        return len(propose([path], Catalogue()).proposals)


def spent_s(work: Callable[[], object]) -> float:
    """Seconds that work takes."""
    began = time.perf_counter()
    work()
    return time.perf_counter() - began


def main() -> None:
    """Print the ratios."""
    document = recording()
    text = document.decode()
    ours_s, gpxpy_s = beside(lambda: take_in(document), lambda: gpxpy.parse(text))
    print(f"take in {POINTS} points / gpxpy.parse alone: {ours_s / gpxpy_s:.2f} (goal: at most 0.40)")
    print(
        f"longest pause while reading / one frame: {longest_pause_s(document) / FRAME_S:.2f} (goal: under 1)"
    )

    parsed = gpxpy.parse(text)
    track = read_gpx(document).lines[0].track
    ours_s, gpxpy_s = beside(
        lambda: profile(track), lambda: (parsed.length_2d(), parsed.get_uphill_downhill())
    )
    print(f"gpxpy length and uphill / length and ascent: {gpxpy_s / ours_s:.1f} (goal: at least 7)")
    print(f"length off the geodesic: {off_the_geodesic_ppm(document):.4f} ppm (goal: at most 1)")

    few_s, many_s = (median(spent_s(partial(proposed, lines)) for _ in range(3)) for lines in (100, 400))
    print(f"propose 400 lines close together / 100: {many_s / few_s:.1f} (goal: under 5)")

    packed = pack(track)
    ours_s, read_s = beside(lambda: unpack(packed), lambda: read_gpx(document))
    print(f"unpack / read again: {ours_s / read_s:.3f}; {len(packed) / POINTS:.1f} bytes a point")


if __name__ == "__main__":
    main()
