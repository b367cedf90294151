"""How soon the window is there, beside a bare one; and how fast a long profile is drawn.

Each start is a process of its own, in turn; the window is usable when the sheet of the demo is drawn (plot
and map may fill in later). Ratios of medians. Run with `tests/run.py --bench`.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "app"))

RUNS = 7
FRAME_S = 1 / 60

BARE = """
import sys
from PySide6.QtWidgets import QApplication, QMainWindow
from PySide6.QtCore import QTimer
app = QApplication([])
window = QMainWindow()
window.resize(1280, 800)
window.show()
QTimer.singleShot(0, app.quit)
app.exec()
"""

FIRST = """
import os, sys
from pathlib import Path
from lacet.window import app as application
app = application.make_application(["lacet"])
application.show_opening(Path(sys.argv[1]))
os._exit(0)
"""

OURS = """
import os, sys, time
from pathlib import Path
from PySide6.QtCore import QTimer
from lacet.window import app as application
app = application.make_application(["lacet"])
opening = application.show_opening(Path(sys.argv[1]))
window = application.open_window(Path(sys.argv[1]))
window.resize(1280, 800)
window.show()
opening.close()
# The first turn of the loop lays out and paints the sheet; the second is the window ready for a hand.
QTimer.singleShot(0, lambda: QTimer.singleShot(0, lambda: os._exit(0)))
app.exec()
"""


def started(code: str, *words: str) -> float:
    """Seconds of a whole process."""
    environment = os.environ | {"QT_QPA_PLATFORM": "offscreen", "PYTHONPATH": str(ROOT / "app")}
    # Bytecode is kept between starts, as it is for a person.
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    begun = time.perf_counter()
    subprocess.run(
        [sys.executable, "-c", code, *words], env=environment, check=True, stderr=subprocess.DEVNULL
    )
    return time.perf_counter() - begun


def starts(project: Path) -> None:
    """Bare and ours in turn."""
    bare, first, ours = [], [], []
    for _ in range(RUNS):
        bare.append(started(BARE))
        first.append(started(FIRST, str(project)))
        ours.append(started(OURS, str(project)))
    seen = statistics.median(first) / statistics.median(bare)
    print(f"  first picture / bare PySide6 window   {seen:.1f} (goal 3)")
    ratio = statistics.median(ours) / statistics.median(bare)
    print(f"  usable window / bare PySide6 window   {ratio:.1f} (goal 5)")


def median_s(work: Callable[[], object]) -> float:
    taken = []
    for _ in range(RUNS):
        begun = time.perf_counter()
        work()
        taken.append(time.perf_counter() - begun)
    return statistics.median(taken)


def drawing() -> None:
    """140 000 points over 14 days, thinned first and as they are."""
    import numpy as np
    import pyqtgraph as pg
    from PySide6.QtWidgets import QApplication

    from lacet.trip.words import Way
    from lacet.window.sheet.profile import Piece, ProfilePlot
    from lacet.window.theme import LIGHT

    app = QApplication.instance() or QApplication([])
    chance = np.random.default_rng(7)
    lines = [
        (np.linspace(day, day + 1, 10_000), 300 + np.cumsum(chance.normal(0, 0.4, 10_000)))
        for day in range(14)
    ]
    plot = ProfilePlot(LIGHT)
    plot.resize(1400, 130)
    plot.show()
    plot.pieces = tuple(Piece(x, y, Way.CYCLING, day, 0) for day, (x, y) in enumerate(lines))
    plot._set_heights()
    plot.show_range(0, 14)
    app.processEvents()
    plain = pg.PlotWidget()
    plain.resize(1400, 130)
    plain.show()
    curves = [plain.plot(x, y, pen="k", antialias=True, fillLevel=0, brush="b") for x, y in lines]

    def ours() -> None:
        plot.redraw()
        plot.grab()

    def as_they_are() -> None:
        for curve, (x, y) in zip(curves, lines, strict=True):
            curve.setData(x, y)
        plain.grab()

    own, other = median_s(ours), median_s(as_they_are)
    print(f"  draw 140 000 points                   {own / FRAME_S:.2f} of a frame (goal 0.5)")
    print(f"  the same beside plain setData         {own / other:.2f}")


def main() -> None:
    from lacet.demo import write_demo

    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    print("window")
    with tempfile.TemporaryDirectory() as folder:
        starts(write_demo(Path(folder)))
    drawing()


if __name__ == "__main__":
    main()
