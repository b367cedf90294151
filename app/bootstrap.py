"""Makes the environment both commands run in. Standard library only; nothing of Lacet is imported here.

The rule: `.venv` at the top of the tree is right when its stamp names this Python and these locks. The stamp
is taken away before anything changes and written last, so that a half-made environment is made again.
Whatever stops the set-up is one sentence that ends with what to do.
"""

import sys

if sys.version_info < (3, 11):  # noqa: UP036 - this line is for exactly those who start it with an older one
    sys.exit(
        "Lacet needs Python 3.11 or newer, and this is Python {}.{}; start it with a newer one, "
        "for example: python3.11 {}".format(*sys.version_info[:2], " ".join(sys.argv))
    )

import contextlib
import hashlib
import importlib
import importlib.util
import json
import os
import subprocess
import time
from collections import deque
from collections.abc import Iterator, Sequence
from pathlib import Path

import system_packages
from system_packages import SetUpRefused

ROOT = Path(__file__).resolve().parent.parent
APP = ROOT / "app"
ENVIRONMENT = ROOT / ".venv"
STAMP = ENVIRONMENT / "lacet-set-up.json"
GUARD = ROOT / ".venv.lock"

APP_LOCK = APP / "requirements.lock"
TESTS_LOCK = ROOT / "tests" / "requirements.lock"  # holds all of APP_LOCK and the tools of the tests

AT_WORK_S = 0.3  # how often a second start looks whether the first has finished


def prepare(*, with_tests: bool = False) -> Path:
    """Return the Python of an environment that holds what the locks name, making it first where needed.

    Raises
    ------
    SetUpRefused
        If it can't be made; the message is a sentence for the person who started the command.
    """
    locks = (APP_LOCK, TESTS_LOCK) if with_tests else (APP_LOCK,)
    if not _is_ready(locks):
        try:
            with _one_at_a_time():
                if not _is_ready(locks):  # another start may have made it meanwhile
                    _make(locks)
        except OSError as error:
            raise SetUpRefused(
                f"Lacet can't write its environment: {error}; make {ROOT} writable."
            ) from error
    return environment_python()


def environment_python() -> Path:
    """Where the environment's own Python is."""
    return ENVIRONMENT / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def environment_variables() -> dict[str, str]:
    """The variables Lacet runs with: its source on the path; as root, a browser engine without sandbox."""
    variables = dict(os.environ, PYTHONPATH=str(APP))
    if system_packages.is_root():
        # Chromium, which draws the map, refuses to start its sandbox as root.
        variables.setdefault("QTWEBENGINE_CHROMIUM_FLAGS", "--no-sandbox --disable-gpu")
    return variables


def _is_ready(locks: Sequence[Path]) -> bool:
    stamp = _read_stamp()
    return environment_python().exists() and all(
        stamp.get(key) == value for key, value in _wanted(locks).items()
    )


def _wanted(locks: Sequence[Path]) -> dict[str, str]:
    digests = {lock.relative_to(ROOT).as_posix(): _digest(lock) for lock in locks}
    return {"python": _this_python(), **digests}


def _this_python() -> str:
    return "{}.{}".format(*sys.version_info[:2])


def _digest(path: Path) -> str:
    # Line ends are evened out, since a checkout on Windows may have its own.
    return hashlib.sha256(path.read_bytes().replace(b"\r\n", b"\n")).hexdigest()


def _read_stamp() -> dict[str, str]:
    try:
        stamp = json.loads(STAMP.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return stamp if isinstance(stamp, dict) else {}


def _make(locks: Sequence[Path]) -> None:
    # A finished environment of other locks is brought up to date; anything else is made from nothing.
    if environment_python().exists() and _read_stamp().get("python") == _this_python():
        say("Bringing Lacet's packages up to date.")
    else:
        say("Setting Lacet up; this happens once and takes a minute or more.")
        _create_environment()
    STAMP.unlink(missing_ok=True)
    _install(locks[-1])
    unfinished = STAMP.with_suffix(".unfinished")
    unfinished.write_text(json.dumps(_wanted(locks), indent=1), encoding="utf-8")
    os.replace(unfinished, STAMP)


def _create_environment() -> None:
    if importlib.util.find_spec("venv") is None or importlib.util.find_spec("ensurepip") is None:
        system_packages.provide_venv()
        importlib.invalidate_caches()
    # Started from inside the old environment, the interpreter behind it has to make the new one.
    base = getattr(sys, "_base_executable", None) or sys.executable
    command = [base, "-I", "-m", "venv", "--clear", str(ENVIRONMENT)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    if done.returncode:
        reason = (done.stdout + done.stderr).strip() or "venv said nothing"
        raise SetUpRefused(f"Python can't make the environment {ENVIRONMENT}: {reason}")


def _install(lock: Path) -> None:
    """Install exactly the wheels of the lock; it names every dependency, so pip has nothing to decide."""
    exactly = ["--require-hashes", "--only-binary", ":all:", "--no-deps"]
    quietly = ["--disable-pip-version-check", "--no-input", "--progress-bar", "off"]
    # -I: packages that PYTHONPATH points at would count as installed already.
    command = [str(environment_python()), "-I", "-m", "pip", "install", *exactly, *quietly, "-r", str(lock)]
    last: deque[str] = deque(maxlen=8)
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, errors="replace"
    ) as pip:
        for line in pip.stdout or ():
            last.append(line.rstrip())
            _show_progress(line)
    _show_progress("")
    if pip.returncode:
        raise SetUpRefused(
            "\n".join(last)
            + f"\nThe packages in {lock.relative_to(ROOT)} could not be installed (above is what pip said); "
            "check the connection and start again; ready-made packages exist for Python 3.11 to 3.14."
        )


def _show_progress(line: str) -> None:
    """Tell on one line of a terminal what pip is at; elsewhere only the two sentences around it are told."""
    if not sys.stderr.isatty():
        return
    at = line.split()
    if not at:
        print(end="\r\x1b[K", file=sys.stderr, flush=True)
    elif at[0] == "Collecting":
        print(f"\r\x1b[K  fetching {at[1]}", end="", file=sys.stderr, flush=True)
    elif at[0] == "Installing":
        print("\r\x1b[K  unpacking", end="", file=sys.stderr, flush=True)


@contextlib.contextmanager
def _one_at_a_time() -> Iterator[None]:
    """Hold the guard file; the system lets go of it however its holder ends, so it can't go stale."""
    with GUARD.open("a+b") as guard:
        waited = False
        while not _try_to_hold(guard.fileno()):
            if not waited:
                say("Another start is setting Lacet up; waiting for it.")
            waited = True
            time.sleep(AT_WORK_S)
        yield


def _try_to_hold(descriptor: int) -> bool:
    try:
        if sys.platform == "win32":
            import msvcrt

            os.lseek(descriptor, 0, os.SEEK_SET)
            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except (BlockingIOError, PermissionError):
        return False
    return True


def say(sentence: str) -> None:
    """Tell the person who started the command; standard output is kept for what was asked for."""
    print(sentence, file=sys.stderr, flush=True)


def hand_over(command: list[str], variables: dict[str, str]) -> int:
    """Become the command, where the system can do that; else run it and return its exit code."""
    if os.name != "nt":
        os.execve(command[0], command, variables)
    try:
        return subprocess.run(command, env=variables, check=False).returncode
    except KeyboardInterrupt:
        return 130
