"""Proves Lacet from the source tree: `python3 tests/run.py` runs every check there is and says what failed.

With arguments only pytest runs, with these arguments; `--bench` prints the speed ratios of tests/bench
instead. Standard library only: the first start makes the environment with the tools of the tests in it.
"""

import os
import shutil
import subprocess
import sys
import time
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT / "app"))

import bootstrap  # noqa: E402 - found through the line above
import system_packages  # noqa: E402 - found through the line above

WORKERS = "2"  # more don't pay: the suite is short and each worker imports Qt and numpy anew


@dataclass(frozen=True)
class Tool:
    """One check: what the summary calls it, and the command that runs it."""

    name: str
    command: tuple[str, ...]


@dataclass(frozen=True)
class Outcome:
    """How one tool ended."""

    name: str
    exit_code: int
    took_s: float


def main(arguments: list[str]) -> int:
    """Run what the arguments ask for and return 0 if all of it passed."""
    try:
        _provide_real_mouse()
        system_packages.provide_qt_libraries()
        python = str(bootstrap.prepare(with_tests=True))
    except system_packages.SetUpRefused as refusal:
        bootstrap.say(str(refusal))
        return 1
    if arguments == ["--bench"]:
        return _run_all(_benches(python))
    if arguments:
        return _run(Tool("pytest", (python, "-m", "pytest", *arguments))).exit_code
    return _run_all(_tools(python))


def _tools(python: str) -> list[Tool]:
    lint_imports = str(Path(python).with_name("lint-imports"))
    return [
        Tool("ruff check", (python, "-m", "ruff", "check")),
        Tool("ruff format", (python, "-m", "ruff", "format", "--check")),
        Tool("import-linter", (lint_imports, "--no-logo")),
        Tool("mypy", (python, "-m", "mypy")),
        # Tests of one file stay together, so that what a file sets up once is set up once.
        Tool("pytest", (python, "-m", "pytest", "-n", WORKERS, "--dist", "loadfile")),
    ]


def _benches(python: str) -> list[Tool]:
    scripts = sorted((ROOT / "tests" / "bench").glob("bench_*.py"))
    return [Tool(script.stem, (python, str(script))) for script in scripts]


def _run_all(tools: list[Tool]) -> int:
    outcomes = [_run(tool) for tool in tools]
    print("\nSummary")
    for outcome in outcomes:
        verdict = "passed" if outcome.exit_code == 0 else f"FAILED (exit code {outcome.exit_code})"
        print(f"  {outcome.name:<{max(len(o.name) for o in outcomes)}}  {outcome.took_s:6.1f} s  {verdict}")
    failed = [outcome.name for outcome in outcomes if outcome.exit_code]
    print(f"Failed: {', '.join(failed)}" if failed else "All passed.", flush=True)
    return 1 if failed else 0


def _run(tool: Tool) -> Outcome:
    print(f"\n== {tool.name}", flush=True)
    began_s = time.monotonic()
    exit_code = subprocess.run(tool.command, cwd=ROOT, env=_variables(), check=False).returncode
    return Outcome(tool.name, exit_code, time.monotonic() - began_s)


def _variables() -> dict[str, str]:
    variables = bootstrap.environment_variables()
    variables["PYTHONPATH"] = os.pathsep.join((str(bootstrap.APP), str(ROOT)))
    variables.setdefault("QT_QPA_PLATFORM", "offscreen")
    return variables


def _provide_real_mouse() -> None:
    """See to the programs of the test with a real mouse; without them it is skipped, and that is said."""
    if not system_packages.ON_LINUX:
        return
    packages = {"Xvfb": "xvfb", "xdotool": "xdotool"}
    missing = [package for program, package in packages.items() if not shutil.which(program)]
    if not missing:
        return
    if system_packages.is_root() and shutil.which("apt-get"):
        system_packages.provide(missing, "The test with a real mouse needs")
    else:
        bootstrap.say(f"The test with a real mouse will be skipped: it needs {' and '.join(missing)}.")


if __name__ == "__main__":
    try:
        sys.exit(main(sys.argv[1:]))
    except KeyboardInterrupt:
        sys.exit(130)
