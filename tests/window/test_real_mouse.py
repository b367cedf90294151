"""One test with a real mouse on a real screen: xdotool moves it, the program says where things are."""

import itertools
import json
import os
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from tests.small_library import write_small_project

TOOLS = ("Xvfb", "xdotool")
DRIVER = Path(__file__).with_name("mouse_driver.py")
ROOT = Path(__file__).parents[2]
STEPS = 14
STILL = 25
PATIENCE_S = 60.0

# Without a virtual screen there is no mouse to hold; tests/run.py installs both where it may.
pytestmark = pytest.mark.skipif(
    not all(map(shutil.which, TOOLS)), reason="Xvfb and xdotool are not on this machine"
)


@contextmanager
def screen() -> Iterator[dict[str, str]]:
    """A virtual screen; the server chooses its own free number and says it."""
    reading, writing = os.pipe()
    server = subprocess.Popen(
        ["Xvfb", "-displayfd", str(writing), "-screen", "0", "1300x820x24", "-nolisten", "tcp"],
        pass_fds=[writing],
        stderr=subprocess.DEVNULL,
    )
    os.close(writing)
    with os.fdopen(reading) as said:
        number = said.readline().strip()
    environment = {key: value for key, value in os.environ.items() if key != "QT_QPA_PLATFORM"}
    paths = os.pathsep.join((str(ROOT / "app"), str(ROOT)))
    try:
        yield environment | {"DISPLAY": f":{number}", "QT_QPA_PLATFORM": "xcb", "PYTHONPATH": paths}
    finally:
        server.terminate()
        server.wait(10)


class Person:
    """Somebody at the program with a mouse."""

    def __init__(self, project: Path, environment: dict[str, str]) -> None:
        self.environment = environment
        self.program = subprocess.Popen(
            [sys.executable, str(DRIVER), str(project)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
            env=environment,
        )
        assert self._line() == "ready"

    def ask(self, question: str) -> Any:
        assert self.program.stdin is not None
        self.program.stdin.write(question + "\n")
        self.program.stdin.flush()
        return self._line()

    def find(self, question: str) -> list[int]:
        """Where something is once it stands still: shelf and sheet move on after a drop."""
        deadline = time.monotonic() + PATIENCE_S
        seen: list[Any] = []
        while len(seen) < STILL or seen[0] is None:
            assert time.monotonic() < deadline, f"{question}: it isn't there, or never stands still"
            answer = self.ask(question)
            seen = [*seen, answer] if seen and seen[0] == answer else [answer]
        place: list[int] = seen[0]
        return place

    def wait_for(self, question: str, wanted: Any) -> Any:
        """Ask again until the answer is as wanted; each answer comes from the program's own event loop."""
        deadline = time.monotonic() + PATIENCE_S
        while not wanted(answer := self.ask(question)):
            assert time.monotonic() < deadline, f"{question}: still {answer}"
        return answer

    def mouse(self, *words: object) -> None:
        subprocess.run(["xdotool", *map(str, words)], env=self.environment, check=True)

    def drag(self, start: list[int], end: list[int], wanted: Any = lambda state: state["tried"]) -> None:
        """Press, move in small steps, let go when the window shows what will be, as a person does.

        A button let go before the window under it has agreed to the drop takes the drop back.
        """
        self.mouse("mousemove", *start)
        self.mouse("mousedown", 1)
        for step in range(1, STEPS + 1):
            x, y = (round(a + (b - a) * step / STEPS) for a, b in zip(start, end, strict=True))
            self.mouse("mousemove", x, y)
        deadline = time.monotonic() + PATIENCE_S
        tremor = itertools.cycle((1, -1))
        while not wanted(answer := self.ask("state")):
            assert time.monotonic() < deadline, f"nothing is shown under the hand: {answer}"
            # The picture that is carried may lie under a pointer that stops dead; a hand never does.
            self.mouse("mousemove", end[0] - 4 + next(tremor), end[1])
        self.mouse("mouseup", 1)

    def click(self, where: list[int]) -> None:
        self.mouse("mousemove", *where)
        self.mouse("click", 1)

    def stages(self) -> list[list[str | None]]:
        found: list[list[str | None]] = self.ask("state")["stages"]
        return found

    def close(self) -> None:
        """Leave as a person does; the program ends well."""
        self.program.communicate("quit\n", timeout=30)
        assert self.program.returncode == 0

    def _line(self) -> Any:
        assert self.program.stdout is not None
        return json.loads(self.program.stdout.readline())


def has_days(count: int) -> Any:
    return lambda state: len(state["stages"]) == count and state["shown_days"] == count


def test_a_trip_is_built_with_a_real_mouse_and_found_again(tmp_path: Path) -> None:
    """Stages, a rest day, a stretched stay, undo, close, reopen."""
    project = tmp_path / "small.lacet"
    write_small_project(project)
    with screen() as environment:
        person = Person(project, environment)
        before = person.stages()
        assert before == [["climb"], [None], ["lane"]]
        # A stage to a day of its own; the day is shown before the button is let go.
        person.drag(
            person.find("stage Birch → Alder"), person.find("gap 3"), lambda state: state["shown_days"] == 4
        )
        person.wait_for("state", has_days(4))
        assert person.stages() == [*before, ["climb"]]
        # Another onto a day that has a card: a mixed day. The shelf goes by the day that is picked.
        person.click(person.find("head 0"))
        person.drag(person.find("stage Birch → Cedar"), person.find("day 0"))
        person.wait_for("state", lambda state: len(state["stages"][0]) == 2)
        # A third, between two days: the shelf now offers what begins where the mixed day ends.
        person.drag(person.find("stage Cedar → Birch"), person.find("gap 1"))
        person.wait_for("state", has_days(5))
        person.drag(person.find("stage Rest day"), person.find("gap 5"))
        person.wait_for("state", has_days(6))
        # The edge of a stay, a night further.
        edge, next_day = person.find("stay 3"), person.find("day 4")
        width = next_day[0] - person.find("day 3")[0]
        person.drag(edge, [edge[0] + width, edge[1]])
        stretched = person.wait_for("state", has_days(7))
        person.click(person.find("button Undo"))
        undone = person.wait_for("state", has_days(6))
        assert undone["revision"] == stretched["revision"] + 1
        kept = person.ask("state")
        person.close()
        again = Person(project, environment)
        assert again.ask("state")["stages"] == kept["stages"]
        assert again.ask("state")["undo"] == kept["undo"]
        again.close()
