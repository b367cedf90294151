"""The drop table over 300 files: how long the window ever stood still, beside one frame and 100 ms.

A timer beats every 5 ms while the files are read, looked at and taken in; the longest gap between two beats
is how long a person would have seen the window stand still.
"""

import os
import sys
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory
from time import perf_counter

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "app"))

from PySide6.QtCore import QEventLoop, QTimer

from lacet.service.session import Session
from lacet.store import open_project
from lacet.tracks.gpx_document import GpxLine, Waypoint
from lacet.tracks.gpx_write import GpxDocument, write_gpx
from lacet.tracks.track import track
from lacet.window.app import make_application
from lacet.window.intake.desk import DropTable
from lacet.window.qt_session import QtSession

FILES, POINTS, BEAT_MS = 300, 4_000, 5
STANDSTILL_MS, FRAME_MS = 100.0, 1000 / 60
METRES_PER_DEGREE = 111_195.0


def write_files(folder: Path) -> None:
    """Recorded lines of 12 km; every tenth is like the one before it, every fiftieth is damaged."""
    for number in range(FILES):
        same = number - 1 if number % 10 == 9 else number
        along = np.linspace(0.0, 12_000.0, POINTS)
        north = 44.0 + (along * 0.7 + same * 700.0) / METRES_PER_DEGREE
        east = -24.5 + (400.0 * np.sin(along / 300.0 + same) + same % 7 * 3_000.0) / METRES_PER_DEGREE
        line = track(north, east, 100.0 + 80.0 * np.sin(along / 900.0))
        times = 1.81e9 + np.linspace(0.0, 3.0 * POINTS, POINTS)
        mark = Waypoint(float(north[900]), float(east[900]), name="Spring")
        document = GpxDocument(
            name="", lines=(GpxLine(f"Line {number}", "", "track", line, times),), waypoints=(mark,)
        )
        text = write_gpx(document)
        (folder / f"{number:03d}.gpx").write_bytes(text[:5_000] if number % 50 == 49 else text)


class Heart:
    """Beats; remembers the longest silence [ms]."""

    def __init__(self) -> None:
        self.longest_ms = 0.0
        self._last = perf_counter()
        self._timer = QTimer(interval=BEAT_MS)
        self._timer.timeout.connect(self._beat)
        self._timer.start()

    def _beat(self) -> None:
        now = perf_counter()
        self.longest_ms = max(self.longest_ms, (now - self._last) * 1000.0)
        self._last = now


def lived(work: Callable[[], object], table: DropTable) -> tuple[float, float]:
    """How long work took [s], and how long the loop ever stood still [ms]."""
    heart, loop, began = Heart(), QEventLoop(), perf_counter()
    ended = QTimer(interval=2)
    ended.timeout.connect(lambda: None if table.work.busy else loop.quit())
    work()
    ended.start()
    loop.exec()
    return perf_counter() - began, heart.longest_ms


def main() -> None:
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    app = make_application(["lacet"])
    with TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "in").mkdir()
        write_files(folder / "in")
        with open_project(folder / "new.lacet", create=True) as project:
            table = DropTable(QtSession(Session(project)))
            table.show()
            app.processEvents()
            for says, work in (
                ("read", lambda: table.bring([folder / "in"])),
                ("taken in", table.take_in),
            ):
                took_s, stood_ms = lived(work, table)
                print(
                    f"drop table, {FILES} files {says} in {took_s:.1f} s: the loop stood still for at most "
                    f"{stood_ms:.0f} ms, {stood_ms / STANDSTILL_MS:.2f} of {STANDSTILL_MS:.0f} ms "
                    f"({stood_ms / FRAME_MS:.1f} frames)"
                )
            began = perf_counter()
            table.bring([folder / "in"])
            while table.work._last < 10 and table.work.busy:
                app.processEvents()
            table.work.call_off()
            while table.work.busy:
                app.processEvents()
            print(f"drop table, called off after a tenth: over in {perf_counter() - began:.2f} s")
            table.work.wait()


if __name__ == "__main__":
    main()
