"""How long the window stops listening: the longest turn of its event loop beside the 100 ms allowed.

Counted in the processor time of the window's own thread, so that a busy machine doesn't show; the map's
engine has threads of its own. Run with `tests/run.py --bench`.
"""

from __future__ import annotations

import os
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "app"))

ALLOWED_S = 0.1
TURNS = 40
DRAGS = 12


def longest_turn(work: Callable[[], object], turns: Callable[[], object]) -> float:
    """The longest single turn [s]: the work itself, or one of those that follow it."""
    worst = 0.0
    for each in (work, *[turns] * TURNS):
        begun = time.thread_time()
        each()
        worst = max(worst, time.thread_time() - begun)
        time.sleep(0.02)  # timers that the work set come due
    return worst


def gestures(window: object) -> Iterator[tuple[str, Callable[[], object]]]:
    """What a person does, and how it is called."""
    from lacet.trip.drop import OnDay, from_json
    from lacet.window.main_window import MainWindow

    assert isinstance(window, MainWindow)
    inner = window.session.session
    stages = [entry.payload for entry in window.shelf.model.entries if entry.stage is not None]
    for number in range(DRAGS):
        payload = from_json(stages[number % len(stages)])

        def over(payload: object = payload, number: int = number) -> object:
            window.sheet.view.take_ground()
            return window.sheet.guide.over(payload, OnDay(number % 6))  # type: ignore[arg-type]

        yield "drag over a day", over
    yield "put it back", window.sheet.guide.leave
    window.sheet.view.let_ground()
    assert inner.opened is not None
    for variant in (*inner.opened.trip.variants[1:], inner.opened.trip.variants[0]):
        yield "another variant", partial(inner.show_variant, variant.id)
    yield "a rest day more", window.add_rest_day
    yield "undo", window.session.undo
    yield "find", lambda: window.shelf.finder.setText("hollow")


def main() -> None:
    from lacet.demo import write_demo
    from lacet.window import app as application

    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    print("heartbeat: longest turn of the event loop / 100 ms")
    app = application.make_application(["lacet"])
    with tempfile.TemporaryDirectory() as folder:
        window = application.open_window(write_demo(Path(folder)))
        window.show()
        worst = {"after opening": longest_turn(app.processEvents, app.processEvents)}
        for name, gesture in gestures(window):
            worst[name] = max(worst.get(name, 0.0), longest_turn(gesture, app.processEvents))
        window.close()
    for name, seconds in worst.items():
        print(f"  {name:<36}  {seconds / ALLOWED_S:.2f} (goal 1)")
    sys.stdout.flush()
    os._exit(0)  # the browser engine's own end is no part of this


if __name__ == "__main__":
    main()
