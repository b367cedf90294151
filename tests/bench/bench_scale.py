"""What a larger library costs: opening, picking, editing and saving with 10 000 stages beside 1 000.

    python tests/bench/bench_scale.py [FOLDER [SIZE ...]]

Projects are made once in FOLDER and found there again (else in a folder that goes); SIZE is S, M or L, which
takes a quarter of an hour to make and 1.3 GB. Each size is measured in a process of its own, offscreen.
"""

from __future__ import annotations

import json
import os
import runpy
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "app"))
# By its path: a script of its own can't import from tests, which is no package.
MAKER = runpy.run_path(str(Path(__file__).with_name("make_large.py")))

RUNS = 5
AS_OF = date(2026, 11, 30)
TRIP = "trip-5"


def main() -> None:
    """Measure each size and print it beside the smallest."""
    with tempfile.TemporaryDirectory() as passing:
        folder = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(passing)
        sizes = sys.argv[2:] or ["S", "M"]
        found = {size: _in_child(_made(folder, size)) for size in sizes}
    first = found[sizes[0]]
    print("\nscale: ms (RSS in MB), and times the first")
    print(f"  {'':<34}" + "".join(f"{size:>18}" for size in sizes))
    for name in first:
        told = (f"{each[name]:.1f} (x{each[name] / max(first[name], 1e-9):.1f})" for each in found.values())
        print(f"  {name:<34}" + "".join(f"{text:>18}" for text in told))


def _made(folder: Path, size: str) -> Path:
    path: Path = MAKER["make_large"](folder / f"{size}.lacet", MAKER["SIZES"][size])
    return path


def _in_child(path: Path) -> dict[str, float]:
    environment = os.environ | {"QT_QPA_PLATFORM": "offscreen", "LACET_BENCH_SCALE": str(path)}
    done = subprocess.run(
        [sys.executable, __file__], env=environment, check=True, stdout=subprocess.PIPE, text=True
    )
    figures: dict[str, float] = json.loads(done.stdout.splitlines()[-1])
    return figures


def measure(path: Path) -> dict[str, float]:
    """The figures of one project [ms], memory [MB]."""
    from lacet.service.session import Session
    from lacet.store import open_project

    open_project(path).close()  # an older file is brought up to date before the clock runs
    found: dict[str, float] = {}
    found["open and close"] = _median_ms(lambda: open_project(path).close())
    project = open_project(path)
    found["first catalogue"] = _median_ms(project.catalogue, runs=1)
    found["open a trip, first"] = _median_ms(
        lambda: Session(project, today=lambda: AS_OF).open_trip(TRIP), runs=1
    )
    session = Session(project, today=lambda: AS_OF)
    session.open_trip(TRIP)
    found["all proved fixes"] = _median_ms(session.fixes, runs=1)
    found["memory of the session"] = _resident_mb()
    with project.reading() as unit:
        found["commitments"] = _median_ms(lambda: unit.commitments(TRIP, AS_OF))
        found["list all stages"] = _median_ms(unit.library.stage_rows)
    project.close()
    return found | _window(path)


def _window(path: Path) -> dict[str, float]:
    from lacet.service.keeper import Keeper
    from lacet.service.shown import Selection
    from lacet.trip.library import Stage
    from lacet.window import app as application

    app = application.make_application(["lacet"])
    windows: list[Any] = []

    def painted(work: Callable[[], object]) -> Callable[[], None]:
        def run() -> None:
            work()
            app.processEvents()
            if windows:
                windows[0].grab()

        return run

    found: dict[str, float] = {}

    def opened() -> None:
        windows.append(application.open_window(path))
        windows[0].resize(1280, 800)
        windows[0].show()

    found["open the window, painted"] = _median_ms(painted(opened), runs=1)
    window = windows[0]
    inner = window.session.session
    painted(lambda: inner.open_trip(TRIP))()
    days = iter(range(1, 100))
    steps = iter(range(100))
    pick = painted(lambda: window.session.select(Selection(day=1 + next(days) % 3, row="CARD")))
    found["pick a day, painted shelf"] = _median_ms(pick)
    named = painted(
        lambda: window.session.apply(lambda trip: replace(trip, name=f"Step {next(steps)}"), "rename")
    )
    found["an edit"] = _median_ms(named)
    found["undo"] = _median_ms(painted(window.session.undo))
    keeper, stage = Keeper(inner), inner.catalogue.current_named(Stage, "Pippin lane")
    one = stage[0] if stage else next(inner.catalogue.newest(Stage))

    def save() -> None:
        newest = inner.catalogue.latest(Stage, one.id)
        assert newest is not None, "the stage was there"
        keeper.save([replace(newest, note=f"{time.perf_counter_ns()}")], "note")

    found["save a stage, sheet follows"] = _median_ms(painted(save))
    found["memory of the window"] = _resident_mb()
    return found


def _median_ms(work: Callable[[], object], runs: int = RUNS) -> float:
    taken = []
    for _ in range(runs):
        began = time.perf_counter()
        work()
        taken.append(time.perf_counter() - began)
    return statistics.median(taken) * 1e3


def _resident_mb() -> float:
    """Memory this process holds now; 0 where the system doesn't say."""
    with suppress(OSError):
        for line in Path("/proc/self/status").read_text(encoding="utf-8").splitlines():
            if line.startswith("VmRSS"):
                return int(line.split()[1]) / 1024
    return 0.0


if __name__ == "__main__":
    chosen = os.environ.get("LACET_BENCH_SCALE")
    if chosen is None:
        main()
    else:
        print(json.dumps(measure(Path(chosen))))
        sys.stdout.flush()
        # Windows and threads of the page needn't be taken down one by one.
        os._exit(0)
