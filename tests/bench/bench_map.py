"""Speed of the map: a message with a changed leg until it is painted, beside an empty call and two frames."""

import os
import sys
from collections.abc import Callable
from datetime import date
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from time import perf_counter

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "app"))

from PySide6.QtCore import QEventLoop

from lacet.figures.leg_line import travelled
from lacet.service.map_scene import drawn_line, scene
from lacet.service.session import Session
from lacet.store import open_project
from lacet.tracks.track import Track, track
from lacet.trip import edits
from lacet.trip.library import Place, Ref, Stage, StageWay
from lacet.trip.party import Party, Traveller
from lacet.trip.trip import Day, Leg, Trip, Variant
from lacet.trip.words import Way
from lacet.window.map.panel import MapPanel
from lacet.window.qt_session import QtSession

DAYS, POINTS, RUNS = 14, 10_000, 15
FRAME_S = 1 / 60.0
METRES_PER_DEGREE = 111_120.0


def winding(number: int) -> Track:
    """20 km of winding way, a point every 2 m."""
    along = np.linspace(0.0, 20_000.0, POINTS)
    aside = 180.0 * np.sin(along / 130.0) + 900.0 * np.sin(along / 2_400.0)
    north = 44.2 + (along * 0.2 + number * 900.0) / METRES_PER_DEGREE
    return track(north, -24.6 + (along * 0.8 + aside) / METRES_PER_DEGREE, 100 + 50 * np.sin(along / 900.0))


def write_project(path: Path) -> None:
    """A trip of 14 days with 140 000 points."""
    ends = tuple(
        Place(id=name, name=name, latitude_deg=44.2 + at, longitude_deg=-24.6 + at)
        for name, at in (("alder", 0.0), ("birch", 0.1))
    )
    legs = [Leg(id=f"i{n}", stage=Ref(f"s{n}"), way=Way.WALKING) for n in range(DAYS)]
    days = tuple(Day(id=f"d{n}", items=(leg,)) for n, leg in enumerate(legs))
    guests = (Traveller(id="t1", name="Guest 1"), Traveller(id="t2", name="Guest 2"))
    variant = Variant(id="v1", name="As asked", days=days)
    ways = (StageWay(way=Way.WALKING),)
    with open_project(path, create=True) as project, project.unit_of_work() as unit:
        for place in ends:
            unit.library.add_version(place)
        for n in range(DAYS):
            stage = Stage(
                id=f"s{n}", name=f"S{n}", from_place="alder", to_place="birch", track_id="", ways=ways
            )
            unit.library.add_stage(stage, winding(n))
        party = Party(name="Bench", travellers=guests)
        unit.trips.save(Trip(id="long", name="Long", party=party, variants=(variant,)), 0, "new trip")
        unit.commit()


def answered(panel: MapPanel, script: str) -> None:
    """Run a script in the page and wait for its answer."""
    loop = QEventLoop()
    panel.view.page().runJavaScript(script, lambda _: loop.quit())
    loop.exec()


def painted(panel: MapPanel) -> None:
    """Wait until the page has painted what it was told: the second frame from now has begun."""
    loop = QEventLoop()
    page = panel.view.page()
    page.titleChanged.connect(loop.quit)
    page.runJavaScript(
        "requestAnimationFrame(() => requestAnimationFrame(() => { document.title = performance.now(); }))"
    )
    loop.exec()


def seconds(work: Callable[[], object]) -> float:
    """Median time of some work [s], after one run to warm it."""
    work()
    taken = []
    for _ in range(RUNS):
        began = perf_counter()
        work()
        taken.append(perf_counter() - began)
    return median(taken)


def main() -> None:
    """Print the ratios."""
    from lacet.window.app import make_application

    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        # Chromium refuses to start its sandbox as root.
        os.environ.setdefault("QTWEBENGINE_CHROMIUM_FLAGS", "--no-sandbox --disable-gpu")
    application = make_application(["bench"])
    with TemporaryDirectory() as folder:
        write_project(Path(folder) / "long.lacet")
        with open_project(Path(folder) / "long.lacet") as project:
            inner = Session(project, today=lambda: date(2026, 11, 25))
            inner.open_trip("long")
            panel = MapPanel(QtSession(inner))
            panel.resize(900, 420)
            panel.show()
            while not panel.ready:
                application.processEvents()
            measure(panel, inner)
            panel.close()
            panel.view.shut()


def measure(panel: MapPanel, inner: Session) -> None:
    """Print what a message costs beside an empty call and two frames."""
    numbers = iter(range(1_000))

    def follow() -> float:
        """Turn one leg round and wait until the page has painted it; assessing it is left out."""
        turned = inner.try_out(lambda trip: edits.reverse_leg(trip, "v1", f"i{next(numbers) % DAYS}"))
        inner.preview = turned
        began = perf_counter()
        panel.draw()
        painted(panel)
        return perf_counter() - began

    empty = seconds(lambda: answered(panel, "1"))
    follow()
    follows = median(follow() for _ in range(RUNS)) / (empty + 2 * FRAME_S)
    shown = panel.shown
    assert shown is not None
    hot = seconds(lambda: scene(shown, inner.catalogue, 0)) / FRAME_S

    def cold() -> None:
        drawn_line.cache_clear()
        travelled.cache_clear()
        scene(shown, inner.catalogue, 0)

    print(f"Map, {DAYS} days of {POINTS} points")
    print(f"  message until painted / (empty call + 2 frames)   {follows:8.2f}   (goal 1.5)")
    print(f"  scene of {DAYS} known lines / frame                 {hot:8.2f}")
    print(f"  scene of {DAYS} new lines / frame                   {seconds(cold) / FRAME_S:8.2f}")
    print(f"  an empty call / frame                           {empty / FRAME_S:8.2f}")


if __name__ == "__main__":
    main()
