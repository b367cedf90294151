"""Hands thousands of spoilt files to the program, in child processes with limits, and says what gets through.

    python tests/spoil_by_hand.py FOLDER LAST

Begins after the last number noted in FOLDER/done.txt. A case fails that raises anything but a refusal,
takes over ten seconds or over 1 GiB. Failures stand in FOLDER/failed.txt.
"""

import os
import resource
import signal
import sys
import tempfile
import traceback
import warnings
from pathlib import Path
from types import ModuleType

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT / "app"))
# The tests are no package, and a library may have installed one of that name.
sys.modules["tests"] = ModuleType("tests")
sys.modules["tests"].__path__ = [str(ROOT / "tests")]

from tests.small_library import write_small_project  # noqa: E402 - after the path
from tests.spoiling import hand_over, seeds, spoilt  # noqa: E402

MOST_S = 10
# Address space is several times what is used: libraries map more than they touch.
MOST_BYTES = 4 << 30
MOST_RESIDENT_KIB = 1 << 20
IN_ONE_CHILD = 50


def child(sound: dict[str, bytes], numbers: range, folder: Path) -> None:
    """Hand over some cases; the number of each is noted when it is done. Never returns."""
    warnings.simplefilter("ignore")
    resource.setrlimit(resource.RLIMIT_AS, (MOST_BYTES, MOST_BYTES))
    with tempfile.TemporaryDirectory() as work:
        project = Path(work) / "office.lacet"
        write_small_project(project)
        for number in numbers:
            signal.alarm(MOST_S)
            name, content = spoilt(sound, number)
            try:
                hand_over(name, content, project)
            except Exception:
                note(folder, f"{number} {name}\n{traceback.format_exc()}")
            signal.alarm(0)
            if resource.getrusage(resource.RUSAGE_SELF).ru_maxrss > MOST_RESIDENT_KIB:
                note(folder, f"{number} {name}: over 1 GiB")
                (folder / "done.txt").write_text(str(number))
                break
            (folder / "done.txt").write_text(str(number))
    os._exit(0)


def note(folder: Path, failure: str) -> None:
    """Add a failure to the list."""
    with (folder / "failed.txt").open("a") as failed:
        failed.write(f"{failure}\n")


def main() -> None:
    """Run until the last number, going on where the last run ended."""
    folder, last = Path(sys.argv[1]), int(sys.argv[2])
    folder.mkdir(parents=True, exist_ok=True)
    done = folder / "done.txt"
    with tempfile.TemporaryDirectory() as made:
        sound = seeds(Path(made))
    while (begin := int(done.read_text()) + 1 if done.exists() else 0) <= last:
        process = os.fork()
        if process == 0:
            child(sound, range(begin, min(begin + IN_ONE_CHILD, last + 1)), folder)
        _, status = os.waitpid(process, 0)
        if os.WIFSIGNALED(status):
            number = int(done.read_text()) + 1 if done.exists() else 0
            note(folder, f"{number} {spoilt(sound, number)[0]}: ended by signal {os.WTERMSIG(status)}")
            done.write_text(str(number))
    print((folder / "failed.txt").read_text() if (folder / "failed.txt").exists() else "nothing got through")


if __name__ == "__main__":
    main()
